//! Values with a unit, as they are said: figures and number words, ranges, fractions, sizes of threads.

use super::talk::Talk;
use crate::narration::End;
use crate::wording::number::{self, Number};

/// What is measured.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Kind {
    /// A tightening torque.
    Torque,
    /// A size of a thread, a tool, a drill or a hole.
    Size,
    /// Any other length.
    Length,
    /// An area of a conductor.
    Area,
    /// A pressure.
    Pressure,
    /// A volume.
    Volume,
    /// A time.
    Time,
    /// A voltage.
    Voltage,
    /// A current.
    Current,
    /// An angle.
    Angle,
    /// A temperature.
    Temperature,
    /// A mass.
    Mass,
    /// A power.
    Power,
    /// A resistance.
    Resistance,
    /// A distance driven.
    Distance,
    /// A speed, of turning or driving.
    Speed,
}

/// A value that was said.
#[derive(Clone, Debug)]
pub struct Value {
    /// The figure, as digits.
    pub value: String,
    /// The other end of a range.
    pub to: Option<String>,
    /// The unit; none of a thread.
    pub unit: Option<&'static str>,
    /// What is measured.
    pub kind: Kind,
    /// Its words in the narration.
    pub place: std::ops::Range<usize>,
    /// Why it is doubtful.
    pub doubt: Option<String>,
    /// Its words in the talk.
    pub(super) range: std::ops::Range<usize>,
    /// The figure, to compare by.
    pub(super) figure: f64,
}

