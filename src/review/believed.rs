//! Torques held against the threads they tighten: what two rules look at and neither owns.

use crate::fastener::limit::{Why, window};
use crate::fastener::neighbour;
use crate::guide::model::{Hardware, Spec};
use crate::guide::names::Thing;
use crate::guide::tally;
use crate::guide::tightening::{judged_by, turn_of};
use crate::review::rule::Subject;
use crate::source::Place;

/// A torque that is hard to believe for its fastener.
#[derive(Debug)]
pub(crate) struct Disbelieved {
    /// Where the torque is written.
    pub(crate) place: Place,
    /// The torque as written.
    pub(crate) value: String,
    /// The fastener: `M8x1.25, 8.8`.
    pub(crate) fastener: String,
    /// Where the fastener is defined.
    pub(crate) hardware: Place,
    /// In which way.
    pub(crate) why: Why,
    /// The sum behind it, in one sentence, with the rows of a table that the figure fits and the turn that follows it.
    pub(crate) sentence: String,
}

/// Each torque of the guide that is hard to believe, once for each sort of hardware it tightens.
pub(crate) fn doubts<'g>(subject: &Subject<'g, '_>) -> &'g [Disbelieved] {
    subject.disbelieved.get_or_init(|| worked_out(subject))
}

fn worked_out(subject: &Subject<'_, '_>) -> Vec<Disbelieved> {
    let (guide, names) = (subject.guide, subject.names);
    let mut told: Vec<(Option<*const Spec>, *const Hardware, Place)> = Vec::new();
    let mut doubts = Vec::new();
    for used in tally::torque_uses(guide, subject.shop) {
        let Some(torque) = &used.value.quantity else { continue };
        let place = used.place(guide, names);
        for (_, hardware) in used.hardware.iter().filter(|(_, hardware)| hardware.takes_torque()) {
            let key = (used.spec.map(std::ptr::from_ref), std::ptr::from_ref(*hardware), place);
            if told.contains(&key) {
                continue;
            }
            told.push(key);
            // A torque of other hardware is told as such; held against this thread it would only be told again.
            let of = used.spec.and_then(|spec| spec.of.as_ref()).and_then(|of| names.thing(&of.value));
            if matches!(of, Some(Thing::Hardware(other)) if !std::ptr::eq(other, *hardware)) {
                continue;
            }
            let judged = judged_by(hardware, used.spec, |case| {
                let window = window(case)?;
                let doubt = window.doubt(torque)?;
                Some((doubt.why, doubt.sum.sentence(), neighbour::fits(case, torque, doubt.why)))
            });
            let Some((why, mut sentence, fits)) = judged.flatten() else { continue };
            if let Some(fits) = fits {
                sentence.push_str(&format!("; the figure would fit {fits}"));
            }
            if let Some(degrees) = turn_of(&used, hardware, names, subject.shop).filter(|_| why != Why::Low) {
                sentence.push_str(&format!("; and a turn of {degrees:.0}° comes on top"));
            }
            let words = [&hardware.thread, &hardware.class].into_iter().flatten().map(|text| text.value.clone());
            doubts.push(Disbelieved {
                place,
                value: used.value.text.clone(),
                fastener: words.collect::<Vec<_>>().join(", "),
                hardware: Place { file: names.file_of_thing(hardware.id.as_str()), span: hardware.id.span },
                why,
                sentence,
            });
        }
    }
    doubts
}
