//! Holds wiring against values published elsewhere: IEC 60757, ASTM B258, IEC 60028, IEC 60228, ISO 8820-3, 33 CFR 183.425.
//! Every list says where it is from and how well it is known; what is known from memory only is no check here.

use bayleaf::quantity::{Exact, Options, Rounding};
use bayleaf::wiring::{
    Carries, Colour, Gauge, ISO_6722, Insulation, Protection, Run, Section, Surroundings, blade_fuse, blade_fuses, cfr_183_425,
    copper_resistivity, protects, read_colour, read_rating, read_section, voltage_drop,
};

fn section(text: &str) -> Section {
    read_section(text, &Options::default()).unwrap_or_else(|fault| panic!("{text}: {}", fault.message))
}

fn decimal(text: &str) -> (Exact, u32) {
    let decimals = text.split_once('.').map_or(0, |(_, after)| after.len() as u32);
    let digits = text.replace('.', "").parse().expect("digits");
    (Exact::from_decimal(digits, decimals).expect("it fits"), decimals)
}

/// Whether a value, rounded to the digits of a published one, is that.
#[track_caller]
fn as_published(value: Exact, published: &str, what: &str) {
    let (expected, decimals) = decimal(published);
    let rounded = value.rounded(decimals, Rounding::Nearest).and_then(|digits| Exact::from_decimal(digits, decimals));
    assert_eq!(rounded, Some(expected), "{what}: {value} is not {published}");
}

/// The list of IEC 60757:2021, looked up in its public preview and in a public text of the identical GOST 28763-90.
#[test]
fn colours_are_those_of_iec_60757_in_its_order() {
    let list = [
        ("BK", "black"),
        ("BN", "brown"),
        ("RD", "red"),
        ("OG", "orange"),
        ("YE", "yellow"),
        ("GN", "green"),
        ("BU", "blue"),
        ("VT", "violet"),
        ("GY", "grey"),
        ("WH", "white"),
        ("PK", "pink"),
        ("GD", "gold"),
        ("TQ", "turquoise"),
        ("SR", "silver"),
    ];
    assert_eq!(Colour::ALL.map(|colour| (colour.code(), colour.name())), list);
    for (code, name) in list {
        assert_eq!(read_colour(code), read_colour(name));
        assert_eq!(read_colour(name).map(|colour| colour.to_string()), Ok(code.to_owned()));
    }
    // Two colours of one wire are joined, as in RDBU; green with yellow is only GNYE; + joins separate conductors.
    assert_eq!(read_colour("RDBU").map(|colour| colour.words()), Ok("red with blue stripe".to_owned()));
    assert_eq!(read_colour("GNYE").map(|colour| colour.to_string()), Ok("GNYE".to_owned()));
    assert!(read_colour("BK+BK+BN+BU+GNYE").is_err());
}

/// Diameters and areas of ASTM B258 as several public tables print them, and computed from its formula by other hands.
#[test]
fn gauges_are_those_of_astm_b258() {
    let rows = [
        ("4/0", "11.684", "107.22"),
        ("3/0", "10.405", "85.03"),
        ("2/0", "9.266", "67.43"),
        ("1/0", "8.251", "53.48"),
        ("1", "7.348", "42.41"),
        ("2", "6.544", "33.63"),
        ("4", "5.189", "21.15"),
        ("6", "4.115", "13.30"),
        ("8", "3.264", "8.366"),
        ("10", "2.588", "5.261"),
        ("12", "2.053", "3.309"),
        ("14", "1.628", "2.081"),
        ("16", "1.291", "1.309"),
        ("18", "1.024", "0.823"),
        ("20", "0.812", "0.518"),
        ("22", "0.644", "0.326"),
        ("24", "0.511", "0.205"),
    ];
    for (gauge, diameter, area) in rows {
        let Section::Awg(read) = section(&format!("AWG {gauge}")) else { panic!("AWG {gauge} is a gauge") };
        as_published(read.diameter(), diameter, gauge);
        as_published(read.area(), area, gauge);
    }
    assert_eq!(Gauge::new(41), None);
}

/// 1/58 Ω·mm²/m at 20 °C and 0.00393 for each degree: IEC 60028, looked up in two public places. The resistances of gauges were computed
/// by other hands from the constant rounded to 0.017241, so they check the sum to a part in ten thousand, and not the constant.
#[test]
fn copper_resists_as_in_iec_60028() {
    as_published(copper_resistivity(Exact::whole(20)).expect("a value"), "0.017241", "copper at 20 °C");
    let warmer = copper_resistivity(Exact::whole(60)).and_then(|hot| hot.over(copper_resistivity(Exact::whole(20))?));
    as_published(warmer.expect("a ratio"), "1.157", "60 °C against 20 °C");
    for (gauge, milliohms) in [("4/0", "0.161"), ("4", "0.815"), ("10", "3.277"), ("14", "8.285"), ("18", "20.95"), ("24", "84.21")] {
        let ohms = section(&format!("{gauge} AWG")).resistance(Exact::whole(20)).expect("a value");
        let (expected, decimals) = decimal(milliohms);
        let off = ohms.times(Exact::whole(1000)).and_then(|ours| ours.minus(expected)).expect("it fits").magnitude();
        let last_digit = Exact::place(decimals).and_then(|place| place.times(Exact::ratio(1, 2)));
        let room = last_digit.and_then(|half| half.plus(expected.times(Exact::place(4)?)?)).expect("it fits");
        assert!(off <= room, "AWG {gauge}: {off} off {milliohms}");
    }
}

