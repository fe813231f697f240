//! Holds the units against values published elsewhere: NIST SP 811, the unit library pint, and pairs and spellings met in manuals.
//! How the reader works inside is left to the tests beside the code.

use bayleaf::quantity::{Dimension, Exact, FaultKind, Options, Quantity, Reading, Unit, read, unit, units};

fn find(dimension: Dimension, symbol: &str) -> &'static Unit {
    unit(dimension, symbol).unwrap_or_else(|| panic!("no unit {symbol} of {}", dimension.name()))
}

fn reading(text: &str, dimension: Dimension) -> Reading {
    read(text, dimension, &Options::default())
}

#[track_caller]
fn clean(text: &str, dimension: Dimension) -> Quantity {
    let reading = reading(text, dimension);
    assert!(reading.faults.is_empty(), "{text}: {:?}", reading.faults);
    reading.quantity.unwrap_or_else(|| panic!("{text}: no value"))
}

/// Reads "1.35E-3" exactly.
fn decimal(text: &str) -> Exact {
    let (mantissa, exponent) = text.split_once('E').unwrap_or((text, "0"));
    let decimals = mantissa.split_once('.').map_or(0, |(_, after)| after.len());
    let digits: i128 = mantissa.replace('.', "").parse().expect("the mantissa is digits");
    let exponent: i32 = exponent.parse().expect("the exponent is a whole number");
    let decimals = i32::try_from(decimals).expect("few decimals") - exponent;
    let (times, over) = if decimals < 0 { (decimals.unsigned_abs(), 0) } else { (0, decimals.unsigned_abs()) };
    let (mut digits, mut over) = (digits * 10_i128.pow(times), over);
    while over > 0 && digits % 10 == 0 {
        (digits, over) = (digits / 10, over - 1);
    }
    Exact::from_decimal(digits, over).expect("it fits")
}

/// Whether two values differ by at most `figures` significant figures' worth: 9 is one part in a thousand million.
fn near(value: Exact, expected: Exact, figures: u32) -> bool {
    let room = expected.magnitude().times(Exact::place(figures).expect("few figures")).expect("it fits");
    value.minus(expected).expect("it fits").magnitude() <= room
}

#[test]
fn factors_are_those_of_nist_sp_811() {
    use Dimension::*;
    // Dimension, unit, what one of it is, in which unit, and to how many figures the table gives it. Source of every row: NIST SP 811,
    // Appendix B.8; the rows with 12 figures are exact by definition there.
    let rows = [
        (Torque, "lb·ft", "1.3558179483", "N·m", 9),
        (Torque, "lb·in", "0.1129848290", "N·m", 9),
        (Torque, "ozf·in", "0.0070615518", "N·m", 8),
        (Torque, "kgf·m", "9.80665", "N·m", 12),
        (Torque, "kgf·cm", "0.0980665", "N·m", 12),
        (Torque, "N·m", "0.7375621493", "lb·ft", 9),
        (Torque, "N·m", "8.850745791", "lb·in", 9),
        (Pressure, "psi", "6.894757293", "kPa", 9),
        (Pressure, "bar", "100", "kPa", 12),
        (Pressure, "kgf/cm²", "98.0665", "kPa", 12),
        // Three values of the inch of mercury are in use, so it is compared to four figures only.
        (Pressure, "inHg", "3.38638", "kPa", 4),
        (Pressure, "mmHg", "0.1333224", "kPa", 6),
        (Pressure, "inH₂O", "0.2490889", "kPa", 6),
        (Length, "in", "25.4", "mm", 12),
        (Length, "thou", "0.0254", "mm", 12),
        (Length, "ft", "304.8", "mm", 12),
        (Length, "mi", "1.609344", "km", 12),
        (Volume, "US gal", "3.785411784", "L", 12),
        (Volume, "US qt", "0.946352946", "L", 12),
        (Volume, "US pt", "0.473176473", "L", 12),
        (Volume, "US fl oz", "29.57352956", "mL", 9),
        (Volume, "Imp gal", "4.54609", "L", 12),
        (Volume, "Imp qt", "1.1365225", "L", 12),
        (Volume, "Imp pt", "0.56826125", "L", 12),
        (Volume, "Imp fl oz", "28.4130625", "mL", 12),
        (Volume, "in³", "16.387064", "mL", 12),
        (Mass, "lb", "0.45359237", "kg", 12),
        (Mass, "oz", "28.349523125", "g", 12),
        (Force, "lbf", "4.4482216153", "N", 9),
        (Power, "hp", "745.6998716", "W", 9),
        (Power, "PS", "735.49875", "W", 12),
    ];
    for (dimension, from, figure, to, figures) in rows {
        let value = find(dimension, from).convert(Exact::ONE, find(dimension, to)).expect("it fits");
        let expected = decimal(figure);
        if figures == 12 {
            assert_eq!(value, expected, "1 {from} in {to}");
        } else {
            assert!(near(value, expected, figures), "1 {from} is {figure} {to}, not {value}");
        }
    }
}