/// A unit at words of the talk: how it is written, what it measures, how many words it takes.
fn unit(talk: &Talk<'_>, at: usize) -> Option<(&'static str, Kind, usize, bool)> {
    let (first, second, third) = (talk.word(at), talk.word(at + 1), talk.word(at + 2));
    let open = talk.end(at) < End::Stop;
    let two = |sure: bool, name, kind| Some((name, kind, 2, sure));
    let one = |name, kind| Some((name, kind, 1, true));
    if open {
        match (first, second) {
            ("newton" | "newtons", "metre" | "metres" | "meter" | "meters" | "m") => return two(true, "N·m", Kind::Torque),
            ("foot" | "feet" | "ft" | "pound" | "pounds", "pound" | "pounds" | "lb" | "lbs" | "feet" | "foot" | "lbf" | "ft") => {
                return two(true, "ft·lbf", Kind::Torque);
            }
            ("inch" | "in", "pound" | "pounds" | "lb" | "lbs" | "lbf") => return two(true, "in·lbf", Kind::Torque),
            ("square", "mil" | "mm" | "millimetre" | "millimetres" | "millimeter" | "millimeters" | "mill") => {
                return two(true, "mm²", Kind::Area);
            }
            ("mil" | "mm" | "millimetre" | "millimetres" | "millimeters", "squared" | "square") => return two(true, "mm²", Kind::Area),
            ("american" | "awg", "gauge") => return two(true, "AWG", Kind::Area),
            ("degrees" | "degree" | "°", "c" | "celsius" | "centigrade") => return two(true, "°C", Kind::Temperature),
            ("degrees" | "degree" | "°", "f" | "fahrenheit") => return two(true, "°F", Kind::Temperature),
            ("us", "quarts" | "quart" | "qt") => return two(true, "US qt", Kind::Volume),
            ("amp" | "amps", "hours" | "hour") => return None,
            ("pounds" | "pound", "per") if third == "square" => return Some(("psi", Kind::Pressure, 4, true)),
            ("p", "s") if third == "i" => return Some(("psi", Kind::Pressure, 3, true)),
            ("newton" | "newtons", _) => return Some(("N·m", Kind::Torque, 1, false)),
            _ => {}
        }
    }
    match first {
        "nm" | "n·m" | "n.m" | "newton-metres" | "newton-metre" | "newton-meters" | "newtonmetres" | "nms" => one("N·m", Kind::Torque),
        "ft-lb" | "ft-lbs" | "ft·lb" | "ft·lbf" | "ft.lb" | "ft.lbs" | "lb-ft" | "lb·ft" | "lbf·ft" | "ftlb" | "ftlbs" | "lbft"
        | "lbf-ft" | "ft/lb" | "ft/lbs" | "ft-lbf" | "foot-pounds" | "foot-pound" => one("ft·lbf", Kind::Torque),
        "in-lb" | "in-lbs" | "in·lb" | "in·lbf" | "lb-in" | "lb·in" | "lbf·in" | "inlb" | "inlbs" | "in-lbf" | "inch-pounds" => {
            one("in·lbf", Kind::Torque)
        }
        "newtons" | "newton" => Some(("N·m", Kind::Torque, 1, false)),
        "mm" | "mil" | "mill" | "millimetre" | "millimetres" | "millimeter" | "millimeters" | "mm's" => one("mm", Kind::Length),
        "cm" | "centimetre" | "centimetres" | "centimeter" | "centimeters" | "centi" => one("cm", Kind::Length),
        "m" | "metre" | "metres" | "meter" | "meters" => one("m", Kind::Length),
        "inch" | "inches" | "in" | "\"" | "ins"
            if first != "in" || !second_is_words(talk, at) && talk.before(at, 1).starts_with(|c: char| c.is_ascii_digit()) =>
        {
            one("in", Kind::Length)
        }
        "foot" | "feet" | "ft" => one("ft", Kind::Length),
        "mm²" | "mm2" | "mm^2" | "sqmm" | "squared" | "square" if first != "square" || talk.word(at + 1) != "one" => {
            one("mm²", Kind::Area)
        }
        "gauge" | "awg" => one("AWG", Kind::Area),
        "bar" | "bars" => one("bar", Kind::Pressure),
        "psi" => one("psi", Kind::Pressure),
        "kpa" | "kilopascals" => one("kPa", Kind::Pressure),
        "litre" | "litres" | "liter" | "liters" | "l" => one("L", Kind::Volume),
        "quart" | "quarts" | "qt" | "qts" => one("US qt", Kind::Volume),
        "ml" | "millilitre" | "millilitres" | "milliliters" | "cc" | "ccs" => one("mL", Kind::Volume),
        "minute" | "minutes" | "min" | "mins" => one("min", Kind::Time),
        "hour" | "hours" | "hr" | "hrs" | "h" => one("h", Kind::Time),
        "second" | "seconds" | "sec" | "secs" | "s" => one("s", Kind::Time),
        "volt" | "volts" | "v" => one("V", Kind::Voltage),
        "amp" | "amps" | "a" | "ampere" | "amperes" if first != "a" || written_a(talk, at) => one("A", Kind::Current),
        "watt" | "watts" | "w" => one("W", Kind::Power),
        "ohm" | "ohms" | "ω" => one("Ω", Kind::Resistance),
        "degree" | "degrees" | "°" => one("°", Kind::Angle),
        "°c" | "c" => one("°C", Kind::Temperature),
        "°f" => one("°F", Kind::Temperature),
        "kg" | "kilo" | "kilos" | "kilogram" | "kilograms" | "kgs" => one("kg", Kind::Mass),
        "lb" | "lbs" | "pound" | "pounds" => one("lb", Kind::Mass),
        "gallon" | "gallons" | "gal" => one("US gal", Kind::Volume),
        "ounce" | "ounces" | "oz" => one("US fl oz", Kind::Volume),
        "rpm" | "revs" => one("rpm", Kind::Speed),
        "km/h" | "kph" => one("km/h", Kind::Speed),
        "day" | "days" => one("d", Kind::Time),
        "turn" if matches!(talk.before(at, 1), "quarter" | "half" | "quarters" | "a" | "an") || talk.before(at, 1).contains('/') => {
            one("turn", Kind::Angle)
        }
        "fahrenheit" => one("°F", Kind::Temperature),
        "celsius" | "centigrade" => one("°C", Kind::Temperature),
        "km" | "kilometres" | "kilometers" | "k" if first != "k" => one("km", Kind::Distance),
        "mile" | "miles" => one("mi", Kind::Distance),
        _ => None,
    }
}

/// `in` behind a figure is an inch only where no words go on: `4 in the roof` counts holes.
fn second_is_words(talk: &Talk<'_>, at: usize) -> bool {
    talk.end(at) == End::None
        && !matches!(talk.word(at + 1), "from" | "deep" | "long" | "wide" | "x" | "by" | "to" | "drill" | "hole" | "clearance" | "square")
}

/// `20 A`: the letter as written in capitals.
fn written_a(talk: &Talk<'_>, at: usize) -> bool {
    talk.words.get(at).is_some_and(|word| talk.narration.words[word.from].written.starts_with('A'))
}