/// The largest resistance that IEC 60228 allows flexible plain copper of class 5, looked up in a public page: pure copper of the nominal
/// area must be below it, and not far below.
#[test]
fn cables_may_resist_a_little_more_than_copper_of_their_section() {
    let rows = [
        ("0.5", "39.0"),
        ("0.75", "26.0"),
        ("1", "19.5"),
        ("1.5", "13.3"),
        ("2.5", "7.98"),
        ("4", "4.95"),
        ("6", "3.30"),
        ("10", "1.91"),
        ("16", "1.21"),
        ("25", "0.78"),
    ];
    for (area, milliohms) in rows {
        let section = section(&format!("{area} mm²"));
        assert!(section.is_iso_6722() && ISO_6722.contains(&section.area()), "{area} mm² is a common section of ISO 6722");
        let copper = section.resistance(Exact::whole(20)).and_then(|ohms| ohms.times(Exact::whole(1000))).expect("a value");
        let share = copper.over(decimal(milliohms).0).expect("a share");
        assert!(share < Exact::ONE && share > Exact::ratio(85, 100), "{area} mm²: {copper} against {milliohms}");
    }
    // ISO 6722-1 allows 12.7 mΩ/m for 1.5 mm², the one row of it that was looked up.
    assert!(section("1.5 mm²").resistance(Exact::whole(20)) < Some(Exact::ratio(127, 10_000)));
}

/// The textbook formula worked out by other hands with ρ = 1/58.
#[test]
fn drops_are_those_of_the_worked_examples() {
    let twelve = Exact::whole(12);
    for (amperes, wire, volts, per_cent) in [(10, "2.5 mm²", "0.690", "5.75 %"), (20, "4 mm²", "0.862", "7.18 %")] {
        let run = Run {
            length: Exact::whole(5),
            current: Exact::whole(amperes),
            section: section(wire),
            celsius: Exact::whole(20),
            system: twelve,
        };
        let drop = voltage_drop(run).expect("a drop");
        as_published(drop.volts, volts, wire);
        assert_eq!(drop.per_cent(), per_cent);
        let hot = voltage_drop(Run { celsius: Exact::whole(60), ..run }).expect("a drop");
        as_published(hot.volts.over(drop.volts).expect("a ratio"), "1.157", "the same at 60 °C");
    }
}

/// ISO 8820-3 as public charts of makers give it; 35 A and 40 A are known from memory only, so nothing may be said of them.
#[test]
fn blade_fuses_have_the_colours_of_iso_8820_3() {
    let rows = [
        ("1 A", "black"),
        ("2 A", "grey"),
        ("3 A", "violet"),
        ("4 A", "pink"),
        ("5 A", "tan"),
        ("7.5 A", "brown"),
        ("10 A", "red"),
        ("15 A", "blue"),
        ("20 A", "yellow"),
        ("25 A", "clear"),
        ("30 A", "green"),
    ];
    assert_eq!(blade_fuses().len(), rows.len());
    for (text, colour) in rows {
        let rating = read_rating(text, &Options::default()).expect(text);
        assert_eq!(blade_fuse(rating).map(|fuse| fuse.housing.name()), Some(colour), "{text}");
    }
    assert_eq!(blade_fuse(Exact::whole(35)), None);
    assert_eq!(blade_fuse(Exact::whole(40)), None);
}

/// 33 CFR 183.425, Table 5: the regulation's text was looked up as two public law sites print it; the rows for engine spaces as a cable
/// seller and a builder's page print them.
#[test]
fn permissible_currents_are_those_of_the_regulation() {
    let open = cfr_183_425(Insulation::Celsius105, Surroundings::Open).expect("a table");
    let engine = cfr_183_425(Insulation::Celsius105, Surroundings::EngineSpace).expect("a table");
    for (gauge, outside, inside) in [("AWG 10", 60, 51), ("AWG 6", 120, 102)] {
        let current = |carries| match carries {
            Carries::Stated(row) => row.current,
            Carries::Between { .. } => panic!("{gauge} has a row"),
        };
        assert_eq!(current(open.of(&section(gauge))), Exact::whole(outside));
        assert_eq!(current(engine.of(&section(gauge))), Exact::whole(inside));
    }
    let lowest = cfr_183_425(Insulation::Celsius60, Surroundings::Open).expect("a table");
    let fifteen = Exact::whole(15);
    assert!(matches!(protects(fifteen, &section("AWG 16"), &lowest), Protection::Protects { .. }));
    assert!(matches!(protects(fifteen, &section("AWG 18"), &lowest), Protection::Over { .. }));
    // 1 mm² lies between AWG 18 with 10 A and AWG 16 with 15 A: for 15 A the table does not settle it.
    assert!(matches!(protects(fifteen, &section("1 mm²"), &lowest), Protection::Unknown { .. }));
    assert!(matches!(protects(Exact::whole(10), &section("1 mm²"), &lowest), Protection::Protects { .. }));
}