#[test]
fn temperatures_are_those_of_nist_sp_811() {
    let (celsius, fahrenheit) = (find(Dimension::Temperature, "°C"), find(Dimension::Temperature, "°F"));
    for (f, c) in [(-40, -40), (32, 0), (68, 20), (212, 100), (257, 125)] {
        assert_eq!(fahrenheit.convert(Exact::whole(f), celsius), Some(Exact::whole(c)), "{f} °F");
        assert_eq!(celsius.convert(Exact::whole(c), fahrenheit), Some(Exact::whole(f)), "{c} °C");
    }
    // A step between two temperatures knows no 32: 18 °F are 10 °C.
    let step = find(Dimension::TemperatureDifference, "°F");
    assert_eq!(step.convert(Exact::whole(18), find(Dimension::TemperatureDifference, "°C")), Some(Exact::whole(10)));
    assert_eq!(celsius.to_base(Exact::ZERO), Some(decimal("273.15")), "0 °C is 273.15 K");
}

#[test]
fn every_unit_agrees_with_pint() {
    // The scales with an offset are no plain factor; `temperatures_are_those_of_nist_sp_811` holds them.
    let scales = [(Dimension::Temperature, "°C"), (Dimension::Temperature, "°F")];
    let rows: Vec<Vec<&str>> = include_str!("units_reference.csv").lines().skip(1).map(|line| line.split(',').collect()).collect();
    for unit in units() {
        if scales.contains(&(unit.dimension, unit.symbol)) {
            continue;
        }
        let row = rows.iter().find(|row| row[0] == unit.dimension.name() && row[1] == unit.symbol);
        let row = row.unwrap_or_else(|| panic!("{} of {} has no reference", unit.symbol, unit.dimension.name()));
        let (factor, expected) = (unit.factor, decimal(row[3]));
        assert!(near(factor, expected, 9), "{} is {factor}, and {} is {}", unit.symbol, row[2], row[3]);
        assert_eq!(unit.offset, Exact::ZERO, "{}", unit.symbol);
    }
    assert_eq!(rows.len() + scales.len(), units().len(), "a reference row without a unit");
}

#[test]
fn every_unit_names_a_source_and_reads_its_own_symbol() {
    for unit in units() {
        assert!(!unit.source.is_empty() && !unit.name.is_empty(), "{}", unit.symbol);
        for spelling in [unit.symbol].iter().chain(unit.spellings).chain(unit.words) {
            let text = format!("2 {spelling}");
            let quantity = clean(&text, unit.dimension);
            assert_eq!(quantity.leading().unit, unit, "{text}");
        }
    }
}

