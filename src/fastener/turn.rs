//! How far a joint can believably be turned on top of its torque. Nothing here says how far it should be: the angle is the maker's.
//! Reading passes is left to `stage`, and whether a guide's angle is reported to the review.
//!
//! A turn of the whole thread draws the bolt out, and the parts together, by one pitch. Two published limits bound what is believable.
//! The turn-of-nut table of structural bolting (RCSC Specification, table 8.2) gives a third of a turn up to four diameters of length and
//! ends at one turn, for bolts of eight to twelve diameters on sloped faces. And the steels of ISO 898-1 break when they are stretched by
//! 8 to 14 % of their length; a turn that would draw a bolt out by a twentieth of its length has left all of that behind for the joint.

use super::{Objection, Thread};

/// More than this, in degrees, is in no published table of turns.
pub const ONE_TURN: f64 = 360.0;

/// The usual single turn, which is never doubted.
const USUAL: f64 = 90.0;

/// The share of its length that a turn may draw a bolt out by.
const STRETCH: f64 = 0.05;

/// The share of the proof torque from which a turn on top of a torque is doubted: VDI 2230 makes 90 % of yield the whole of a tightening.
pub const AT_PROOF: f64 = 0.90;

/// The doubt about a turn of so many degrees, if there is one. The length is that under the head, in millimetres: the most that can stretch.
pub fn doubt(degrees: f64, thread: Option<&Thread>, length_mm: Option<f64>) -> Option<Objection> {
    let remedy = "look the angle up again with the vehicle maker or the supplier, or accept it with the reason";
    let turns = degrees / 360.0;
    if degrees > ONE_TURN + 1e-9 {
        let message = format!(
            "a turn of {degrees:.0}° ({turns:.1} turns) is more than any joint is turned after its torque: the turn-of-nut table of \
             structural bolting ends at one turn (RCSC, table 8.2)"
        );
        return Some(Objection::new(message, remedy));
    }
    let (thread, length) = (thread?, length_mm.filter(|length| *length > 0.0)?);
    let drawn = thread.pitch_mm() * turns;
    if degrees <= USUAL || drawn <= STRETCH * length {
        return None;
    }
    let message = format!(
        "a turn of {degrees:.0}° draws {} out by {drawn:.2} mm, which is {:.0} % of its {length:.0} mm: bolt steel breaks at 8 to 14 % \
         (ISO 898-1), and the parts give only a little of it",
        thread,
        drawn / length * 100.0
    );
    Some(Objection::new(message, remedy))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn told(degrees: f64, thread: &str, length: Option<f64>) -> Option<String> {
        let thread = Thread::read(thread).expect("a thread").value;
        doubt(degrees, Some(&thread), length).map(|objection| objection.message)
    }

    #[test]
    fn usual_turns_are_not_doubted() {
        for (degrees, thread, length) in [
            (90.0, "M8", Some(10.0)),
            (90.0, "M14x1.5", Some(40.0)),
            (180.0, "M14x1.5", Some(60.0)),
            (180.0, "M12x1.75", None),
            (270.0, "M12x1.5", Some(120.0)),
            (360.0, "M16x1.5", Some(160.0)),
            (60.0, "M6", Some(6.0)),
        ] {
            assert_eq!(told(degrees, thread, length), None, "{degrees} {thread} {length:?}");
        }
        assert_eq!(doubt(180.0, None, None), None);
    }

    #[test]
    fn a_turn_that_no_bolt_bears_is_doubted() {
        for (degrees, thread, length) in [
            (720.0, "M14x1.5", None),
            (3600.0, "M14x1.5", Some(60.0)),
            (361.0, "M8", None),
            (270.0, "M8", Some(16.0)),
            (180.0, "M10", Some(12.0)),
        ] {
            assert!(told(degrees, thread, length).is_some(), "{degrees} {thread} {length:?}");
        }
        assert_eq!(
            told(270.0, "M8", Some(16.0)).as_deref(),
            Some(
                "a turn of 270° draws M8x1.25 out by 0.94 mm, which is 6 % of its 16 mm: bolt steel breaks at 8 to 14 % (ISO 898-1), and \
                 the parts give only a little of it"
            )
        );
        assert!(doubt(720.0, None, None).expect("no thread is needed").message.starts_with("a turn of 720° (2.0 turns) is more"));
    }
}
