//! Fasteners against published values. Each row stands beside its source and how well it is known: "looked up" was seen in that source,
//! "computed" follows from a formula and looked-up inputs. Values known only from memory are no oracle and are not here.

use bayleaf::fastener::adapter::Adapter;
use bayleaf::fastener::hole::{clearance, tap_drill, thread_height};
use bayleaf::fastener::limit::Condition;
use bayleaf::fastener::limit::{friction_of, friction_torque, nut_factor_torque, preload_at_yield};
use bayleaf::fastener::pattern::{Order, check_circle};
use bayleaf::fastener::{Class, Kind, Thread};

const POUND_FORCE: f64 = 4.4482216153;
const POUND_INCH: f64 = 0.1129848290;
const POUND_FOOT: f64 = 1.3558179483;
const SQUARE_INCH: f64 = 645.16;

pub(crate) fn thread(text: &str) -> Thread {
    let reading = Thread::read(text).unwrap_or_else(|objection| panic!("{text}: {}", objection.message));
    assert_eq!(reading.doubts, [], "{text}");
    reading.value
}

pub(crate) fn class(text: &str, kind: Kind, thread: &Thread) -> &'static Class {
    Class::read(text, kind, Some(thread)).unwrap_or_else(|objection| panic!("{text}: {}", objection.message))
}

fn bolt(text: &str, thread: &Thread) -> &'static Class {
    class(text, Kind::Bolt, thread)
}

fn near(value: f64, expected: f64, room: f64, what: &str) {
    assert!((value - expected).abs() <= room, "{what}: {value} and not {expected} within {room}");
}

#[test]
fn stress_areas_are_those_of_iso_898_1() {
    // Computed by the standard's formula, to a hundredth of a square millimetre.
    for (text, area) in [("M8", 36.61), ("M10", 57.99), ("M12x1.25", 92.07), ("M16", 156.67)] {
        near(thread(text).stress_area_mm2(), area, 0.01, text);
    }
    // Looked up, as the standard prints them: three figures.
    for (text, area) in [
        ("M3", 5.03),
        ("M3.5", 6.78),
        ("M4", 8.78),
        ("M5", 14.2),
        ("M6", 20.1),
        ("M7", 28.9),
        ("M8", 36.6),
        ("M8x1", 39.2),
        ("M10", 58.0),
        ("M10x1.25", 61.2),
        ("M10x1", 64.5),
        ("M12", 84.3),
        ("M12x1.5", 88.1),
        ("M12x1.25", 92.1),
        ("M14", 115.0),
        ("M14x1.5", 125.0),
        ("M16", 157.0),
        ("M16x1.5", 167.0),
        ("M18", 192.0),
        ("M20", 245.0),
        ("M22", 303.0),
        ("M24", 353.0),
        // Computed: a web chart prints each of these one row too low (216, 232, 272, 290 and 333).
        ("M18x2", 204.0),
        ("M18x1.5", 216.0),
        ("M20x2", 258.0),
        ("M20x1.5", 272.0),
        ("M22x2", 318.0),
        ("M22x1.5", 333.0),
        ("M24x2", 384.0),
    ] {
        near(thread(text).stress_area_mm2(), area, area * 0.005, text);
    }
}

#[test]
fn diameters_are_those_of_iso_724() {
    // Computed by the standard's formulas: d2, D1, d3.
    for (text, d2, d1, d3) in [
        ("M6", 5.350, 4.917, 4.773),
        ("M8", 7.188, 6.647, 6.466),
        ("M10", 9.026, 8.376, 8.160),
        ("M12", 10.863, 10.106, 9.853),
        ("M16", 14.701, 13.835, 13.546),
    ] {
        let thread = thread(text);
        near(thread.pitch_diameter_mm(), d2, 0.0006, text);
        near(thread.minor_diameter_mm(), d1, 0.0006, text);
        near(thread.core_diameter_mm(), d3, 0.0006, text);
    }
}

