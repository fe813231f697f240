//! What is known of a thread that may give way before the bolt: aluminium, plastic, rivet nuts, inserts. Where no published figure
//! reaches, the answer says that it is not judged; nothing is computed in its place. The bolt itself is left to `limit`.

use super::limit::{Case, Into, about, window};
use super::{Class, Kind};
use crate::quantity::Quantity;

/// The length of thread, in diameters, that aluminium needs to hold a steel bolt: two, where steel and cast iron have one to one and a
/// quarter (an engine maker's service manual, looked up: "at minimum, hardware threaded into aluminum must have two diameters of thread
/// engagement"; the trade's rule is the same).
pub const ALUMINIUM_DIAMETERS: f64 = 2.0;

/// The share of the torque at proof from which a thread has to bear what a steel nut does. No published table covers inserts, rivet nuts
/// and plastic of every make, so these only say from where on somebody has to have asked (common practice).
fn asked_from(into: Into) -> Option<f64> {
    match into {
        Into::Plastic => Some(0.25),
        Into::RivetNut | Into::Insert => Some(0.75),
        Into::Aluminium => Some(0.50),
        // Cage and weld nuts are steel, as strong as the bolts that the maker puts into them.
        Into::CaptiveNut | Into::NotStated => None,
    }
}

/// Why a torque asks for more than is known of the thread it goes into, in one phrase; none where nothing need be said.
///
/// `length_mm` is the length under the head: never less than the thread that is engaged.
pub fn doubt(case: &Case<'_>, length_mm: Option<f64>, torque: &Quantity) -> Option<String> {
    let from = asked_from(case.into)?;
    let high = torque.base_bounds();
    let high = high.1.or(high.0)?.estimate();
    // Without a class the usual ones of the trade are taken, so that a strong bolt in plastic is not excused by the strongest.
    let usual = if case.thread.is_inch() { "grade 5" } else { "8.8" };
    let class = case.class.or_else(|| Class::read(usual, Kind::Bolt, Some(case.thread)).ok());
    let proof = window(&Case { class, ..*case })?.beyond_proof.torque;
    // What is beyond the bolt itself is told by the window, with the same words.
    if high < from * proof || high > proof {
        return None;
    }
    let bolt = class.map_or_else(|| case.thread.to_string(), |class| format!("{} of {}", case.thread, class.titled()));
    let (share, into) = (high / proof * 100.0, case.into.words());
    let steel = format!("{share:.0} % of what {bolt} bears in a steel nut ({})", about(proof));
    match case.into {
        Into::Aluminium => {
            let needed = ALUMINIUM_DIAMETERS * case.thread.nominal_mm();
            let length = length_mm.filter(|length| *length < needed - 1e-9)?;
            Some(format!(
                "it is {steel}, and of {length:.0} mm of bolt less than the {needed:.0} mm can be engaged that aluminium needs ({ALUMINIUM_DIAMETERS:.0} diameters)"
            ))
        }
        _ => Some(format!("it is {steel}, and what {into} bears is not judged")),
    }
}

#[cfg(test)]
mod tests {
    use super::super::Thread;
    use super::super::limit::Condition;
    use super::*;
    use crate::quantity::{Dimension, Options, read};

    fn told(thread: &str, class: Option<&str>, into: Into, length: Option<f64>, text: &str) -> Option<String> {
        let thread: Thread = Thread::read(thread).expect("a thread").value;
        let class = class.and_then(|class| Class::read(class, Kind::Bolt, Some(&thread)).ok());
        let case = Case { thread: &thread, class, condition: Condition::NotStated, kind: Kind::Bolt, into };
        doubt(&case, length, &read(text, Dimension::Torque, &Options::default()).quantity.expect("a torque"))
    }

    #[test]
    fn a_torque_for_a_steel_nut_in_something_weaker_is_said_not_to_be_judged() {
        assert_eq!(
            told("M8", Some("8.8"), Into::Plastic, None, "25 N·m").as_deref(),
            Some(
                "it is 74 % of what M8x1.25 of class 8.8 bears in a steel nut (about 34 N·m (25 lb·ft)), and what a thread in plastic bears is not judged"
            )
        );
        assert!(told("M6", None, Into::Plastic, None, "5 N·m").is_some());
        assert!(told("M8", Some("8.8"), Into::RivetNut, None, "28 N·m").is_some());
        assert!(told("M8", Some("10.9"), Into::Insert, None, "40 N·m").is_some());
        let short = told("M8", Some("8.8"), Into::Aluminium, Some(12.0), "25 N·m").expect("too short");
        assert!(short.ends_with("and of 12 mm of bolt less than the 16 mm can be engaged that aluminium needs (2 diameters)"), "{short}");
    }

    #[test]
    fn what_such_threads_are_usually_given_is_left_alone() {
        for (thread, class, into, length, text) in [
            ("M5", Some("8.8"), Into::Plastic, None, "1.5 N·m"),
            ("M6", Some("8.8"), Into::Plastic, None, "3 N·m"),
            ("M8", Some("8.8"), Into::RivetNut, None, "16 N·m"),
            ("M6", Some("8.8"), Into::RivetNut, None, "9 N·m"),
            ("M8", Some("8.8"), Into::Insert, None, "20 N·m"),
            ("M8", Some("8.8"), Into::CaptiveNut, None, "28 N·m"),
            ("M8", Some("8.8"), Into::Aluminium, Some(30.0), "25 N·m"),
            ("M8", Some("8.8"), Into::Aluminium, None, "25 N·m"),
            ("M8", Some("8.8"), Into::Aluminium, Some(12.0), "10 N·m"),
            ("M8", Some("8.8"), Into::NotStated, Some(12.0), "30 N·m"),
            // Beyond the bolt itself the window speaks.
            ("M8", Some("8.8"), Into::Plastic, None, "90 N·m"),
        ] {
            assert_eq!(told(thread, class, into, length, text), None, "{thread} {into:?} {text}");
        }
    }
}
