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
        lead: "Things that are held, moved over and waited for, a hazard that lasts, a step that is done otherwise than the supplier says: each stated once, and shown wherever it counts."
            .to_owned(),
        group: "The format".to_owned(),
        sections: vec![
            section(
                "Held, locked, pulled, moved over",
                &[
                    "`hold` keeps a spring in its compressor or a shaft on its pin until `let go`; `unlock` opens a tab or a latch until `lock`, or the other way round where the first of the two is `lock`; `pull` takes a fuse or a relay out of its socket until `insert`. Like all that opens, each has to be closed again, in every combination of options, and page and sheet list what is still open.",
                    "`transfer` moves a thing over from the old part to the new one, which stands in `onto`: it comes off and goes on in one operation. `fit: bearing, onto hub` does the same for a sub-assembly on the bench.",
                    "`bleed`, `top up`, `seal`, `lubricate`, `programme` and `calibrate` open nothing.",
                ],
                "do = [\"hold: spring\", \"transfer: park-sensor, onto new-bumper\", \"let go: spring\"]\n",
            ),
            section(
                "In several places, and with a wait behind it",
                &[
                    "`places left side, right side` makes an operation of its own for each place: each is ticked, and `4 x rail-bolt` in two places are eight.",
                    "`wait` says how long to wait: at the end of a step, which the bay view clocks, or behind one operation, where it is told with the operation. It is a time, or the id of a spec that is one: `wait cure`.",
                ],
                "do = [\"tighten: 4 x rail-bolt, torque rail-bolt, places left side, right side\", \"seal: edge, wait cure\"]\n",
            ),
            section(
                "Holes, and what is done up by hand",
                &[
                    "`drill: panel, holes 4, pilot pilot-drill, specs hole` drills four holes, each with the pilot drill first; a pilot that is no smaller than the hole is told.",
                    "What is done up without a torque, hand tight and then a part of a turn, has a spec with `hand_then`. An operation names it where others name their torque, and owes none.",
                ],
                "[[spec]]\nid = \"filter\"\nname = \"Turn of the filter\"\nhand_then = \"3/4 turn\"\nsource = \"sheet (step 9)\"\n",
            ),
            section(
                "Used up, to buy, to have ready",
                &[
                    "What the job uses up stands in a `[[consumable]]` with its `amount`, or in one line: `consumable.seal-paste = \"Sealing paste; amount 20 ml\"`. Operations act on it, as in `apply: seal-paste`, or use it, as in `seal: hole, with seal-paste`. With `buy = true` it has to be bought for the job. Both are lists of their own on page, checklist and packing list, and so is what the guide block names in `ready`: a helper, blocks of wood. An amount that nobody knows is `untold`.",
                ],
                "[[consumable]]\nid = \"seal-paste\"\nname = \"Sealing paste, grey\"\namount = \"20 ml\"\nbuy = true\n",
            ),
            section(
                "While what a thing may be worked on",
                &[
                    "Where a thing is defined, it is said once while what it may be worked on: `only = [\"remove while vehicle raised\"]`, `never = [\"disconnect while engine running\"]`. First stands a verb, or several with `or`; behind `while` a thing and its state. A state is what a verb has done to it, such as `raised`, `covered`, `capped`, `connected`, `drained`, `sealed` or `programmed`; what was started is `running`. It ends with the opposite, or, of what has none, when the thing is taken off, apart or drained.",
                    "The review follows it through every combination of options, and page, sheet and data for other programs tell it with each operation that it speaks of. Two that exclude each other are told where they stand.",
                ],
                "[[item]]\nid = \"undertray\"\nname = \"Undertray\"\nonly = [\"remove or fit while vehicle raised\"]\n",
            ),
            section(
                "A step for several sides",
                &[
                    "A step that is done on the left and on the right, or at four wheels, is written once: `sides=left,right` in its heading makes a step of its own for each side, with its own number, boxes, times and counts. `{side}` in heading, words, checks and operations is the side; in ids it stands with hyphens, so `lamp-{side}` is `lamp-front-left` for the side `front-left`. `{Side}` begins a sentence. What differs besides, such as a torque or a part number, is defined for each side and named by such an id; what is the same for all is defined once.",
                    "In the heading of a phase, `# Fit the lamps {sides=left,right}`, it repeats all steps of the phase: one side is done to its end before the next begins. The id in the heading is that of all sides together: who needs it needs all of them, and each has its own with the side behind it, as in `lamp-left`.",
                ],
                "## Fit the {side} lamp {#lamp sides=left,right}\n\n[Plug the {side} lamp in](connect:lamp-{side}).\n",
            ),
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
