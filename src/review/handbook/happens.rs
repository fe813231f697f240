//! The handbook's chapter on what happens in a real job beside taking off and putting on.

use super::{Chapter, Section, paragraphs};

pub(super) fn chapter() -> Chapter {
    let section = |title: &str, texts: &[&str], example: &str| Section {
        title: title.to_owned(),
        paragraphs: paragraphs(texts),
        example: (!example.is_empty()).then(|| example.to_owned()),
        ..Section::default()
    };
    Chapter {
        file: "what-happens".to_owned(),
        title: "What really happens".to_owned(),
        lead: "A hazard that lasts, a step that is done otherwise than the supplier says: each stated once, and shown wherever it counts."
            .to_owned(),
        group: "The format".to_owned(),
        sections: vec![
            section(
                "A hazard that holds for a run of steps",
                &[
                    "Who works from one step sees that step and no other, so a caution stands in each step that it speaks for. Where a hazard lasts, it is stated once all the same: in the step where it begins, with the last step for which it holds. `cautions = [\"airbag until reconnect\"]` does that for a caution with an id, of the guide or of the shop; a step's own `[[caution]]` has the key `until`. At the top of the guide it stands from the first step on.",
                    "Each step of the run then names the hazard in one line, with the step that states it in full; a printed sheet that begins inside the run repeats it at its head. A caution that a step of the run shows anyway is not named twice. If the step that states it is done only with an option, it covers the others with that option only.",
                ],
                "## Unplug the seat {#unplug}\n\n+++\ncautions = [\"airbag until reconnect\"]\n+++\n\n[Unplug the yellow connector](disconnect:seat-airbag).\n",
            ),
            section(
                "A step that departs from the supplier's sheet",
                &[
                    "Where the shop does a thing otherwise than the sheet says, the step says so in a `[[departure]]`: what the sheet `says`, what the step `does`, and `why`; `source` names the sheet. `approved` names the role that decided it: without it the guide is held. Page and checklist show the departure in its step, and once more in a list of all departures at the end.",
                ],
                "[[departure]]\nsays = \"Tighten the base bolts before the seat is fitted\"\ndoes = \"The base bolts are tightened with the seat on\"\nwhy = \"the seat's rails pull the base into its place\"\napproved = \"Shop foreman\"\nsource = \"sheet (step 7)\"\n",
            ),
        ],
    }
}