#[test]
fn unified_stress_areas_are_those_of_shigley() {
    // Shigley, 9th edition, table 8-2 (ANSI B1.1), looked up and computed, in square inches. The book prints #5-44 as .00880 and a web
    // table 7/16-14 as .0163: both are misprints, and the rows here are the computed ones that other tables have too.
    for (text, area) in [
        ("#4-40", 0.00604),
        ("#4-48", 0.00661),
        ("#5-40", 0.00796),
        ("#5-44", 0.00831),
        ("#6-32", 0.00909),
        ("#6-40", 0.01015),
        ("#8-32", 0.0140),
        ("#8-36", 0.01474),
        ("#10-24", 0.0175),
        ("#10-32", 0.0200),
        ("1/4-20", 0.0318),
        ("1/4-28", 0.0364),
        ("5/16-18", 0.0524),
        ("5/16-24", 0.0580),
        ("3/8-16", 0.0775),
        ("3/8-24", 0.0878),
        ("7/16-14", 0.1063),
        ("7/16-20", 0.1187),
        ("1/2-13", 0.1419),
        ("1/2-20", 0.1599),
        ("9/16-12", 0.182),
        ("9/16-18", 0.203),
        ("5/8-11", 0.226),
        ("5/8-18", 0.256),
        ("3/4-10", 0.334),
        ("3/4-16", 0.373),
    ] {
        near(thread(text).stress_area_mm2() / SQUARE_INCH, area, area * 0.003, text);
    }
    for (text, inches) in [("#4-40", 0.112), ("#10-32", 0.190), ("3/8-16", 0.375)] {
        near(thread(text).nominal_mm() / 25.4, inches, 1e-9, text);
    }
}

#[test]
fn proof_loads_are_those_of_iso_898() {
    // ISO 898-1, looked up, in newtons; the standard rounds to three figures.
    for (text, loads) in [
        ("M6", [11_600.0, 16_700.0, 19_500.0]),
        ("M8", [21_200.0, 30_400.0, 35_500.0]),
        ("M10", [33_700.0, 48_100.0, 56_300.0]),
        ("M12", [48_900.0, 70_000.0, 81_800.0]),
        ("M16", [91_000.0, 130_000.0, 152_000.0]),
        ("M20", [147_000.0, 203_000.0, 238_000.0]),
    ] {
        for (name, load) in ["8.8", "10.9", "12.9"].into_iter().zip(loads) {
            let thread = thread(text);
            near(bolt(name, &thread).proof_load(&thread), load, load * 0.01, &format!("{text} {name}"));
        }
    }
    // ISO 898-2 (EN 20898-2), looked up.
    for (text, loads) in [
        ("M5", [12_140.0, 14_800.0, 16_300.0]),
        ("M6", [17_200.0, 20_900.0, 23_100.0]),
        ("M8", [31_800.0, 38_100.0, 42_500.0]),
        ("M10", [50_500.0, 60_300.0, 67_300.0]),
        ("M12", [74_200.0, 88_500.0, 100_300.0]),
        ("M16", [138_200.0, 164_900.0, 186_800.0]),
    ] {
        for (name, load) in ["8", "10", "12"].into_iter().zip(loads) {
            let thread = thread(text);
            near(class(name, Kind::Nut, &thread).proof_load(&thread), load, load * 0.01, &format!("{text} nut {name}"));
        }
    }
    // DIN EN 20898-2, the same rows above M16, looked up in a bearing seller's table.
    for (text, loads) in [("M20", [225_400.0, 259_700.0, 294_000.0]), ("M24", [324_800.0, 374_200.0, 423_600.0])] {
        for (name, load) in ["8", "10", "12"].into_iter().zip(loads) {
            let thread = thread(text);
            near(class(name, Kind::Nut, &thread).proof_load(&thread), load, load * 0.01, &format!("{text} nut {name}"));
        }
    }
    // Classes 5 and 6: an extract of DIN EN 20898-2 (coarse thread, style 1), looked up.
    for (text, loads) in [
        ("M5", [8_250.0, 9_500.0]),
        ("M6", [11_700.0, 13_500.0]),
        ("M8", [21_600.0, 24_900.0]),
        ("M10", [34_200.0, 39_400.0]),
        ("M12", [51_400.0, 59_000.0]),
        ("M14", [70_200.0, 80_500.0]),
        ("M16", [95_800.0, 109_900.0]),
        ("M20", [154_400.0, 176_400.0]),
        ("M24", [222_400.0, 254_200.0]),
    ] {
        for (name, load) in ["5", "6"].into_iter().zip(loads) {
            let thread = thread(text);
            near(class(name, Kind::Nut, &thread).proof_load(&thread), load, load * 0.01, &format!("{text} nut {name}"));
        }
    }
    // Class 9 is known from memory alone. ISO 10684, looked up, prints the stresses of nuts tapped oversize in the same proportions:
    // M8 473, 546, 698, 754 and 835 MPa for classes 5, 6, 8, 9 and 10, M10 493, 569, 728, 786 and 870.
    for (text, stresses) in [("M8", [473.0, 546.0, 698.0, 754.0, 835.0]), ("M10", [493.0, 569.0, 728.0, 786.0, 870.0])] {
        let thread = thread(text);
        let stress = |name| class(name, Kind::Nut, &thread).strength(thread.nominal_mm()).proof;
        for (name, reduced) in ["5", "6", "8", "9", "10"].into_iter().zip(stresses) {
            near(stress(name) / stress("10"), reduced / stresses[4], 0.005, &format!("{text} nut {name}"));
        }
    }
    // Thin nuts: 380 and 500 MPa for classes 04 and 05 (ISO 898-6 for M8 to M39, looked up; ISO 898-2 has the same).
    for (name, stress) in [("04", 380.0), ("05", 500.0)] {
        assert_eq!(class(name, Kind::Nut, &thread("M10")).strength(10.0).proof, stress, "{name}");
    }
}

