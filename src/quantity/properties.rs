//! Properties that hold for every value and every text: what is printed reads back, conversions undo each other, nothing panics.
//! Single cases with known answers are left to the tests beside the code and to the outside tests.

use proptest::prelude::*;

use super::exact::Exact;
use super::number::{Number, Written};
use super::print::convert_form;
use super::*;

const SIGNED: [Dimension; 4] = [Dimension::Voltage, Dimension::Current, Dimension::TemperatureDifference, Dimension::Angle];

fn any_unit() -> impl Strategy<Value = &'static Unit> {
    (0..units().len()).prop_map(|place| &units()[place])
}

fn any_number() -> impl Strategy<Value = Number> {
    let decimal = (0_i64..100_000, 0_u32..5).prop_filter_map("fits", |(digits, decimals)| Number::decimal(i128::from(digits), decimals));
    let fraction = (0_i128..20, 1_i128..64, prop::sample::select(vec![2_u32, 4, 8, 16, 32, 64]))
        .prop_filter_map("fits", |(whole, over, under)| {
            Some(Number::fraction(Exact::fraction(whole * i128::from(under) + over, i128::from(under))?, under))
        });
    prop_oneof![4 => decimal, 1 => fraction]
}

fn any_form() -> impl Strategy<Value = Form> {
    prop_oneof![
        any_number().prop_map(Form::Single),
        any_number().prop_map(Form::Max),
        any_number().prop_map(Form::Min),
        (any_number(), any_number()).prop_map(|(a, b)| if a.value <= b.value { Form::Range(a, b) } else { Form::Range(b, a) }),
        (any_number(), any_number(), any_number()).prop_map(|(nominal, plus, minus)| Form::Tolerance { nominal, plus, minus }),
    ]
}

fn negated(form: &Form) -> Form {
    let minus = |number: &Number| Number { value: number.value.negated(), ..*number };
    match form {
        Form::Single(number) => Form::Single(minus(number)),
        Form::Max(number) => Form::Max(minus(number)),
        Form::Min(number) => Form::Min(minus(number)),
        Form::Range(low, high) => Form::Range(minus(high), minus(low)),
        Form::Tolerance { nominal, plus, minus: below } => Form::Tolerance { nominal: minus(nominal), plus: *plus, minus: *below },
    }
}

prop_compose! {
    fn any_quantity()(unit in any_unit(), form in any_form(), below in any::<bool>(), beside in any_unit(), turn in 1_i128..360, turned in any::<bool>()) -> Quantity {
        let form = if below && SIGNED.contains(&unit.dimension) { negated(&form) } else { form };
        let mut statements = vec![Statement { form: form.clone(), unit, range: 0..0 }];
        if beside.dimension == unit.dimension && let Some(form) = convert_form(&form, unit, beside) {
            statements.push(Statement { form, unit: beside, range: 0..0 });
        }
        let angle = (turned && unit.dimension == Dimension::Torque).then(|| Statement {
            form: Form::Single(Number::decimal(turn, 0).expect("it fits")),
            unit: super::unit(Dimension::Angle, "°").expect("it is in the table"),
            range: 0..0,
        });
        Quantity { dimension: unit.dimension, statements, angle }
    }
}

// Pieces that values are made of, so that random texts come near to being values.
fn near_value() -> impl Strategy<Value = String> {
    let pieces = vec![
        "12",
        "1 500",
        "0.5",
        ".5",
        "1,5",
        "½",
        "1 1/8",
        "3/8-16",
        "-",
        "–",
        "−",
        "..",
        "…",
        " to ",
        " ± ",
        "+",
        "/",
        "+2/-1",
        "%",
        "N·m",
        "Nm",
        "lb-ft",
        "ft. lbs.",
        "in",
        "\"",
        "'",
        "°",
        "°C",
        "mm",
        "µm",
        "h",
        "min",
        "max. ",
        "≤",
        "between ",
        " and ",
        "(",
        ")",
        ",",
        " ",
        "\u{A0}",
        "\u{202F}",
        "about ",
        "gal",
        "kg",
        "lb",
        "Ω",
        "é",
        "汉",
        "🔧",
        "M8",
        "bolts ",
        "SB-40",
        ".",
        "999999999999999",
        "1.500",
        "99999999999999999999999999999999999999999999",
        "0",
    ];
    prop::collection::vec(prop::sample::select(pieces), 0..12).prop_map(|pieces| pieces.concat())
}