#[test]
fn pairs_that_agree() {
    use Dimension::*;
    for (text, dimension) in [
        ("25 N·m (18 lbf·ft)", Torque),
        ("25 N·m (221 lbf·in)", Torque),
        ("110 N·m (81 lbf·ft)", Torque),
        ("5 US gal (18.9 L)", Volume),
        ("5 Imp gal (22.7 L)", Volume),
        ("35 psi (2.4 bar, 240 kPa)", Pressure),
        ("36 in (91 cm)", Length),
        // 1 mkg = 9.81 N·m = 7.23 ft-lb, as a tractor club's page has it.
        ("1.00 mkg (9.81 Nm, 7.23 ft-lb)", Torque),
        ("-40 °C (-40 °F)", Temperature),
        ("35 psi (241.3165 kPa)", Pressure),
    ] {
        clean(text, dimension);
    }
}

#[test]
fn pairs_that_disagree() {
    for (text, slip) in [
        ("25 N·m (18 lbf·in)", "the figure 18 fits lb·ft, not lb·in (a factor of 12)"),
        ("110 N·m (61 lbf·ft)", "look both up in the source"),
    ] {
        let reading = reading(text, Dimension::Torque);
        assert_eq!(reading.faults.len(), 1, "{text}: {:?}", reading.faults);
        assert_eq!(reading.faults[0].kind, FaultKind::Disagree);
        assert!(reading.faults[0].remedy.contains(slip), "{text}: {}", reading.faults[0].remedy);
    }
}

/// Factors of NIST SP 811, App. B.8 (looked up): 1 US gal is 3.785 L, 1 US qt 0.946 L, 1 US pt 473 mL, 1 US fl oz 29.57 mL; 1 Imp gal is
/// 4.546 L, 1 Imp qt 1.137 L, 1 Imp pt 568 mL, 1 Imp fl oz 28.41 mL. Each figure is written with its unit of either country.
#[test]
fn measures_of_the_two_countries_are_told_apart() {
    for (us, imperial, measure) in [
        ("1 {} (3.8 L)", "1 {} (4.5 L)", "gal"),
        ("1 {} (4 L)", "1 {} (5 L)", "gal"),
        ("2 {} (8 L)", "2 {} (9 L)", "gal"),
        ("3 {} (11 L)", "3 {} (14 L)", "gal"),
        ("3 {} (2.8 L)", "3 {} (3.4 L)", "qt"),
        ("5 {} (4.7 L)", "5 {} (5.7 L)", "qt"),
        ("2 {} (0.95 L)", "2 {} (1.14 L)", "pt"),
        ("1 {} (470 mL)", "1 {} (570 mL)", "pt"),
        ("2 {} (1 L)", "7 {} (4 L)", "pt"),
        ("3.8 L (1 {})", "4.5 L (1 {})", "gal"),
    ] {
        for (right, text) in [("US", us), ("Imp", imperial)] {
            let wrong = if right == "US" { "Imp" } else { "US" };
            let named = |country: &str| text.replace("{}", &format!("{country} {measure}"));
            clean(&named(right), Dimension::Volume);
            let reading = reading(&named(wrong), Dimension::Volume);
            assert_eq!(reading.faults.iter().map(|fault| fault.kind).collect::<Vec<_>>(), [FaultKind::Disagree], "{}", named(wrong));
            let told = format!("fits {right} {measure}, not {wrong} {measure}");
            assert!(reading.faults[0].remedy.contains(&told), "{}: {}", named(wrong), reading.faults[0].remedy);
            // A bare measure is never guessed, but what stands beside it settles which one is meant.
            let bare = self::reading(&text.replace("{}", measure), Dimension::Volume);
            assert_eq!(bare.faults.iter().map(|fault| fault.kind).collect::<Vec<_>>(), [FaultKind::UnitAmbiguous], "{text}");
            assert_eq!(bare.faults[0].replacement.as_deref(), Some(format!("{right} {measure}").as_str()), "{text}");
        }
    }
    // The two fluid ounces lie 4 % apart: three figures tell them apart, one does not.
    clean("17 US fl oz (500 mL)", Dimension::Volume);
    clean("16.9 US fl oz (500 mL)", Dimension::Volume);
    clean("17.6 Imp fl oz (500 mL)", Dimension::Volume);
    for text in ["16.9 Imp fl oz (500 mL)", "17.6 US fl oz (500 mL)"] {
        assert_eq!(reading(text, Dimension::Volume).faults.len(), 1, "{text}");
    }
}