/// ISO 228-1 and ISO 7-1: an online thread chart and a fittings seller's table, looked up; ASME B1.20.1: a tap maker's wall chart, looked up.
#[test]
fn pipe_threads_have_the_pitches_of_their_standards() {
    use bayleaf::fastener::special::Special;
    let of = |text: &str| Special::read(text).expect("a pipe thread").unwrap_or_else(|objection| panic!("{text}: {}", objection.message));
    for (size, turns) in [
        ("1/16", 28.0),
        ("1/8", 28.0),
        ("1/4", 19.0),
        ("3/8", 19.0),
        ("1/2", 14.0),
        ("3/4", 14.0),
        ("1", 11.0),
        ("1 1/4", 11.0),
        ("2", 11.0),
    ] {
        for family in ["G", "R", "Rc"] {
            assert_eq!(of(&format!("{family} {size}")).value.threads_per_inch(), Some(turns), "{family} {size}");
            assert_eq!(of(&format!("{family} {size}")).doubts, [], "{family} {size}");
        }
    }
    for (size, turns) in [("1/8", 27.0), ("1/4", 18.0), ("3/8", 18.0), ("1/2", 14.0), ("3/4", 14.0), ("1", 11.5)] {
        assert_eq!(of(&format!("{size} NPT")).value.threads_per_inch(), Some(turns), "{size} NPT");
        assert_eq!(of(&format!("{size}-{turns} NPT")).doubts, [], "{size} NPT");
    }
    // 5/8 and 7/8 are sizes of ISO 228-1 alone; the same tables have no 5/8 in the others.
    assert!(of("G 5/8").doubts.is_empty() && of("G 7/8").doubts.is_empty());
    for text in ["R 5/8", "Rc 7/8", "5/8 NPT"] {
        assert!(Special::read(text).expect("a pipe thread").is_err(), "{text}");
    }
}