/// Words between the ends of a range.
fn is_to(word: &str) -> bool {
    matches!(word, "to" | "till" | "through")
}

/// Words that a size stands in front of.
fn sized(talk: &Talk<'_>, at: usize) -> bool {
    let word = crate::wording::lexicon::singular(talk.word(at));
    matches!(
        word.as_str(),
        "bolt"
            | "nut"
            | "screw"
            | "socket"
            | "spanner"
            | "wrench"
            | "head"
            | "drill"
            | "bit"
            | "hex"
            | "allen"
            | "hole"
            | "pilot"
            | "holesaw"
            | "stud"
            | "washer"
            | "one"
            | "drive"
            | "cutter"
            | "key"
            | "step"
            | "flange"
            | "self"
            | "cap"
            | "ring"
            | "rivet"
            | "rivnut"
            | "af"
            | "ratchet"
            | "grommet"
            | "cobalt"
            | "hss"
            | "clearance"
            | "deep"
            | "final"
            | "bolt's"
            | "set"
            | "setscrew"
            | "tap"
            | "plain"
            | "penny"
            | "twist"
            | "wood"
            | "jubilee"
            | "fixing"
            | "extension"
            | "hose"
            | "thread"
            | "gland"
            | "driver"
            | "nyloc"
            | "lock"
            | "spade"
            | "eyelet"
            | "breaker"
            | "reducer"
    )
}

/// The numbers at a place, and how many words they take. Two numbers behind each other are a count and a size in front of millimetres.
fn number_at(talk: &Talk<'_>, at: usize) -> Option<(Number, usize)> {
    let to = (at + 10).min(talk.len());
    // A sentence ends a number, and so does a comma.
    let last = (at..to).find(|nth| talk.end(*nth) >= End::Comma).map_or(to, |nth| nth + 1);
    let words: Vec<&str> = (at..last).map(|nth| talk.word(nth)).collect();
    let (number, taken) = number::read(&words)?;
    if number.joined {
        let behind = at + taken;
        let thread = |word: &str| word.starts_with('m') && word[1..].starts_with(|c: char| c.is_ascii_digit());
        if matches!(unit(talk, behind), Some(("mm" | "in", _, used, _)) if sized(talk, behind + used) || number.value >= 210.0 && number.value % 100.0 < 33.0)
            || thread(talk.word(behind))
        {
            return number::whole(words[0]).map(|one| (Number { text: one.to_string(), value: f64::from(one), joined: false }, 1));
        }
    }
    Some((number, taken))
}

/// Whether a value is taken back at once: `six inches, no, four inches`.
fn taken_back(talk: &Talk<'_>, value: &Value) -> bool {
    let next = value.range.end;
    match talk.word(next) {
        "no" => {
            !matches!(
                talk.word(next + 1),
                "more"
                    | "less"
                    | "need"
                    | "problem"
                    | "further"
                    | "longer"
                    | "trouble"
                    | "point"
                    | "matter"
                    | "closer"
                    | "bother"
                    | "drilling"
                    | "rattles"
            ) || talk.word(next + 1) == "less" && talk.word(next + 2) != "than"
        }
        "sorry" | "scratch" => true,
        "wait" => talk.end(next - 1) < End::Stop,
        _ => false,
    }
}

/// Everything in the talk that is a value.
pub(super) fn read(talk: &Talk<'_>) -> Vec<Value> {
    let mut found = figures(talk);
    // Figures of hundreds in front of millimetres are millimetres too.
    let mut more = Vec::new();
    for at in 0..talk.len() {
        let taken = |value: &Value| value.range.contains(&at);
        if found.iter().any(taken) || more.iter().any(taken) {
            continue;
        }
        let next = found
            .iter()
            .find(|value| value.range.start > at)
            .filter(|value| value.range.start < at + 22 && value.unit == Some("mm") && value.kind == Kind::Length);
        let led = matches!(talk.before(at, 1), "gives" | "is" | "by" | "be" | "and" | "had" | "at" | "was" | "to");
        let hundreds = || {
            number_at(talk, at).filter(|(number, taken)| {
                number.value >= 100.0 && number.value < 6000.0 && *taken > 1 && !talk.word(at + taken).starts_with("page")
            })
        };
        if let (Some(next), true) = (next, led)
            && let Some((number, taken)) = hundreds()
        {
            let mut value = make(talk, at, at + taken, &number, None, "mm", Kind::Length);
            value.doubt = Some("no unit was said: mm?".to_owned());
            let _ = next;
            more.push(value);
        }
    }
    found.extend(more);
    found.sort_by_key(|value| value.range.start);
    found.retain(|value| !taken_back(talk, value));
    found
}