fn hold_text(text: &str) -> Result<(), TestCaseError> {
    for decimal_comma in [false, true] {
        for dimension in Dimension::ALL {
            let reading = read(text, dimension, &Options { decimal_comma, default_unit: None });
            for fault in &reading.faults {
                prop_assert!(text.get(fault.range.clone()).is_some(), "{fault:?} in {text:?}");
                prop_assert!(!fault.message.is_empty() && !fault.remedy.is_empty());
            }
            prop_assert!(reading.quantity.is_some() || !reading.faults.is_empty(), "{text:?} is passed over in silence");
            if let Some(quantity) = reading.quantity {
                for order in [Order::MetricFirst, Order::ImperialFirst] {
                    print(&quantity, order, decimal_comma);
                }
                duration_iso(&quantity);
                duration_words(&quantity);
                let spelt = spell(&quantity);
                if reading.faults.is_empty() {
                    let again = read(&spelt, dimension, &Options::default());
                    prop_assert_eq!(again.faults, vec![], "{:?} became {:?}", text, spelt);
                    prop_assert_eq!(again.quantity, Some(quantity), "{:?} became {:?}", text, spelt);
                }
            }
        }
        let mut end = 0;
        for found in scan(text, &Options { decimal_comma, default_unit: None }) {
            prop_assert!(text.get(found.range.clone()).is_some() && found.range.start >= end, "{found:?} in {text:?}");
            end = found.range.end;
        }
    }
    Ok(())
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(400) })]

    #[test]
    fn what_is_spelt_reads_back(quantity in any_quantity()) {
        let spelt = spell(&quantity);
        let reading = read(&spelt, quantity.dimension, &Options::default());
        prop_assert_eq!(reading.faults, vec![], "{}", spelt);
        prop_assert_eq!(reading.quantity, Some(quantity), "{}", spelt);
    }

    #[test]
    fn conversions_there_and_back_are_exact(unit in any_unit(), other in any_unit(), number in any_number()) {
        if unit.dimension == other.dimension {
            let there = unit.convert(number.value, other);
            prop_assert!(there.is_some());
            prop_assert_eq!(there.and_then(|there| other.convert(there, unit)), Some(number.value));
        }
    }

    #[test]
    fn what_is_converted_agrees_and_stays_inside(unit in any_unit(), other in any_unit(), form in any_form()) {
        if unit.dimension == other.dimension && let Some(converted) = convert_form(&form, unit, other) {
            let (a, b) = (Statement { form, unit, range: 0..0 }, Statement { form: converted, unit: other, range: 0..0 });
            prop_assert!(agree(&a, &b), "{:?} and {:?}", a, b);
            let ((low, high), (new_low, new_high)) = (a.base_bounds(), b.base_bounds());
            let narrow = |form: &Form| matches!(form, Form::Range(low, high) if low.value == high.value);
            if !matches!(a.form, Form::Single(_)) && !narrow(&b.form) {
                prop_assert!(low.is_none() || new_low >= low, "{:?} and {:?}", a, b);
                prop_assert!(high.is_none() || new_high <= high, "{:?} and {:?}", a, b);
            }
        }
    }

    #[test]
    fn no_text_panics(text in "\\PC{0,40}") {
        hold_text(&text)?;
    }

    #[test]
    fn no_text_like_a_value_panics(text in near_value()) {
        hold_text(&text)?;
    }

    #[test]
    fn exact_numbers_never_panic(a in any::<i128>(), b in any::<i128>(), c in any::<i128>(), d in any::<i128>(), places in 0_u32..60) {
        if let (Some(x), Some(y)) = (Exact::fraction(a, b), Exact::fraction(c, d)) {
            let _ = (x.plus(y), x.minus(y), x.times(y), x.over(y), x.negated(), x.to_string(), x < y, x.rounded(places, Rounding::Nearest));
        }
    }

    #[test]
    fn numbers_keep_their_digits(digits in 0_i128..1_000_000, decimals in 0_u32..8) {
        let number = Number::decimal(digits, decimals).expect("it fits");
        prop_assert_eq!(number.written, Written::Decimal { decimals });
        let text = format!("{} mm", number.print('.'));
        let quantity = read(&text, Dimension::Length, &Options::default()).quantity;
        prop_assert_eq!(quantity.map(|quantity| quantity.statements[0].form.clone()), Some(Form::Single(number)));
    }
}