/// Tapping screws: sizes with their thread in a fastener seller's hole table and the range of ISO 1478 (ST1.5 to ST9.5) in an engineering
/// page, looked up. Trapezoidal: rows of an engineering page's table, looked up. Glands: an encyclopaedia's page on DIN 40430, looked up,
/// for PG7 to PG13.5 and for the pitch of 1.5 mm of EN 60423; further sizes from memory, and no check here.
#[test]
fn other_threads_of_the_trade_are_known() {
    use bayleaf::fastener::special::Special;
    for text in [
        "ST1.5",
        "ST2.2",
        "ST2.9",
        "ST3.5",
        "ST4.2",
        "ST4.8",
        "ST5.5",
        "ST9.5",
        "Tr8x1.5",
        "Tr9x1.5",
        "Tr9x2",
        "Tr10x1.5",
        "Tr10x2",
        "Tr11x2",
        "Tr11x3",
        "Tr12x2",
        "Tr12x3",
        "Tr14x2",
        "Tr14x3",
        "Tr16x2",
        "Tr16x3",
        "Tr16x4",
        "Tr18x2",
        "PG7",
        "PG9",
        "PG11",
        "PG13.5",
        "M12x1.5 gland",
        "M16x1.5 gland",
        "M20x1.5 gland",
        "M25x1.5 gland",
    ] {
        let read = Special::read(text).expect("a family").unwrap_or_else(|objection| panic!("{text}: {}", objection.message));
        assert_eq!(read.doubts, [], "{text}");
    }
    for text in ["ST4", "ST1", "ST10", "Tr8x2", "Tr13x2", "PG8", "M18x1.5 gland"] {
        let read = Special::read(text).expect("a family");
        assert!(read.is_err() || read.is_ok_and(|read| !read.doubts.is_empty()), "{text}");
    }
    // Brake pipe nuts, looked up in a brake line seller's pages and a car maker's manual: 10 x 1.0, 12 x 1.0, 3/8-24, 7/16-24, 7/16-20, 1/2-20.
    for text in ["M10x1", "M12x1", "M14x1.5", "3/8-24 UNF", "7/16-24", "7/16-20 UNF", "1/2-20 UNF", "M40x1.5", "M50x1.5"] {
        assert_eq!(Thread::read(text).map(|read| read.doubts), Ok(Vec::new()), "{text}");
    }
}

/// RCSC Specification, table 8.2, as a bolt maker's page prints it, looked up: the largest turns of each length, in diameters.
#[test]
fn no_turn_of_the_turn_of_nut_table_is_doubted() {
    use bayleaf::fastener::turn::doubt;
    for (lengths, turns) in
        [(&[2.0, 4.0][..], [120.0, 180.0, 240.0]), (&[4.5, 8.0], [180.0, 240.0, 300.0]), (&[8.5, 12.0], [240.0, 300.0, 360.0])]
    {
        for text in ["1/2-13", "3/4-10", "M16", "M24"] {
            let thread = thread(text);
            for (length, degrees) in lengths.iter().flat_map(|length| turns.map(|degrees| (length, degrees))) {
                // The table's own column for sloped faces closes wedges first, and is no stretch of a bolt of two diameters.
                if *length < 4.0 && degrees > 120.0 {
                    continue;
                }
                assert_eq!(doubt(degrees, Some(&thread), Some(length * thread.nominal_mm())), None, "{text} of {length} d, {degrees}°");
            }
        }
    }
    for degrees in [720.0, 3600.0] {
        assert!(doubt(degrees, Some(&thread("M24")), Some(12.0 * 24.0)).is_some());
    }
}

#[test]
fn stresses_are_those_of_the_standards() {
    // ISO 898-1 and ISO 3506-1, looked up, in MPa: proof, yield, tensile.
    for (text, name, proof, yields, tensile) in [
        ("M16", "8.8", 580.0, 640.0, 800.0),
        ("M18", "8.8", 600.0, 660.0, 830.0),
        ("M20", "10.9", 830.0, 940.0, 1040.0),
        ("M20", "12.9", 970.0, 1100.0, 1220.0),
        ("M8", "A2-70", 450.0, 450.0, 700.0),
        ("M8", "A4-80", 600.0, 600.0, 800.0),
    ] {
        let thread = thread(text);
        let strength = bolt(name, &thread).strength(thread.nominal_mm());
        assert_eq!((strength.proof, strength.yields, strength.tensile), (proof, yields, tensile), "{text} {name}");
    }
    // ISO 898-1, looked up: proof stress alone.
    for (name, proof) in [("4.6", 225.0), ("4.8", 310.0), ("5.8", 380.0), ("6.8", 440.0), ("9.8", 650.0)] {
        assert_eq!(bolt(name, &thread("M8")).strength(8.0).proof, proof, "{name}");
    }
    // SAE J429, looked up, in ksi: the size decides.
    for (text, name, proof, yields, tensile) in [
        ("3/4-10", "grade 2", 55.0, 57.0, 74.0),
        ("7/8-9", "grade 2", 33.0, 36.0, 60.0),
        ("1-8", "grade 5", 85.0, 92.0, 120.0),
        ("1 1/8-7", "grade 5", 74.0, 81.0, 105.0),
        ("1 1/2-6", "grade 8", 120.0, 130.0, 150.0),
    ] {
        let thread = thread(text);
        let strength = bolt(name, &thread).strength(thread.nominal_mm());
        for (value, ksi) in [(strength.proof, proof), (strength.yields, yields), (strength.tensile, tensile)] {
            near(value / 6.894757293, ksi, 1e-9, &format!("{text} {name}"));
        }
        assert!(bolt(name, &thread).holds_for(thread.nominal_mm()), "{text} {name}");
    }
    assert!(!bolt("9.8", &thread("M20")).holds_for(20.0));
}