fn figures(talk: &Talk<'_>) -> Vec<Value> {
    let mut found = Vec::new();
    let mut at = 0;
    while at < talk.len() {
        let last: Option<&Value> = found.iter().rev().find(|value: &&Value| value.unit.is_some());
        let implied = || last.filter(|last| last.range.end + 28 > at).and_then(|last| implied(talk, at, last));
        match value_at(talk, at).or_else(|| one_of(talk, at)).or_else(implied) {
            Some(value) => {
                at = value.range.end.max(at + 1);
                found.push(value);
            }
            None => at += 1,
        }
    }
    found
}

/// A value that begins at a word.
pub(super) fn value_at(talk: &Talk<'_>, at: usize) -> Option<Value> {
    if let Some(value) = thread(talk, at).or_else(|| gauge(talk, at)) {
        return Some(value);
    }
    // `M12 x 40`: the length behind a thread.
    if at >= 2
        && matches!(talk.before(at, 1), "x" | "by" | "×")
        && talk.end(at - 1) == End::None
        && (thread(talk, at - 2).is_some() || talk.before(at, 2).ends_with(".25") || talk.before(at, 2).ends_with(".5"))
        && let Some((number, taken)) = number_at(talk, at)
        && number.value >= 6.0
        && unit(talk, at + taken).is_none()
    {
        return Some(make(talk, at, at + taken, &number, None, "mm", Kind::Length));
    }
    let word = talk.word(at);
    // `3/8"`
    if let Some(inches) = word.strip_suffix(['"', '\u{201d}']).and_then(number::digits) {
        return Some(make(talk, at, at + 1, &inches, None, "in", Kind::Length));
    }
    if matches!(word, "oh" | "a" | "an" | "hundred" | "half" | "quarter" | "third") && number_at(talk, at).is_none() {
        return None;
    }
    let (first, taken) = number_at(talk, at)?;
    let mut next = at + taken;
    // `the third one` is no third.
    if first.text == "1/3" && !matches!(talk.word(next), "of") {
        return None;
    }
    // `40 mm to 45 mm`, `11 to 14 foot pounds`
    let unit_first = unit(talk, next);
    let open = |next: usize| next > at && talk.end(next - 1) < End::Comma;
    if let Some(value) = compound(talk, at, &first, next) {
        return Some(value);
    }
    if let Some((name, kind, used, sure)) = unit_first.filter(|_| open(next) || taken > 0 && talk.end(next - 1) == End::None) {
        if word == "a" && kind == Kind::Time && name == "s" {
            return None;
        }
        next += used;
        // `in` of `in pounds`
        let mut value = make(talk, at, next, &first, None, name, kind);
        if is_to(talk.word(next))
            && talk.end(next - 1) < End::Comma
            && let Some((second, more)) = number_at(talk, next + 1)
            && let Some((other, _, used, _)) = unit(talk, next + 1 + more)
            && other == name
            && second.value > first.value
        {
            value = make(talk, at, next + 1 + more + used, &first, Some(&second), name, kind);
        }
        if !sure {
            value.doubt = Some("newtons is no unit of torque: newton metres?".to_owned());
        }
        return Some(settle(talk, value));
    }
    let joins = is_to(talk.word(next))
        || talk.word(next) == "or" && open(next)
        || talk.word(next) == "and" && talk.before(at, 1) == "between"
        || matches!(talk.word(next), "-" | "–");
    if joins
        && open(next)
        && let Some((second, more)) = number_at(talk, next + 1)
        && let Some((name, kind, used, sure)) = unit(talk, next + 1 + more)
        && second.value > first.value
        && talk.end(next + more) < End::Comma
    {
        let mut value = make(talk, at, next + 1 + more + used, &first, Some(&second), name, kind);
        if !sure {
            value.doubt = Some("newtons is no unit of torque: newton metres?".to_owned());
        }
        return Some(settle(talk, value));
    }
    // `five eighths heads`, `a two and a quarter hole saw`: fractions of that sort are inches.
    let (_, below) = first.text.rsplit_once('/').unwrap_or_default();
    let sort = matches!(below, "8" | "16" | "32" | "64")
        || !below.is_empty() && sized(talk, next)
        || first.text.contains('.')
            && taken > 1
            && talk.word(next - 1) != "point"
            && taken > 2
            && sized(talk, next)
            && !talk.word(at).starts_with(|c: char| c.is_ascii_digit())
            && !(at..next).any(|at| talk.word(at) == "point");
    if sort && (open(next) || talk.end(next - 1) >= End::Comma) && !matches!(talk.word(next), "of" | "turn" | "turns" | "the" | "past") {
        let mut value = make(talk, at, next, &first, None, "in", Kind::Length);
        value.doubt = (!sized(talk, next)).then(|| "no unit was said: inches?".to_owned());
        return Some(settle(talk, value));
    }
    // `ten by forty mil`: each is a length of its own.
    if matches!(talk.word(next), "by" | "x")
        && open(next)
        && let Some((_, more)) = number_at(talk, next + 1)
        && let Some((name, kind @ Kind::Length, _, _)) = unit(talk, next + 1 + more)
    {
        return Some(settle(talk, make(talk, at, next, &first, None, name, kind)));
    }
    None
}

