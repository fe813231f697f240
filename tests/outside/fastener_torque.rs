//! How many published torques the window lets pass, how many slips it catches, and that it leaves the demo guides alone.
//! The rows are looked up, or computed from looked-up inputs, as each says; the window's parts are held in `fastener`.

use bayleaf::fastener::limit::{Case, Condition, Into, Why, window};
use bayleaf::fastener::{Drive, Kind};
use bayleaf::quantity::{Dimension, Options, read};

use super::fastener::{class, thread};

use Condition::{Dry, NotStated, Oiled};

/// Size, class, state of the thread, torque in N·m, table.
type Row = (&'static str, &'static str, Condition, f64);

/// Published tightening torques of 8.8 and 10.9 bolts from M6 to M16.
fn published() -> Vec<Row> {
    let mut rows = Vec::new();
    let mut table = |class, condition, torques: &[(&'static str, f64)]| {
        rows.extend(torques.iter().map(|(size, torque)| (*size, class, condition, *torque)));
    };
    // A VDI 2230 catalogue, looked up and computed; friction 0.10, 0.12 and 0.14.
    table("8.8", NotStated, &[("M8x1", 22.8), ("M8x1", 26.1), ("M8x1", 29.2), ("M10x1.25", 51.0), ("M12x1.25", 90.0), ("M16x1.5", 218.0)]);
    table(
        "10.9",
        NotStated,
        &[("M8x1", 33.5), ("M8x1", 38.3), ("M8x1", 42.8), ("M10x1.25", 75.0), ("M12x1.25", 133.0), ("M16x1.5", 320.0)],
    );
    // VDI 2230 at friction 0.12 and 0.14, computed.
    table("8.8", NotStated, &[("M6", 10.2), ("M8", 24.6), ("M10", 48.4), ("M12", 83.6), ("M14", 133.5), ("M16", 206.0)]);
    table("10.9", NotStated, &[("M6", 14.9), ("M8", 36.1), ("M10", 71.1), ("M12", 122.8), ("M14", 196.0), ("M16", 302.0)]);
    table("8.8", NotStated, &[("M8", 27.3), ("M10", 53.9), ("M12", 93.0)]);
    table("10.9", NotStated, &[("M12", 136.6)]);
    // A tractor maker's manual, lubricated and dry, looked up.
    table("8.8", Oiled, &[("M8", 22.0), ("M10", 43.0), ("M12", 75.0)]);
    table("8.8", Dry, &[("M8", 28.0), ("M10", 55.0), ("M12", 95.0)]);
    table("10.9", Oiled, &[("M8", 32.0), ("M10", 63.0), ("M12", 110.0)]);
    table("10.9", Dry, &[("M8", 40.0), ("M10", 80.0), ("M12", 140.0)]);
    // Another tractor maker's chart, plain and plated, looked up.
    table("8.8", NotStated, &[("M6", 7.5), ("M8", 18.0), ("M10", 37.0), ("M12", 64.0)]);
    table("8.8", NotStated, &[("M6", 10.0), ("M8", 25.0), ("M10", 49.0), ("M12", 85.0)]);
    // An engine maker's chart at friction 0.125, looked up.
    table("8.8", NotStated, &[("M8", 21.0), ("M10", 42.0), ("M12", 74.0)]);
    // A fastener catalogue at friction 0.14, looked up.
    table("8.8", NotStated, &[("M6", 10.0), ("M8", 25.0), ("M10", 49.0), ("M12", 85.0)]);
    // Nut factor 0.20 at 75 % of proof, looked up and computed.
    table("8.8", NotStated, &[("M6", 10.5), ("M8", 25.5), ("M10", 50.5), ("M12", 88.0), ("M16", 218.5)]);
    table("10.9", NotStated, &[("M10", 72.2)]);
    rows
}

fn why((size, name, condition, _): &Row, torque: f64) -> Option<Why> {
    let thread = thread(size);
    let class = Some(class(name, Kind::Bolt, &thread));
    let case = Case { thread: &thread, class, condition: *condition, kind: Kind::Bolt, into: Into::NotStated };
    let stated = read(&format!("{torque:.4} N·m"), Dimension::Torque, &Options::default()).quantity.expect("a torque");
    window(&case).expect("a bolt").doubt(&stated).map(|doubt| doubt.why)
}

#[test]
fn no_published_torque_is_doubted() {
    let rows = published();
    assert!(rows.len() > 55, "{}", rows.len());
    for row in &rows {
        assert_eq!(why(row, row.3), None, "{row:?}");
        // Nor where the table's state of the thread is left out of the guide.
        assert_eq!(why(&(row.0, row.1, NotStated, row.3), row.3), None, "{row:?}");
    }
}

#[test]
fn twice_a_published_torque_is_always_doubted() {
    for row in published() {
        assert!(matches!(why(&row, row.3 * 2.0), Some(Why::High | Why::OverProof)), "{row:?}");
        assert!(matches!(why(&(row.0, row.1, NotStated, row.3), row.3 * 2.0), Some(Why::High | Why::OverProof)), "{row:?}");
    }
}

#[test]
fn slips_of_twelve_and_of_ten_are_always_doubted() {
    for row in published() {
        // lb·in for lb·ft and a decimal place, both ways.
        assert_eq!(why(&row, row.3 * 12.0), Some(Why::OverProof), "{row:?}");
        assert_eq!(why(&row, row.3 * 10.0), Some(Why::OverProof), "{row:?}");
        assert_eq!(why(&row, row.3 / 12.0), Some(Why::Low), "{row:?}");
        assert_eq!(why(&row, row.3 / 10.0), Some(Why::Low), "{row:?}");
    }
}

#[test]
fn newton_metres_taken_for_pound_feet_leave_the_window_only_from_high_tables() {
    // The slip makes a torque 1.356 times as high. Published tables for one bolt differ by more (18 to 28 N·m for M8 8.8), so a window that
    // doubted all of them would doubt published values too. It is caught where the torque was above 74 % of the usual proof torque, and
    // not below; the other way round, 0.74 times, never is.
    let rows = published();
    let mut caught = 0;
    for row in &rows {
        let thread = thread(row.0);
        let class = Some(class(row.1, Kind::Bolt, &thread));
        let case = Case { thread: &thread, class, condition: row.2, kind: Kind::Bolt, into: Into::NotStated };
        let share = row.3 / window(&case).expect("a bolt").beyond_proof.torque;
        let doubted = why(row, row.3 * 1.3558179483).is_some();
        assert_eq!(doubted, share > 1.0 / 1.3558179483, "{row:?} at {share}");
        caught += usize::from(doubted);
        assert_eq!(why(row, row.3 / 1.3558179483), None, "{row:?}");
    }
    assert_eq!((caught, rows.len()), (22, 61), "a third of the rows");
}

/// Stating `dry` leaves the upper end where it is without it: M8 8.8 is doubted above 34 N·m either way (0.2 · 8 mm · 21.2 kN, the proof
/// load looked up in ISO 898-1), and each published torque for dry threads above stays below it.
#[test]
fn dry_does_not_loosen_the_doubt() {
    let thread = thread("M8");
    let class = Some(class("8.8", Kind::Bolt, &thread));
    for condition in [NotStated, Dry] {
        let case = Case { thread: &thread, class, condition, kind: Kind::Bolt, into: Into::NotStated };
        let end = window(&case).expect("a bolt").beyond_proof.torque;
        assert!((end - 0.2 * 8.0 * 21.2).abs() < 0.1, "{condition:?}: {end}");
    }
    let doubted = |condition, torque| why(&("M8", "8.8", condition, torque), torque);
    assert_eq!(doubted(Dry, 40.0), Some(Why::High));
    assert_eq!(doubted(Dry, 40.0), doubted(NotStated, 40.0));
}

/// Stainless bolts: a crane maker's service manual, looked up, for lubricated A2-70 (N·m) and 18-8 (lb·in); a VDI-based catalogue's row for
/// A2-70 at friction 0.1 and 0.2.
#[test]
fn no_published_torque_of_stainless_bolts_is_doubted() {
    let rows: &[(&str, &str, Condition, &str)] = &[
        ("M4", "A2-70", Oiled, "1.5 N·m"),
        ("M5", "A2-70", Oiled, "3.1 N·m"),
        ("M6", "A2-70", Oiled, "5.3 N·m"),
        ("M8", "A2-70", Oiled, "13 N·m"),
        ("M10", "A2-70", Oiled, "27 N·m"),
        ("#6-32", "18-8", Oiled, "9 lb·in"),
        ("#8-32", "18-8", Oiled, "18 lb·in"),
        ("#10-24", "18-8", Oiled, "21 lb·in"),
        ("1/4-20", "18-8", Oiled, "68 lb·in"),
        ("5/16-18", "18-8", Oiled, "120 lb·in"),
        ("3/8-16", "18-8", Oiled, "210 lb·in"),
        ("M6", "A2-70", NotStated, "6.3 N·m"),
        ("M6", "A2-70", NotStated, "10 N·m"),
        ("M8", "A2-70", NotStated, "15.2 N·m"),
        ("M8", "A2-70", NotStated, "24.1 N·m"),
        ("M10", "A2-70", NotStated, "30 N·m"),
        ("M6", "A4-80", NotStated, "8.4 N·m"),
    ];
    for (designation, name, condition, text) in rows {
        let thread = thread(designation);
        let class = Some(class(name, Kind::Bolt, &thread));
        for condition in [*condition, NotStated] {
            let case = Case { thread: &thread, class, condition, kind: Kind::Bolt, into: Into::NotStated };
            let torque = |text: &str| read(text, Dimension::Torque, &Options::default()).quantity.expect("a torque");
            assert_eq!(window(&case).expect("a bolt").doubt(&torque(text)), None, "{designation} {name} {text}");
        }
    }
    // Ten times as much is never believed.
    for (designation, name, _, text) in rows {
        let thread = thread(designation);
        let case = Case {
            thread: &thread,
            class: Some(class(name, Kind::Bolt, &thread)),
            condition: NotStated,
            kind: Kind::Bolt,
            into: Into::NotStated,
        };
        let (figure, unit) = text.split_once(' ').expect("a figure and a unit");
        let torque =
            read(&format!("{:.1} {unit}", figure.parse::<f64>().expect("a figure") * 10.0), Dimension::Torque, &Options::default());
        assert!(window(&case).expect("a bolt").doubt(&torque.quantity.expect("a torque")).is_some(), "{designation} {name}");
    }
}

#[test]
fn no_torque_of_the_demo_guides_is_doubted() {
    // Read by hand from the guides and the shop's file: kind, thread, class, state of the thread, torque.
    use Kind::{Bolt, Nut, Screw};
    let rows: &[(Kind, &str, Option<&str>, Condition, &str)] = &[
        // second battery with charger
        (Bolt, "M8x1.25", Some("8.8"), NotStated, "16 N·m (12 lb·ft)"),
        (Nut, "M6x1.0", Some("8"), NotStated, "5 N·m (44 lb·in)"),
        (Screw, "M5x0.8", Some("8.8"), NotStated, "3.5 ±0.5 N·m"),
        (Screw, "M5x0.8", Some("8.8"), NotStated, "2.5 N·m"),
        (Nut, "M6x1.0", Some("8"), NotStated, "5..6 N·m (44..53 lb·in)"),
        (Bolt, "M6x1.0", Some("8.8"), NotStated, "6 N·m (53 lb·in)"),
        (Nut, "M5x0.8", Some("8"), NotStated, "3.5 N·m"),
        (Nut, "M8x1.25", Some("8"), NotStated, "12 N·m (106 lb·in)"),
        (Nut, "M8x1.25", Some("8"), NotStated, "16 N·m (12 lb·ft)"),
        (Screw, "M6x1.0", Some("8.8"), NotStated, "7 N·m"),
        // swivel seat base
        (Bolt, "M8x1.25", Some("10.9"), Dry, "25 N·m (18 lb·ft)"),
        (Bolt, "M10x1.25", Some("10.9"), Dry, "45 N·m (33 lb·ft)"),
        (Screw, "M6x1.0", Some("8.8"), NotStated, "5..7 N·m"),
        // tow bar with wiring
        (Bolt, "M12x1.25", Some("10.9"), Dry, "85 N·m (63 lb·ft)"),
        (Bolt, "M14x1.5", Some("10.9"), Condition::AsSupplied, "100 N·m + 90°"),
        (Bolt, "M12x1.75", Some("10.9"), Dry, "80 N·m (59 lb·ft)"),
        (Bolt, "M8x1.25", Some("8.8"), NotStated, "16 N·m (12 lb·ft)"),
        (Screw, "M5x0.8", Some("8.8"), NotStated, "2..2.5 N·m"),
        (Screw, "M6x1.0", Some("8.8"), NotStated, "4.5 N·m (40 lb·in)"),
        (Screw, "M6x1.0", Some("8.8"), NotStated, "6 ±1 N·m"),
        (Nut, "M10x1.5", Some("8"), NotStated, "32 N·m (24 lb·ft)"),
        // transmission cooler
        (Nut, "M6x1.0", Some("8"), NotStated, "5..7 N·m (44..62 lb·in)"),
        (Screw, "M5x0.8", Some("8.8"), NotStated, "2.5 N·m (22 lb·in)"),
        (Screw, "M6x1.0", Some("8.8"), NotStated, "6 N·m (53 lb·in)"),
        (Bolt, "M16x1.5", None, NotStated, "35 N·m (26 lb·ft)"),
        // the shop's own
        (Nut, "M6x1.0", Some("8"), NotStated, "6 N·m (53 lb·in)"),
        // guides of an inch shop, which the seeded faults are put into
        (Bolt, "3/8-16 UNC", Some("grade 5"), Dry, "20 lb·ft (27 N·m)"),
        (Screw, "1/4-20 UNC", Some("grade 5"), NotStated, "60..70 lb·in (6.8..7.9 N·m)"),
        (Screw, "#10-24 UNC", Some("grade 5"), NotStated, "20 ±2 lb·in"),
        (Bolt, "5/16-18 UNC", Some("grade 5"), NotStated, "11 lb·ft (15 N·m)"),
        (Screw, "M4x0.7", Some("8.8"), NotStated, "1.5 ±0.3 N·m"),
        (Bolt, "M10x1.5", Some("8.8"), NotStated, "35 N·m (26 lb·ft)"),
        (Bolt, "M8x1.25", Some("8.8"), Dry, "18 N·m (13 lb·ft)"),
    ];
    for (kind, designation, name, condition, text) in rows {
        let thread = thread(designation);
        let class = name.map(|name| class(name, *kind, &thread));
        let case = Case { thread: &thread, class, condition: *condition, kind: *kind, into: Into::NotStated };
        let torque = read(text, Dimension::Torque, &Options::default()).quantity.expect("a torque");
        let window = window(&case).expect("no clamp");
        assert_eq!(window.doubt(&torque).map(|doubt| doubt.sum.sentence()), None, "{designation} {name:?} {text}");
    }
}

#[test]
fn no_drive_of_the_demo_guides_is_unusual_on_its_thread() {
    for (drive, designation) in [
        ("8 mm hex", "M5x0.8"),
        ("10 mm hex", "M6x1.0"),
        ("13 mm hex", "M8x1.25"),
        ("16 mm hex", "M10x1.5"),
        ("18 mm hex", "M12x1.25"),
        ("18 mm hex", "M12x1.75"),
        ("21 mm hex", "M14x1.5"),
        ("21 mm hex", "M16x1.5"),
        ("T15", "M4x0.7"),
        ("T20", "M4x0.7"),
        ("T25", "M5x0.8"),
        ("T30", "M6x1.0"),
        ("T50", "M10x1.25"),
        ("9/16 in hex", "3/8-16 UNC"),
        ("1/2 in hex", "5/16-18 UNC"),
        ("3/16 in key", "1/4-20 UNC"),
        ("5/32 in key", "#10-24 UNC"),
    ] {
        let drive = Drive::read(drive).expect("a drive");
        assert_eq!(drive.unusual_on(&thread(designation)), None, "{drive} on {designation}");
    }
}

#[test]
fn the_words_of_the_guide_format_are_known() {
    for word in bayleaf::guide::keys::CONDITIONS {
        assert!(Condition::named(word).is_some(), "{word}");
    }
    let without_thread: Vec<&str> =
        bayleaf::guide::keys::HARDWARE_KINDS.iter().copied().filter(|word| Kind::named(Some(word)).is_none()).collect();
    assert_eq!(without_thread, ["clip", "rivet", "tie", "washer"]);
}