#[test]
fn shigley_example_8_3_comes_out_by_both_formulas() {
    // Shigley, 9th edition, example 8-3: 3/4-16 UNF, SAE grade 5, preload 25 kip. Inputs looked up, results computed from them.
    let thread = thread("3/4-16 UNF");
    let preload = 25_000.0 * POUND_FORCE;
    near(thread.stress_area_mm2() / SQUARE_INCH, 0.373, 0.0005, "At");
    near(preload / thread.stress_area_mm2() / 6.894757293, 67.02, 0.1, "preload stress, ksi");
    let plain = nut_factor_torque(0.2, thread.nominal_mm(), preload);
    near(plain / POUND_INCH, 3750.0, 1.0, "K = 0.2, lbf·in");
    near(plain, 423.7, 0.1, "K = 0.2, N·m");
    // The long formula, friction 0.15 in thread and collar, collar of 1.25 d: the approximation in use comes to the same.
    let long = friction_torque(&thread, preload, 0.15, 0.15, 1.25 * thread.nominal_mm());
    near(long / POUND_INCH, 3551.0, 1.0, "long formula, lbf·in");
}

#[test]
fn nut_factor_tables_come_out() {
    // Two makers' charts on SAE J429, looked up and computed: preload at 75 % of proof in lbf, torque in lbf·ft.
    for (text, name, preload, factor, torque) in [
        ("1/2-13", "grade 5", 9046.0, 0.20, 75.4),
        ("1/2-13", "grade 5", 9046.0, 0.15, 56.5),
        ("1/4-20", "grade 5", 2027.0, 0.20, 8.45),
        ("3/8-16", "grade 5", 4941.0, 0.20, 30.9),
        ("3/8-16", "grade 8", 6975.0, 0.20, 43.6),
        ("1/2-13", "grade 8", 12_771.0, 0.20, 106.4),
        ("5/8-11", "grade 5", f64::NAN, 0.20, 150.1),
        ("3/4-10", "grade 5", f64::NAN, 0.20, 266.2),
    ] {
        let thread = thread(text);
        let load = 0.75 * bolt(name, &thread).proof_load(&thread);
        if preload.is_finite() {
            near(load / POUND_FORCE, preload, preload * 0.002, &format!("{text} {name}"));
        }
        near(nut_factor_torque(factor, thread.nominal_mm(), load) / POUND_FOOT, torque, torque * 0.003, &format!("{text} {name}"));
    }
    // Metric, K = 0.2 at 75 % of proof, looked up and computed, N·m.
    for (text, name, torque) in [
        ("M6", "8.8", 10.49),
        ("M8", "8.8", 25.47),
        ("M10", "8.8", 50.46),
        ("M10", "10.9", 72.2),
        ("M10", "12.9", 84.4),
        ("M12", "8.8", 88.0),
        ("M16", "8.8", 218.5),
    ] {
        let thread = thread(text);
        let load = 0.75 * bolt(name, &thread).proof_load(&thread);
        near(nut_factor_torque(0.2, thread.nominal_mm(), load), torque, torque * 0.003, &format!("{text} {name}"));
    }
    // A trap: a chart calls 57 lbf·ft "dry" for 1/2-13 grade 5; that is a nut factor of 0.15, below that of any dry thread here.
    assert!(friction_of(Condition::Dry, false).usual > 0.15);
}

