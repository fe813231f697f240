//! The handbook's chapter on a guide's history: issuing, comparing, and when work that was done is looked at again.

use super::json;
use crate::chapter::{Plain, PlainSection};

/// The chapter.
pub fn chapter() -> Plain {
    let paragraphs = |texts: &[&str]| texts.iter().map(|text| (*text).to_owned()).collect::<Vec<_>>();
    let section =
        |title: &str, texts: &[&str]| PlainSection { title: title.to_owned(), paragraphs: paragraphs(texts), ..PlainSection::default() };
    let sections = vec![
        section(
            "Issue a revision",
            &[
                "`bayleaf issue GUIDE` keeps the text of a revision beside its guide, in `issued/B.issue`, with the pictures it shows in `issued/pictures/`. The file holds the guide's text, what of the shop file it uses, the hashes of its pictures, the fingerprint and a seal. Put it under version control with the guide, and never edit it: what was issued is what work was done to.",
                "Before it writes the file, the command asks that nothing in the guide is held, that revision and day of issue are there, that this revision was not issued before with another text, and that the changes since the revision before are told in `[[change]]` entries of this one. A shop that issues nothing goes on as before.",
                "From then on the review holds a guide whose text differs from what was issued under its letter (`revision-not-raised`), asks for a `[[change]]` entry where a changed fact is told in none (`change-untold`), and tells an issued file that was damaged or edited (`issued-damaged`). An entry tells of a fact where it names it in words or gives its new number; where it does not, list ids in `about`. An entry with `anew = true` says that the guide was written anew and is to be read as a new one.",
                "A tool's own state, its number and the end of its calibration, stands on sheets, and makes neither another revision nor another fingerprint.",
            ],
        ),
        section(
            "Compare two states",
            &[
                "`bayleaf compare GUIDE` tells what changed in a guide since the revision that was issued last, `bayleaf compare GUIDE@B` since revision B, `bayleaf compare GUIDE@A GUIDE@C` between two of them. What stands behind the `@` may also be a state of the shop's version control (git), such as `GUIDE@HEAD~3`. Two folders that each hold `guides/` are compared guide by guide.",
                "It compares facts and not lines: values with how much they differ by, operations, order, hardware, tools, cautions, options, connectors, words. A step is found again although it was moved or its heading or name changed. What follows from another fact is not told a second time: the number of a step, what a pass in percent comes to, the setting of a wrench.",
                "It ends with what the differences reach: pages and sheets, pictures with callouts in steps that changed, and other guides that use what changed in the shop file. `--as json` and `--as page` give the same for programs and as one page with both sides. The exit status is 1 where something differs.",
            ],
        ),
        section(
            "When work that was done is looked at again",
            &[
                "A difference calls for a look at vehicles that were built to the old text where it is one of: a torque or how it is reached, hardware, parts, a caution, what must be so before work starts, the order of steps or operations, an operation or a whole step, another value, a wait, a check, a stop with a signature, a condition or an option, the vehicles that the guide is for, a circuit, a connector. It does not where it is words alone, a picture, a heading, a source, a tool, or the head of the guide. This is the program's rule for sorting; whether a vehicle is called back is for the shop to decide.",
            ],
        ),
    ];
    let json = PlainSection {
        title: "The comparison as JSON".to_owned(),
        paragraphs: paragraphs(&["`bayleaf compare --as json` writes one object."]),
        ..PlainSection::default()
    };
    Plain {
        file: "history".to_owned(),
        title: "The history of a guide".to_owned(),
        lead: "How revisions are issued, kept and compared, and what follows for work that was done.".to_owned(),
        group: "Reports".to_owned(),
        sections: sections.into_iter().chain([json]).chain(PlainSection::of_objects(&json::objects())).collect(),
    }
}