/// Values of two units: `three metres sixty`, `three metres and four centimetres`, `six foot six`, `four hours ten`, `inch and a half`.
fn compound(talk: &Talk<'_>, at: usize, first: &Number, next: usize) -> Option<Value> {
    let (name, kind, used, _) = unit(talk, next)?;
    if talk.end(next + used - 1) >= End::Comma || first.text.contains(['/', '.']) {
        return None;
    }
    let mut behind = next + used;
    let and = talk.word(behind) == "and";
    if and && talk.end(behind) == End::None {
        behind += 1;
    }
    let (second, taken) = number_at(talk, behind)?;
    let other = unit(talk, behind + taken).filter(|_| talk.end(behind + taken - 1) == End::None);
    let fraction = second.text.contains('/') && second.value < 1.0;
    let (value, text, to) = match (name, other) {
        // `two inches and a half`
        (_, None) if and && fraction => (first.value + second.value, format!("{} {}", first.text, second.text), behind + taken),
        ("m", Some(("cm", _, used, _))) => (first.value + second.value / 100.0, String::new(), behind + taken + used),
        ("m", None) if !and && (10.0..100.0).contains(&second.value) && second.value.fract() == 0.0 => {
            (first.value + second.value / 100.0, String::new(), behind + taken)
        }
        ("ft", None) if !and && second.value < 12.0 && second.value.fract() == 0.0 && !sized(talk, behind + taken) => {
            (first.value + second.value / 12.0, String::new(), behind + taken)
        }
        ("ft", Some(("in", _, used, _))) => (first.value + second.value / 12.0, String::new(), behind + taken + used),
        _ => return None,
    };
    let whole = text.is_empty() || ["1/2", "1/4", "3/4"].contains(&second.text.as_str());
    let text = if whole { trimmed(value) } else { text };
    let number = Number { text, value, joined: false };
    Some(settle(talk, make(talk, at, to, &number, None, name, kind)))
}