/// Whole numbers of one digit, by the factors of NIST SP 811, App. B.8: right roundings up to a tenth out are let pass, as shops round.
#[test]
fn one_digit_does_not_agree_with_everything() {
    use Dimension::*;
    for (text, dimension) in [
        ("1 N·m (1 lb·ft)", Torque),
        ("2 N·m (1 lb·ft)", Torque),
        ("2 N·m (2 lb·ft)", Torque),
        ("1 lb·ft (1 N·m)", Torque),
        ("1 bar (1 psi)", Pressure),
        ("1 bar (10 psi)", Pressure),
        ("1 mm (0.05 in)", Length),
        ("1 in (3 cm)", Length),
        ("1 kg (1 lb)", Mass),
        ("1 kg (3 lb)", Mass),
        ("5 lb (2 kg)", Mass),
    ] {
        assert!(!reading(text, dimension).faults.is_empty(), "{text}");
    }
    for (text, dimension) in [
        ("1 N·m (9 lb·in)", Torque),
        ("5 N·m (4 lb·ft)", Torque),
        ("7 N·m (5 lb·ft)", Torque),
        ("2 bar (29 psi)", Pressure),
        ("2 bar (30 psi)", Pressure),
        ("1 bar (15 psi)", Pressure),
        ("1 mm (0.04 in)", Length),
        ("2 in (5 cm)", Length),
        ("6 mm (1/4 in)", Length),
        ("1 kg (2 lb)", Mass),
        ("4 lb (2 kg)", Mass),
    ] {
        clean(text, dimension);
    }
}

/// A prefix that no unit has is never mended by leaving it out: that would change the value by tens, hundreds or thousands.
#[test]
fn no_remedy_changes_a_value_by_a_prefix() {
    for text in ["45 Nmm", "45 N·mm", "4 hNm", "400 µNm", "4 MNm", "4 DNm"] {
        let reading = reading(text, Dimension::Torque);
        assert_eq!(reading.faults.iter().map(|fault| fault.kind).collect::<Vec<_>>(), [FaultKind::UnitUnknown], "{text}");
        assert!(!reading.faults[0].remedy.contains("if that is meant"), "{text}: {}", reading.faults[0].remedy);
        assert_eq!(reading.faults[0].replacement, None);
    }
    // A plain slip of the keyboard is still answered with the unit.
    assert!(reading("45 Nmn", Dimension::Torque).faults[0].remedy.contains("write \"N·m\" if that is meant"));
}

#[test]
fn an_unlabelled_gallon_is_ambiguous_and_decided_only_by_what_stands_beside_it() {
    for (text, replacement) in [("5 gal", None), ("5 gal (18.9 L)", Some("US gal")), ("5 gal (22.7 L)", Some("Imp gal"))] {
        let reading = reading(text, Dimension::Volume);
        assert_eq!(reading.faults.len(), 1, "{text}: {:?}", reading.faults);
        assert_eq!(reading.faults[0].kind, FaultKind::UnitAmbiguous);
        assert_eq!(reading.faults[0].replacement.as_deref(), replacement, "{text}");
        assert!(reading.faults[0].remedy.contains(replacement.unwrap_or("\"US gal\" or \"Imp gal\"")), "{text}");
    }
}