#[test]
fn usual_nut_factors_lie_where_shigley_has_them() {
    // Shigley, 9th edition, table 8-15, looked up: black 0.30, zinc 0.20, lubricated 0.18, cadmium 0.16, anti-seize 0.12, one locking nut 0.09.
    let row = |condition| friction_of(condition, false);
    assert_eq!(row(Condition::Oiled).usual, 0.18);
    assert_eq!(row(Condition::AsSupplied).usual, 0.20);
    for (condition, factors) in [
        (Condition::Dry, &[0.20, 0.30][..]),
        (Condition::Oiled, &[0.16, 0.18]),
        (Condition::AntiSeize, &[0.12]),
        (Condition::AsSupplied, &[0.09, 0.16, 0.18, 0.20, 0.30]),
        (Condition::NotStated, &[0.09, 0.12, 0.16, 0.18, 0.20, 0.30]),
    ] {
        for factor in factors {
            assert!((row(condition).low..=row(condition).high).contains(factor), "{condition:?}: {factor}");
        }
    }
}

/// Mean bearing diameter in millimetres: hexagon washer face and ISO 273 medium hole, as the catalogue's tables take them.
fn bearing(thread: &Thread) -> f64 {
    let faces = [("M6", 8.9), ("M8", 11.6), ("M10", 14.6), ("M12", 16.6), ("M16", 22.5)];
    let face = faces.iter().find(|(size, _)| *size == thread.size_text()).expect("a face is listed").1;
    (face + clearance(thread).expect("a hole is listed").medium) / 2.0
}

#[test]
fn vdi_2230_rows_come_out() {
    // A VDI 2230 catalogue, looked up and computed: friction, class, preload in kN and torque in N·m at 90 % of yield.
    for (text, friction, name, preload, torque) in [
        ("M8x1", 0.10, "8.8", 20.7, 22.8),
        ("M8x1", 0.12, "8.8", 20.2, 26.1),
        ("M8x1", 0.14, "8.8", 19.7, 29.2),
        ("M8x1", 0.10, "10.9", 30.4, 33.5),
        ("M8x1", 0.12, "10.9", 29.7, 38.3),
        ("M8x1", 0.14, "10.9", 29.0, 42.8),
        ("M8x1", 0.10, "12.9", 35.6, 39.2),
        ("M8x1", 0.12, "12.9", 34.7, 44.9),
        ("M8x1", 0.14, "12.9", 33.9, 50.1),
        ("M10x1.25", 0.12, "8.8", 31.6, 51.0),
        ("M10x1.25", 0.12, "10.9", 46.4, 75.0),
        ("M12x1.25", 0.12, "8.8", 48.0, 90.0),
        ("M12x1.25", 0.12, "10.9", 70.5, 133.0),
        ("M16x1.5", 0.12, "8.8", 87.6, 218.0),
        ("M16x1.5", 0.12, "10.9", 128.7, 320.0),
    ] {
        let thread = thread(text);
        let what = format!("{text} {name} at {friction}");
        let load = 0.9 * preload_at_yield(&thread, bolt(name, &thread).strength(thread.nominal_mm()).yields, friction);
        near(load / 1000.0, preload, preload * 0.005, &what);
        // The catalogue prints the larger torques to the whole newton-metre.
        near(friction_torque(&thread, load, friction, friction, bearing(&thread)), torque, torque * 0.005 + 0.3, &what);
    }
    // A fastener maker's example, looked up: M12 8.8 at 0.14 has 41.9 kN.
    let thread = thread("M12");
    near(0.9 * preload_at_yield(&thread, 640.0, 0.14) / 1000.0, 41.9, 0.2, "M12 8.8 at 0.14");
}

#[test]
fn adapter_examples_come_out() {
    // Torque-tool makers' pages, looked up and computed; the right angle and the turned-back adapter computed by the same formula.
    for (torque, wrench, extension, angle, setting) in
        [(80.0, 400.0, 50.0, 0.0, 71.11), (30.0, 12.0, 6.0, 0.0, 20.0), (80.0, 400.0, 50.0, 90.0, 80.0), (80.0, 400.0, 50.0, 180.0, 91.43)]
    {
        let adapter = Adapter { wrench, extension, angle };
        near(adapter.setting(torque).expect("the lengths are fine"), setting, 0.01, &format!("{adapter:?}"));
    }
    let straight = Adapter { wrench: 400.0, extension: 50.0, angle: 0.0 };
    near(straight.torque(80.0).expect("the lengths are fine"), 90.0, 0.01, "uncorrected");
}

