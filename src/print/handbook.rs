//! The handbook's chapter on sheets: which there are, what stands on them, and what they do not say.

use crate::chapter::{Plain, PlainSection};

/// The chapter.
pub fn chapter() -> Plain {
    let section = |title: &str, paragraphs: &[&str]| PlainSection {
        title: title.to_owned(),
        paragraphs: paragraphs.iter().map(|text| (*text).to_owned()).collect(),
        ..PlainSection::default()
    };
    Plain {
        file: "sheets".to_owned(),
        title: "Sheets as PDF".to_owned(),
        lead: "What bayleaf print makes, and how to work with it.".to_owned(),
        group: "Reports".to_owned(),
        sections: vec![
            section(
                "Making them",
                &[
                    "`bayleaf print GUIDE` writes the checklist of a guide into the current folder, for A4 unless `--paper letter` says otherwise. `--form short` has little more than a row for each operation; `--sheet torque` and `--sheet packing` make the torque sheet and the packing list, `--sheet values` a sheet for the wall with the values of each vehicle over all guides. `--units imperial` puts the units of inch and pound first. `--to FOLDER` writes elsewhere, `--to -` one sheet to standard output.",
                    "`bayleaf publish` makes the same files and links them from the page of the guide: full, short, torque sheet and packing list with every option labelled, and the full checklist for each combination that a `[[sheet]]` of the shop file names. `--no-sheets` leaves them out.",
                    "No browser and no network are needed, the fonts are in the program, and the same guide gives the same bytes on every machine.",
                ],
            ),
            section(
                "Options",
                &[
                    "`--option ID` says that the vehicle has an option, `--without ID` that it does not; both may be given several times. What does not apply is left out. What nobody spoke of stays, labelled with the option it needs, and stands on the first sheet with a box.",
                ],
            ),
            section(
                "Working down a checklist",
                &[
                    "Each operation has a box, each pass of a tightening one for each fastener in the order that is drawn. A torque that ends in a turn has two rows of boxes, one for the torque and one for the turn, so that nobody turns a bolt twice. What was applied and what was measured is written on the rule beside the value.",
                    "At a stop somebody signs before work goes on. At the end of each sheet stands what is open there: unplugged, removed, loose, switched off. Who hands the work over and who takes it over sign below it. Registration and order are written on every sheet, because sheets of two vans end up in one heap.",
                    "The short form leaves out instructions, orders of tightening and connectors. It is for who knows the job and has the full form at hand.",
                ],
            ),
            section(
                "Records",
                &[
                    "`bayleaf print --record FILE` prints the as-built record that the bay view saved on the checklist of its guide. Characters that the fonts lack are printed by their number, such as `[U+674E]`, and told. The inspector's signature is printed where there is one, and not asked for: not every shop has an inspector.",
                ],
            ),
            section(
                "What they do not say",
                &[
                    "A sheet is a copy of one revision. Its QR code leads to the page of the guide, where the present revision and fingerprint stand; compare them before work. The maker's current instructions and local rules come before any sheet.",
                    "Letters are Latin, Greek and Cyrillic. Another character is named with its line and the sheet is not made; words from right to left are refused.",
                ],
            ),
        ],
    }
}