#[test]
fn trade_spellings_of_a_torque_read_to_one_value() {
    // The spellings of truck, car and tractor makers' manuals; the careless "NM" is refused by the test below.
    let rows: [(&str, &[&str]); 9] = [
        (
            "N·m",
            &["N·m", "N m", "Nm", "N-m", "N.m", "Newton metres", "Newton meters", "newton-metre", "N\u{22C5}m", "N\u{2022}m", "N\u{A0}m"],
        ),
        ("N·cm", &["N·cm", "Ncm"]),
        // Decimal prefixes of the SI Brochure, as torque screwdrivers (cN·m), tyre and belt sheets (daN·m) and gauges (dN·m) bear them.
        ("cN·m", &["cN·m", "cNm", "cN m", "cN-m"]),
        ("dN·m", &["dN·m", "dNm", "dN m"]),
        ("daN·m", &["daN·m", "daNm", "daN m", "daN.m"]),
        (
            "lb·ft",
            &[
                "lbf·ft",
                "lb·ft",
                "lb-ft",
                "lb ft",
                "lbs-ft",
                "ft·lbf",
                "ft-lb",
                "ft lb",
                "ft-lbs",
                "ft lbs",
                "ft/lbs",
                "ft. lbs.",
                "foot pounds",
                "foot-pounds",
                "pound-feet",
                "pi-lb",
                "lb-pi",
                "Ft-Lbs",
                "FT-LBS",
            ],
        ),
        ("lb·in", &["lbf·in", "lb-in", "lb in", "in-lb", "in·lbf", "in lbs", "inch pounds", "inch-pounds"]),
        ("kgf·m", &["kgf·m", "kgf-m", "kgm", "kg-m", "m·kg", "mkg", "kp·m"]),
        ("kgf·cm", &["kgf·cm", "kg-cm", "kgcm"]),
    ];
    for (symbol, spellings) in rows {
        for spelling in spellings {
            for text in [format!("12 {spelling}"), format!("12{spelling}"), format!("12\u{A0}{spelling}"), format!("12\u{202F}{spelling}")]
            {
                let quantity = clean(&text, Dimension::Torque);
                assert_eq!(quantity.leading().unit.symbol, symbol, "{text}");
                assert_eq!(quantity.base_bounds(), clean(&format!("12 {symbol}"), Dimension::Torque).base_bounds(), "{text}");
            }
        }
    }
}

#[test]
fn symbols_are_case_sensitive() {
    // NIST SP 811: mN·m is not MN·m, "nm" is a nanometre and "NM" a nautical mile.
    for text in ["45 NM", "45 nm"] {
        let reading = reading(text, Dimension::Torque);
        assert_eq!(reading.faults.iter().map(|fault| fault.kind).collect::<Vec<_>>(), [FaultKind::UnitAmbiguous], "{text}");
    }
    assert_eq!(reading("45 MN·m", Dimension::Torque).faults[0].kind, FaultKind::UnitUnknown);
    assert_eq!(clean("45 mN·m", Dimension::Torque).leading().unit.symbol, "mN·m");
}

#[test]
fn texts_that_mislead_a_unit_library_are_read_as_the_trade_means_them() {
    use Dimension::*;
    for (text, dimension, symbol) in [
        ("9 Nm", Torque, "N·m"),
        ("9 ft*lb", Torque, "lb·ft"),
        ("9 lb*ft", Torque, "lb·ft"),
        ("9 ft-lb", Torque, "lb·ft"),
        ("9 ftlb", Torque, "lb·ft"),
        ("9 lbft", Torque, "lb·ft"),
        ("9 kgm", Torque, "kgf·m"),
        ("9 Ncm", Torque, "N·cm"),
        ("9 mil", Length, "thou"),
        ("9 PS", Power, "PS"),
    ] {
        assert_eq!(clean(text, dimension).leading().unit.symbol, symbol, "{text}");
    }
}

#[test]
fn printed_spelling_follows_nist_sp_811() {
    use Dimension::*;
    // 6.1.3 and 6.1.4: no plural and no full stop; 6.1.5: a half-high dot; 7.2: a space before °C and none before ° of angle.
    for (text, dimension, spelt) in [
        ("33 ft. lbs.", Torque, "33 lb·ft"),
        ("5 Kgs", Mass, "5 kg"),
        ("5 kgs.", Mass, "5 kg"),
        ("85°C", Temperature, "85 °C"),
        ("90 °", Angle, "90°"),
        ("12in.", Length, "12 in"),
        ("3 hrs", Time, "3 h"),
    ] {
        assert_eq!(bayleaf::quantity::spell(&clean(text, dimension)), spelt, "{text}");
    }
}