#[test]
fn orders_are_those_of_makers_figures() {
    // Looked up: 8 in a machine maker's manual, 12 in a workshop manual. The others are held by their properties in the unit tests.
    for (count, order) in [(8, "1-5-3-7-2-6-4-8"), (12, "1-7-4-10-2-8-5-11-3-9-6-12")] {
        let order: Vec<usize> = order.split('-').map(|position| position.parse().expect("a number")).collect();
        assert_eq!(Order::circle(count).expect("a circle").positions(), order);
        assert_eq!(check_circle(&order, count), []);
    }
    // Computed: the order numbers at the positions of twelve are the inverse permutation; eight is its own.
    assert_eq!(Order::circle(12).expect("a circle").numbers(), [1, 5, 9, 3, 7, 11, 2, 6, 10, 4, 8, 12]);
    let eight = Order::circle(8).expect("a circle");
    assert_eq!(eight.numbers(), eight.positions());
}

#[test]
fn clearance_holes_are_those_of_iso_273() {
    // Looked up in two charts: fine, medium, coarse. Older charts have 13/14/15 for M12, 3.35 for M3 and 6.5 for M6: not ISO 273.
    for (text, fine, medium, coarse) in [
        ("M3", 3.2, 3.4, 3.6),
        ("M4", 4.3, 4.5, 4.8),
        ("M5", 5.3, 5.5, 5.8),
        ("M6", 6.4, 6.6, 7.0),
        ("M8", 8.4, 9.0, 10.0),
        ("M10x1.25", 10.5, 11.0, 12.0),
        ("M12", 13.0, 13.5, 14.5),
        ("M14", 15.0, 15.5, 16.5),
        ("M16", 17.0, 17.5, 18.5),
        ("M20", 21.0, 22.0, 24.0),
        ("M24", 25.0, 26.0, 28.0),
    ] {
        let hole = clearance(&thread(text)).expect("a row");
        assert_eq!((hole.fine, hole.medium, hole.coarse), (fine, medium, coarse), "{text}");
    }
    assert_eq!(clearance(&thread("3/8-16")), None);
}

#[test]
fn tap_drills_are_those_of_shop_charts() {
    // Looked up and computed, millimetres.
    for (text, drill) in [
        ("M3", 2.5),
        ("M4", 3.3),
        ("M5", 4.2),
        ("M6", 5.0),
        ("M8", 6.8),
        ("M10", 8.5),
        ("M12", 10.2),
        ("M14", 12.0),
        ("M16", 14.0),
        ("M20", 17.5),
        ("M24", 21.0),
        ("M8x1", 7.0),
        ("M10x1.25", 8.8),
        ("M12x1.25", 10.8),
        ("M12x1.5", 10.5),
    ] {
        assert_eq!(tap_drill(&thread(text)).expect("a drill").mm, drill, "{text}");
    }
    // Looked up: drill and its diameter in inches, to four places.
    for (text, name, inches) in [
        ("#4-40", "#43", 0.0890),
        ("#6-32", "#36", 0.1065),
        ("#8-32", "#29", 0.1360),
        ("#10-24", "#25", 0.1495),
        ("#10-32", "#21", 0.1590),
        ("1/4-20", "#7", 0.2010),
        ("1/4-28", "#3", 0.2130),
        ("5/16-18", "F", 0.2570),
        ("5/16-24", "I", 0.2720),
        ("3/8-16", "5/16 in", 0.3125),
        ("3/8-24", "Q", 0.3320),
        ("7/16-14", "U", 0.3680),
        ("1/2-13", "27/64 in", 0.4219),
        ("1/2-20", "29/64 in", 0.4531),
        ("5/8-11", "17/32 in", 17.0 / 32.0),
        ("3/4-10", "21/32 in", 21.0 / 32.0),
    ] {
        let drill = tap_drill(&thread(text)).expect("a drill");
        assert_eq!(drill.name, Some(name), "{text}");
        near(drill.mm / 25.4, inches, 0.00005, text);
        // Charts aim at about three quarters of the thread's height; for coarse and fine that comes out between these.
        assert!((65.0..85.0).contains(&thread_height(&thread(text), drill.mm)), "{text}");
    }
    // Computed: a drill of d − P leaves 77 % of the height.
    near(thread_height(&thread("M6"), 5.0), 77.0, 0.1, "M6");
}
