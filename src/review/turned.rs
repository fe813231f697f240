//! Torques that a turn follows, held against the threads they tighten: what two rules look at and neither owns.

use crate::fastener::turn::AT_PROOF;
use crate::guide::model::{Hardware, Spec};
use crate::guide::tally;
use crate::guide::tightening::{judged_by, turn_of};
use crate::review::rule::Subject;
use crate::source::Place;

/// A torque with a turn on top of it, on one sort of hardware.
pub(crate) struct Turned<'g> {
    /// Where the torque is written.
    pub(crate) place: Place,
    /// The torque as written.
    pub(crate) value: &'g str,
    /// The whole turn in degrees.
    pub(crate) degrees: f64,
    /// What it tightens.
    pub(crate) hardware: &'g Hardware,
    /// Where that is defined.
    pub(crate) defined: Place,
    /// The spec, where the torque stands in one.
    pub(crate) spec: Option<&'g Spec>,
    /// The sum by which the torque alone already is at the proof load; none where it is below, or beyond and told as such.
    pub(crate) at_proof: Option<String>,
}

/// Each torque of the guide that a turn follows, once for each sort of hardware it tightens.
pub(crate) fn turned<'g>(subject: &Subject<'g, '_>) -> Vec<Turned<'g>> {
    let (guide, names) = (subject.guide, subject.names);
    let mut turned: Vec<Turned<'g>> = Vec::new();
    for used in tally::torque_uses(guide, subject.shop) {
        let Some(torque) = &used.value.quantity else { continue };
        let place = used.place(guide, names);
        for (_, hardware) in used.hardware.iter().filter(|(_, hardware)| hardware.takes_torque()) {
            if turned.iter().any(|known| known.place == place && std::ptr::eq(known.hardware, *hardware)) {
                continue;
            }
            let Some(degrees) = turn_of(&used, hardware, names, subject.shop) else { continue };
            let at_proof = judged_by(hardware, used.spec, |case| {
                let window = crate::fastener::limit::window(case)?;
                let (low, high) = torque.base_bounds();
                let low = low.or(high)?;
                let low = low.estimate();
                let already = low >= AT_PROOF * window.beyond_proof.torque && window.doubt(torque).is_none();
                already.then(|| window.beyond_proof.sentence())
            });
            turned.push(Turned {
                place,
                value: used.value.text.as_str(),
                degrees,
                hardware,
                defined: Place { file: names.file_of_thing(hardware.id.as_str()), span: hardware.id.span },
                spec: used.spec,
                at_proof: at_proof.flatten(),
            });
        }
    }
    turned
}
