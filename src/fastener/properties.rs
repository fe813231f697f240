//! Properties that hold for every thread, class, drive and order, tried on many. The examples stand beside the code itself.

use proptest::prelude::*;

use super::drive::Drive;
use super::pattern::{Order, check_circle};
use super::{Class, Kind, Thread, stage};

#[test]
fn every_standard_thread_reads_back_to_itself() {
    let mut count = 0;
    for thread in Thread::standard() {
        for tail in ["", "-6g", "-2A", "-LH", "-6H-LH", "-3B-LH"] {
            let text = format!("{thread}{tail}");
            if tail.contains(['g', '6']) == thread.is_inch() && tail.starts_with(['-']) && tail != "-LH" {
                continue;
            }
            let reading = Thread::read(&text).unwrap_or_else(|objection| panic!("{text}: {}", objection.message));
            assert_eq!(reading.value.to_string(), text);
            assert_eq!(reading.doubts, [], "{text}");
            assert_eq!(Thread::read(&reading.value.to_string()).expect("it was just printed").value, reading.value);
            count += 1;
        }
    }
    assert!(count > 400, "only {count} designations were tried");
}

#[test]
fn circles_are_permutations_in_opposite_pairs() {
    for count in 4..=24 {
        let order = Order::circle(count).expect("4 to 24 positions are a circle");
        let mut sorted = order.positions().to_vec();
        sorted.sort_unstable();
        assert_eq!(sorted, (1..=count).collect::<Vec<_>>());
        if count.is_multiple_of(2) {
            for pair in order.positions().chunks(2) {
                assert_eq!(pair[0].abs_diff(pair[1]), count / 2, "{count}: {pair:?}");
            }
        }
        assert_eq!(check_circle(order.positions(), count), [], "{count}");
        let numbers = order.numbers();
        for (index, position) in order.positions().iter().enumerate() {
            assert_eq!(numbers[position - 1], index + 1);
        }
    }
}

proptest! {
    #[test]
    fn any_text_is_answered(text in "\\PC{0,40}") {
        let _ = Thread::read(&text);
        let _ = Drive::read(&text);
        for kind in [Kind::Bolt, Kind::Nut] {
            let _ = Class::read(&text, kind, None);
        }
        let _ = stage::read(&[&text], None, &Default::default());
    }

    #[test]
    fn a_text_made_of_a_designation_s_letters_is_answered(text in "[M#N0-9./x \"UNCFHL-]{0,16}") {
        if let Ok(reading) = Thread::read(&text) {
            let printed = reading.value.to_string();
            let again = Thread::read(&printed);
            prop_assert_eq!(again.map(|again| again.value), Ok(reading.value), "{} was printed {}", text, printed);
        }
        if let Ok(drive) = Drive::read(&text) {
            prop_assert_eq!(Drive::read(&drive.to_string()), Ok(drive));
        }
    }
}