fn trimmed(value: f64) -> String {
    let text = format!("{value:.4}");
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

/// `an inch and a half`, `inch and a half`, `a foot`, `a metre`, `a quarter turn`.
fn one_of(talk: &Talk<'_>, at: usize) -> Option<Value> {
    let article = matches!(talk.word(at), "a" | "an");
    let noun = at + usize::from(article);
    let name = match talk.word(noun) {
        "inch" => "in",
        "foot" => "ft",
        "millimetre" | "millimeter" | "mil" if article => "mm",
        "metre" | "meter" if article => "m",
        "litre" | "liter" if article => "L",
        "hour" if article => "h",
        _ => return None,
    };
    let kind = match name {
        "L" => Kind::Volume,
        "h" => Kind::Time,
        _ => Kind::Length,
    };
    if talk.end(noun) == End::None && talk.word(noun + 1) == "and" {
        let words: Vec<&str> = (noun + 2..(noun + 6).min(talk.len())).map(|at| talk.word(at)).collect();
        if let Some((number, taken)) = number::read(&words).filter(|(number, _)| number.text.contains('/') && number.value < 1.0) {
            let number = Number { text: trimmed(1.0 + number.value), value: 1.0 + number.value, joined: false };
            return Some(settle(talk, make(talk, at, noun + 2 + taken, &number, None, name, kind)));
        }
    }
    let pounds = name == "in" && matches!(talk.word(noun + 1), "pound" | "pounds")
        || name == "ft" && matches!(talk.word(noun + 1), "pound" | "pounds" | "of" | "in" | "on" | "plate");
    if pounds || name == "ft" && !article {
        return None;
    }
    let number = Number { text: "1".to_owned(), value: 1.0, joined: false };
    (article && name != "h" && name != "L").then(|| settle(talk, make(talk, at, noun + 1, &number, None, name, kind)))
}

/// A figure without a unit that goes on with a value just said: `open it up to eleven`, `I get four hundred and sixteen`.
fn implied(talk: &Talk<'_>, at: usize, before: &Value) -> Option<Value> {
    let lead = talk.before(at, 1);
    let led = matches!(
        lead,
        "to" | "at"
            | "is"
            | "get"
            | "got"
            | "gets"
            | "had"
            | "about"
            | "nearer"
            | "say"
            | "be"
            | "says"
            | "makes"
            | "reads"
            | "give"
            | "was"
            | "read"
            | "i've"
            | "need"
            | "want"
            | "over"
            | "under"
            | "it's"
            | "that's"
            | "just"
            | "then"
            | "maybe"
            | "final"
            | "minus"
            | "of"
    ) || at > 0 && talk.end(at - 1) >= End::Comma;
    let (mut unit, mut kind) = (before.unit?, before.kind);
    if !led || talk.before(at, 1) == "pin" || talk.before(at, 2) == "pin" {
        return None;
    }
    let (number, taken) = number_at(talk, at)?;
    let next = at + taken;
    let word = talk.word(next);
    let ends = talk.end(next - 1) >= End::Comma
        || next >= talk.len()
        || crate::draft::phrase::is_stop(word) && !matches!(word, "of" | "x" | "by" | "goes" | "off" | "out" | "round")
        || matches!(word, "long" | "deep" | "wide" | "good" | "close" | "dead" | "exactly");
    let listed = at > 0 && talk.end(at - 1) >= End::Comma && number.value < 10.0 && number.value.fract() == 0.0;
    if unit == "in" && number.value.fract() == 0.0 && number.value > 2.0 {
        return None;
    }
    // A battery is measured in volts.
    let around = at.saturating_sub(25)..(at + 15).min(talk.len());
    if (9.0..15.5).contains(&number.value)
        && number.text.contains('.')
        && around.clone().any(|at| matches!(talk.word(at), "battery" | "meter" | "voltage" | "volts"))
    {
        (unit, kind) = ("V", Kind::Voltage);
    }
    let plausible = !listed
        && match kind {
            Kind::Length | Kind::Size if unit == "mm" => number.value >= 2.0 && number.value.fract() == 0.0 || number.text.contains('.'),
            Kind::Torque => number.value >= 2.0,
            Kind::Voltage => (1.0..60.0).contains(&number.value) && (number.text.contains('.') || number.value >= 10.0),
            Kind::Pressure | Kind::Current => number.value >= 2.0,
            Kind::Temperature => number.value >= 5.0,
            Kind::Length => number.value >= 2.0 || number.text.contains(['.', '/']),
            _ => false,
        };
    if !ends || !plausible || matches!(talk.word(at), "one" | "a" | "an") && taken == 1 {
        return None;
    }
    let mut value = make(talk, at, next, &number, None, unit, kind);
    value.doubt = Some(format!("no unit was said: {unit}?"));
    Some(value)
}

/// `m8`, `m8x1.25`, `t30`: sizes without a unit.
fn thread(talk: &Talk<'_>, at: usize) -> Option<Value> {
    let word = talk.word(at).trim_end_matches('s');
    let letter = word.chars().next().filter(|c| matches!(c, 'm' | 't'))?;
    let rest = &word[1..];
    let digits: String = rest.chars().take_while(char::is_ascii_digit).collect();
    let behind = &rest[digits.len()..];
    let fits = !digits.is_empty() && digits.len() <= 2 && (behind.is_empty() || letter == 'm' && behind.starts_with(['x', '×', '.']));
    if !fits {
        return None;
    }
    let figure = digits.parse().ok()?;
    let text = format!("{}{digits}", letter.to_ascii_uppercase());
    Some(Value {
        value: text,
        to: None,
        unit: None,
        kind: Kind::Size,
        place: talk.place(at, at + 1),
        doubt: None,
        range: at..at + 1,
        figure,
    })
}

/// `AWG 10`
fn gauge(talk: &Talk<'_>, at: usize) -> Option<Value> {
    if talk.word(at) != "awg" {
        return None;
    }
    let (number, taken) = number_at(talk, at + 1)?;
    Some(make(talk, at, at + 1 + taken, &number, None, "AWG", Kind::Area))
}

fn make(talk: &Talk<'_>, from: usize, to: usize, first: &Number, second: Option<&Number>, unit: &'static str, kind: Kind) -> Value {
    Value {
        value: first.text.clone(),
        to: second.map(|second| second.text.clone()),
        unit: Some(unit),
        kind,
        place: talk.place(from, to),
        doubt: None,
        range: from..to,
        figure: first.value,
    }
}

/// What a length is a length of, and what the words around it make of a unit.
fn settle(talk: &Talk<'_>, mut value: Value) -> Value {
    let behind = value.range.end;
    if value.kind == Kind::Length && matches!(value.unit, Some("mm" | "in")) && talk.end(behind - 1) < End::Comma && sized(talk, behind) {
        value.kind = Kind::Size;
    }
    // Degrees are of heat where the words are.
    if value.unit == Some("°") {
        let around = value.range.start.saturating_sub(8)..(value.range.end + 6).min(talk.len());
        let heat = around.clone().any(|at| {
            matches!(talk.word(at), "temperature" | "warm" | "hot" | "cold" | "air" | "heat" | "outside" | "celsius" | "freezing" | "cool")
        });
        let turn = around
            .into_iter()
            .any(|at| matches!(talk.word(at), "turn" | "angle" | "turned" | "rotate" | "bend" | "tilt" | "further" | "torque" | "wrench"));
        if heat && !turn {
            value.unit = Some("°C");
            value.kind = Kind::Temperature;
        }
    }
    value
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::wording::lexicon::built_in;

    fn values(text: &str) -> String {
        let narration = crate::narration::read(text.as_bytes()).unwrap();
        let talk = Talk::new(&narration, built_in());
        let spell = |value: &Value| {
            let to = value.to.as_ref().map_or(String::new(), |to| format!("..{to}"));
            format!("{}{to}{}", value.value, value.unit.map_or(String::new(), |unit| format!(" {unit}")))
        };
        read(&talk).iter().map(spell).collect::<Vec<_>>().join(", ")
    }

    #[test]
    fn values_are_read_as_they_are_said() {
        for (text, expected) in [
            ("eleven to fourteen foot pounds", "11..14 ft·lbf"),
            ("torque them to twenty five newton metres", "25 N·m"),
            ("talk them to nine newton meters", "9 N·m"),
            ("four ten mil bolts", "10 mm"),
            ("one twenty newton metres", "120 N·m"),
            ("a five sixteenths inch drill", "5/16 in"),
            ("half an inch in from the edge", "1/2 in"),
            ("12.6 volts", "12.6 V"),
            ("between 40 and 45 mm", "40..45 mm"),
            ("25Nm (18 lb-ft)", "25 N·m, 18 ft·lbf"),
            ("M8x25 bolts and a T30 bit", "M8, T30"),
            ("two and a half mil cable, sixteen mil squared", "2.5 mm, 16 mm²"),
            ("wait about twenty minutes, half an hour", "20 min, 1/2 h"),
            ("two of them in the roof", ""),
            ("hang on a second", ""),
            ("ten gauge, AWG 6", "10 AWG, 6 AWG"),
            ("a quarter of an inch", "1/4 in"),
            ("two thirteen mil nuts", "13 mm"),
            ("30-35 psi", "30..35 psi"),
            ("one hundred and fifty mil", "150 mm"),
            ("four m8 bolts", "M8"),
            ("do it in 2. 4 mm up", "4 mm"),
        ] {
            assert_eq!(values(text), expected, "{text}");
        }
    }
}