#[test]
fn every_unit_of_the_trade_has_its_counterpart_in_the_other_system() {
    let counterpart = |symbol: &str| {
        let unit = units().iter().find(|unit| unit.symbol == symbol).unwrap_or_else(|| panic!("no unit {symbol}"));
        let reading = read(&format!("12 {symbol}"), unit.dimension, &Options::default());
        let quantity = reading.quantity.unwrap_or_else(|| panic!("{symbol}: {:?}", reading.faults));
        super::print::counterpart(quantity.leading()).map(|unit| unit.symbol)
    };
    for (symbols, other) in [
        ("ft yd", "m"),
        ("mm cm", "in"),
        ("lbf ozf", "N"),
        ("N kN daN kgf", "lbf"),
        ("psi", "bar"),
        ("in³", "cm³"),
        ("hp", "kW"),
        ("kW PS", "hp"),
        ("°C", "°F"),
    ] {
        symbols.split(' ').for_each(|symbol| assert_eq!(counterpart(symbol), Some(other), "{symbol}"));
    }
    for symbol in ["US gal", "US qt", "US pt", "Imp gal", "Imp qt", "Imp pt"] {
        assert_eq!(counterpart(symbol), Some("L"), "{symbol}");
    }
    for symbol in ["US fl oz", "Imp fl oz"] {
        assert_eq!(counterpart(symbol), Some("mL"), "{symbol}");
    }
    // Where the wrench marked in lb·in ends, at 15 N·m.
    let torque = |text: &str| {
        let reading = read(text, Dimension::Torque, &Options::default());
        super::print::counterpart(reading.quantity.unwrap().leading()).map(|unit| unit.symbol)
    };
    assert_eq!((torque("14.9 N·m"), torque("15 N·m")), (Some("lb·in"), Some("lb·ft")));
}

#[test]
fn signs_of_fractions_and_cubes_are_read_for_what_they_are() {
    for (sign, over, under) in [
        ('½', 1, 2),
        ('¼', 1, 4),
        ('¾', 3, 4),
        ('⅛', 1, 8),
        ('⅜', 3, 8),
        ('⅝', 5, 8),
        ('⅞', 7, 8),
        ('⅓', 1, 3),
        ('⅔', 2, 3),
        ('⅕', 1, 5),
        ('⅖', 2, 5),
        ('⅗', 3, 5),
        ('⅘', 4, 5),
        ('⅙', 1, 6),
        ('⅚', 5, 6),
    ] {
        let reading = read(&format!("{sign} in"), Dimension::Length, &Options::default());
        let value = reading.quantity.as_ref().map(|quantity| quantity.leading().form.numbers()[0].value);
        assert_eq!(value, Some(Exact::ratio(over, under)), "{sign}: {:?}", reading.faults);
    }
    let cubes = read("5 cm³", Dimension::Volume, &Options::default());
    assert_eq!(cubes.quantity.unwrap().leading().unit.symbol, "cm³");
}

#[test]
fn exact_values_are_told_as_decimals_and_estimated() {
    assert_eq!(decimal(Exact::ratio(5, 2)).as_deref(), Some("2.5"));
    assert_eq!(decimal(Exact::ratio(1, 3)).as_deref(), Some("0.333333"));
    assert!((Exact::ratio(1, 3).estimate() - 1.0 / 3.0).abs() < 1e-12);
    assert!((Exact::ratio(-7, 4).estimate() + 1.75).abs() < 1e-12);
    assert!(!Exact::ZERO.is_negative() && Exact::ratio(-1, 9).is_negative());
}
