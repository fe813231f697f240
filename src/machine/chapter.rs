//! The handbook's chapter on the JSON files of guides.

use crate::chapter::{Plain, PlainSection};
use crate::machine::guide_json::objects;

/// The handbook's chapter.
pub fn chapter() -> Plain {
    let about = PlainSection {
        title: "What there is".to_owned(),
        paragraphs: [
            "Beside each guide's page stands `guide.json`, and in `guides/` a list of all, `index.json`. They are UTF-8 and are made together with the pages: the fingerprint says whether page and file are of one state.",
            "Terms say when something is done: ids of options parted by spaces, all of which must hold. `heated-seat !left-hand-drive` is done with the one option and without the other. Where several such texts are joined by `|`, any one of them is enough.",
            "A value stands twice: as it is printed, and exactly, in the SI unit of its dimension. A program that computes takes the exact one. Nothing here is a proposal: every torque is the author's, with its source, and the vehicle maker's instructions come first.",
        ]
        .map(str::to_owned)
        .to_vec(),
        ..PlainSection::default()
    };
    Plain {
        file: "guide-json".to_owned(),
        title: "Guides for programs".to_owned(),
        lead: "What stands in the JSON file of each guide, for programs that read guides.".to_owned(),
        group: "Reports".to_owned(),
        sections: std::iter::once(about).chain(PlainSection::of_objects(&objects())).collect(),
    }
}
