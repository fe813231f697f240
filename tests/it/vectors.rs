//! What stands in two languages gives one answer: the program writes vectors for the scripts of the theme, which `tests/vectors/replay.mjs`
//! replays without a browser, and reads those that the scripts made.

#[path = "../vectors/common.rs"]
mod common;
mod refusals;
mod work;

use std::collections::BTreeMap;

use common::{Dice, hold, of_scripts};
use serde_json::{Value, json};

use bayleaf::document::chosen::{Chosen, amount};
use bayleaf::document::when::{Choice, Term, VehicleOption, When};
use bayleaf::phrases::{self, Phrases};
use bayleaf::quantity::entry::{self, Field, Printed};
use bayleaf::quantity::{Dimension, Options, read, units};
use bayleaf::record::{self, Record, seal};
use bayleaf::search::{Terms, Weight, fold};

/// How many vectors each file has.
const MANY: usize = 1_000;

/// The beginning of an answer's SHA-256, which stands for it where the answers would be long.
fn brief(answer: &str) -> String {
    seal(answer)[..8].to_owned()
}

// Entries -----------------------------------------------------------------------------------------

fn torque_fields() -> Vec<Field<'static>> {
    let printed = |unit, low, high| Printed { unit, low, high };
    let field = |printed, low, high, asked: &str| Field { printed, torque: Some((low, high)), asked: asked.to_owned() };
    vec![
        field(
            vec![printed("N·m", Some("44.5"), Some("45.5")), printed("lb·ft", Some("32.5"), Some("33.5"))],
            Some("44.064083"),
            Some("45.5"),
            "45 N·m (33 lb·ft)",
        ),
        field(
            vec![printed("lb·in", Some("105.5"), Some("106.5")), printed("N·m", Some("11.5"), Some("12.5"))],
            Some("11.5"),
            Some("12.5"),
            "106 lb·in (12 N·m)",
        ),
        field(vec![printed("N·m", None, Some("5")), printed("lb·in", None, Some("44.3"))], None, Some("5"), "max. 5 N·m (44.3 lb·in)"),
        field(vec![printed("N·m", Some("8"), Some("12"))], Some("8"), Some("12"), "8 to 12 N·m"),
        field(vec![], None, None, "as the maker says"),
    ]
}

fn measured_fields() -> Vec<Field<'static>> {
    let field = |printed: &[(&'static str, Option<&'static str>, Option<&'static str>)], asked: &str| Field {
        printed: printed.iter().map(|(unit, low, high)| Printed { unit, low: *low, high: *high }).collect(),
        torque: None,
        asked: asked.to_owned(),
    };
    vec![
        field(&[("V", Some("14.2"), Some("14.6"))], "14.4 ± 0.2 V"),
        field(&[("mm", None, Some("200")), ("in", None, Some("7.8"))], "max. 200 mm (7.8 in)"),
        field(&[("°C", Some("−20.5"), Some("−19.5")), ("°F", Some("−4.5"), Some("−3.5"))], "−20 °C (−4 °F)"),
        field(&[("mΩ", Some("4"), Some("6"))], "4 to 6 mΩ"),
        field(&[("kPa", Some("240"), Some("260")), ("psi", Some("34.8"), Some("37.7"))], "250 ± 10 kPa (36.3 ± 1.5 psi)"),
        field(&[("US gal", Some("1.25"), None), ("L", Some("4.7"), None)], "min. 1.25 US gal (4.7 L)"),
    ]
}

fn field_json(field: &Field<'_>) -> Value {
    let printed: Vec<Value> =
        field.printed.iter().map(|printed| json!({ "unit": printed.unit, "low": printed.low, "high": printed.high })).collect();
    let torque = field.torque.map(|(low, high)| json!({ "low": low, "high": high }));
    json!({ "printed": printed, "torque": torque, "asked": field.asked })
}

/// A text as somebody might type it: mostly a number and a unit, with every slip that is known, and some that are not.
fn typed(dice: &mut Dice, field: &Field<'_>) -> String {
    let bounds: Vec<&str> = field.printed.iter().flat_map(|printed| [printed.low, printed.high]).flatten().collect();
    let number = match dice.below(16) {
        0..=5 if !bounds.is_empty() => {
            let near = dice.of(&bounds).replace('−', "-").parse::<f64>().unwrap();
            let away = dice.of(&[0.0, 1e-6, -1e-6, 2e-6, -2e-6, 1e-7, -1e-7, 0.1, -0.1, 0.5, 3.0, -3.0]);
            format!("{:.*}", dice.of(&[0_usize, 1, 2, 6, 7]), near + away)
        }
        0..=8 => format!("{}", dice.below(300)),
        9 | 10 => format!("{}{}{}", dice.below(2_000), dice.of(&[".", ","]), &format!("{:04}", dice.below(10_000))[..1 + dice.below(4)]),
        11 => format!("{}{}", dice.of(&["+", "-", "\u{2212}", "~", "\u{2013}", "±"]), dice.below(60)),
        12 => dice
            .of(&["1e3", "4.5e1", "1/2", "1 1/8", "½", "45½", ".5", "45.", "4,5,6", "1.234.5", "1 500", "0,125", "12,500", "1'000"])
            .to_string(),
        13 => dice.of(&["٤٥", "４５", "४५", "4٥", "²", "Ⅻ", "vierzig", "", "O", "l2"]).to_string(),
        14 => format!("{}{}", dice.roll() % 10_000_000_000, dice.below(10_000)),
        _ => format!("{}{}{}", dice.below(60), dice.of(&["-", "–", " to ", "..", " / ", "; ", " "]), dice.below(60)),
    };
    let table = entry::table();
    // Half of all entries are as they should be, near the ends of what counts.
    if let (true, Some(printed)) = (dice.often(50), field.printed.get(dice.below(2))) {
        let bounds: Vec<&str> = [printed.low, printed.high].into_iter().flatten().collect();
        let near = dice.of(&bounds).replace('−', "-").parse::<f64>().unwrap();
        let away = dice.of(&[0.0, 0.0, 1e-6, -1e-6, 2e-6, -2e-6, 0.1, -0.1, 0.3, -0.3]);
        let number = format!("{:.*}", dice.of(&[0_usize, 1, 1, 2, 6]), near + away);
        let row = table.iter().find(|row| row.symbol == printed.unit).unwrap();
        let spellings: Vec<&String> = row.exact.iter().chain(&row.folded).collect();
        let unit = dice.of(&spellings).replace('·', dice.of(&["·", "", " ", "-"]));
        return format!("{number}{}{unit}", dice.of(&["", " ", " ", "\u{a0}"])).replace('.', dice.of(&[".", ".", ","]));
    }
    let unit = match dice.below(12) {
        0..=6 => {
            let wanted: Vec<&entry::Row> = table
                .iter()
                .filter(|row| match field.torque {
                    Some(_) => row.torque.is_some(),
                    None => field.printed.iter().any(|printed| printed.unit == row.symbol),
                })
                .collect();
            let row = dice.of(&wanted);
            let spellings: Vec<&String> = row.exact.iter().chain(&row.folded).collect();
            let joiner = dice.of(&["·", "", " ", "-", ".", ". ", "\u{22c5}", "*", "\u{a0}", " - ", "·· ·", "/", "\u{2011}"]);
            dice.of(&spellings).replace('·', joiner)
        }
        7 => table[dice.below(table.len())].symbol.to_owned(),
        8 => dice.of(&["N·m", "lb·ft", "V", "mm", "°C", "mΩ", "psi"]).to_string(),
        9 => {
            dice.of(&["Н·м", "Ν·m", "Nм", "ﬁ", "N/m", "牛米", "\u{212a}Pa", "Ω", "\u{2126}", "Vdc", "in²", "cm2", "MΩ", "mohm"]).to_string()
        }
        10 => String::new(),
        _ => dice.of(&["psi", "bar", "lb", "kg", "oz", "kN", "turns", "gal", "”", "''", "%", "ok"]).to_string(),
    };
    let unit = match dice.below(6) {
        0 => unit.to_uppercase(),
        1 => unit.to_lowercase(),
        _ => unit,
    };
    let space = dice.of(&["", " ", " ", " ", "\u{a0}", "  ", "\u{2009}", "\u{202f}", "\t", "\u{feff}", "\u{85}", "\n", "-", "."]);
    let behind =
        dice.of(&["", "", "", "", "", "", " ", ".", "!", " ok", " + 90°", " 33 lb·ft", "²", "\u{301}", " 😀", "..", " -", "\u{feff}", ")"]);
    let before = dice.of(&["", "", "", "", "", "", " ", "\u{a0}", "ca. ", "\u{feff}", "("]);
    format!("{before}{number}{space}{unit}{behind}")
}

fn entries(name: &str, seed: u64, fields: &[Field<'_>]) {
    let mut dice = Dice(seed);
    let mut vectors = Vec::new();
    let mut taken = 0;
    for _ in 0..MANY {
        let at = dice.below(fields.len());
        let text = typed(&mut dice, &fields[at]);
        let said = entry::judge(&text, &fields[at]).err();
        taken += usize::from(said.is_none());
        vectors.push(json!([at, text, said]));
    }
    assert!((40..MANY / 2).contains(&taken), "{taken} of {MANY} are as asked for");
    hold(name, &json!({ "fields": fields.iter().map(field_json).collect::<Vec<_>>() }), &vectors);

    let made = of_scripts(name);
    assert!(made.len() >= MANY, "{} vectors of the scripts", made.len());
    for vector in made {
        let (field, text) = (&fields[vector[0].as_u64().unwrap() as usize], vector[1].as_str().unwrap());
        let said = entry::judge(text, field).err();
        assert_eq!(vector[2].as_str().map(str::to_owned), said.as_deref().map(brief), "{name}: {text:?} of {}: {said:?}", field.asked);
    }
}

/// The table that the program hands to the script, as the other vectors were made with it.
#[test]
fn the_table_of_units() {
    common::hold_text("units.js", &bayleaf::theme::units::script());
}

/// All phrases, with the function that fills them, as scripts get those that they ask for.
#[test]
fn the_table_of_phrases() {
    let keys = Phrases::KEYS.iter().map(|(key, _)| *key);
    common::hold_text("phrases.js", &phrases::script(&phrases::ENGLISH, keys));
}

/// Phrases filled in, with counts and with what looks like a place.
#[test]
fn filled_phrases() {
    let with: Vec<_> = Phrases::KEYS.iter().filter(|(_, places)| !places.is_empty()).collect();
    let words = ["", "0", "1", "2", "11", "21", "01", "1.0", "one", "{count}", "{x:a|b}", "$&", "$1", "Sitz M8 × 1,25", "“a”", "\\", "N·m"];
    // Each phrase has numbers of its own, so that a new one adds its vectors and changes no others.
    let of_one = |(key, places): &&(&str, &[&str])| {
        let mut dice = Dice(key.bytes().fold(14, |seed, byte| seed * 31 % 1_000_003 + u64::from(byte)));
        let one = |_| {
            let given: BTreeMap<&str, &str> = places.iter().map(|place| (*place, dice.of(&words))).collect();
            json!([key, given, filled(key, &given).unwrap()])
        };
        (0..6).map(one).collect::<Vec<Value>>()
    };
    let vectors: Vec<Value> = with.iter().flat_map(of_one).collect();
    hold("phrases", &json!({}), &vectors);
    let of_scripts = of_scripts("phrases");
    assert!(of_scripts.len() >= MANY);
    for vector in of_scripts {
        let key = vector[0].as_str().unwrap();
        let given = vector[1].as_object().unwrap().iter().map(|(place, what)| (place.as_str(), what.as_str().unwrap())).collect();
        assert_eq!(filled(key, &given).as_deref(), vector[2].as_str(), "{vector}");
    }
}

fn filled(key: &str, given: &BTreeMap<&str, &str>) -> Option<String> {
    let (_, text) = phrases::ENGLISH.all().find(|(known, _)| *known == key)?;
    phrases::fill(text, phrases::ENGLISH.plural, |place| given.get(place).map(|what| (*what).to_owned())).ok()
}

#[test]
fn entries_of_torques() {
    entries("torque", 1, &torque_fields());
}

#[test]
fn entries_of_measured_values() {
    entries("measured", 2, &measured_fields());
}

// Conditions and choices --------------------------------------------------------------------------

/// Short ones, since they stand in every vector; with a hyphen, as ids may have.
const IDS: [&str; 6] = ["a", "b", "c", "d", "e-f", "g"];

/// What is known of the options: a sign for each, in their order.
fn known(signs: &str, id: &str) -> Option<bool> {
    let at = IDS.iter().position(|known| *known == id)?;
    match signs.as_bytes()[at] {
        b'+' => Some(true),
        b'-' => Some(false),
        _ => None,
    }
}

fn signs(dice: &mut Dice) -> String {
    (0..IDS.len()).map(|_| dice.of(&["+", "-", "?"])).collect()
}

fn terms(dice: &mut Dice) -> String {
    let alternative = |dice: &mut Dice| {
        let words: Vec<String> = (0..1 + dice.below(3)).map(|_| format!("{}{}", dice.of(&["", "!"]), dice.of(&IDS))).collect();
        words.join(" ")
    };
    let all: Vec<String> = (0..1 + dice.below(3)).map(|_| alternative(dice)).collect();
    if dice.often(2) { String::new() } else { all.join("|") }
}

/// A condition from its terms as the page has them.
fn when(terms: &str) -> When {
    let term = |word: &str| Term { option: word.trim_start_matches('!').to_owned(), absent: word.starts_with('!') };
    let alternative = |terms: &str| When::of_terms(terms.split(' ').filter(|word| !word.is_empty()).map(term).collect());
    When::any(terms.split('|').map(alternative))
}

/// Counts that depend on options, as the page has them.
fn counts(amounts: &str) -> Vec<(i64, When)> {
    let count = |part: &str| {
        let (count, terms) = part.split_once('@').unwrap();
        (count.parse().unwrap(), when(&terms.replace('+', " ")))
    };
    amounts.split(' ').map(count).collect()
}

#[test]
fn conditions() {
    let mut dice = Dice(3);
    let vectors: Vec<Value> = (0..MANY)
        .map(|_| {
            let (terms, signs) = (terms(&mut dice), signs(&mut dice));
            json!([terms, signs, when(&terms).holds(|id| known(&signs, id))])
        })
        .collect();
    hold("conditions", &json!({ "ids": IDS }), &vectors);
    let made = of_scripts("conditions");
    assert!(made.len() >= MANY);
    for vector in made {
        let said = when(vector[0].as_str().unwrap()).holds(|id| known(vector[1].as_str().unwrap(), id));
        assert_eq!(vector[2].as_bool(), said, "{vector}");
    }
}

#[test]
fn counts_by_option() {
    let mut dice = Dice(4);
    let vectors: Vec<Value> = (0..MANY)
        .map(|_| {
            let part = |dice: &mut Dice| {
                let terms = if dice.often(30) { String::new() } else { terms(dice).replace(' ', "+") };
                format!("{}@{terms}", dice.below(12) as i64 - if dice.often(20) { 12 } else { 0 })
            };
            let amounts: Vec<String> = (0..1 + dice.below(3)).map(|_| part(&mut dice)).collect();
            let (amounts, signs) = (amounts.join(" "), signs(&mut dice));
            json!([amounts, signs, amount(&counts(&amounts), |id| known(&signs, id))])
        })
        .collect();
    hold("amounts", &json!({ "ids": IDS }), &vectors);
    let made = of_scripts("amounts");
    assert!(made.len() >= MANY);
    for vector in made {
        let said = amount(&counts(vector[0].as_str().unwrap()), |id| known(vector[1].as_str().unwrap(), id));
        assert_eq!(vector[2].as_i64(), said, "{vector}");
    }
}

fn choices() -> Vec<Vec<Choice>> {
    let option = |id: &str, not_with: &str| VehicleOption {
        id: id.into(),
        name: format!("The {id}"),
        not_with: not_with.split_whitespace().map(str::to_owned).collect(),
    };
    let single = |id: &str, not_with: &str| Choice { name: format!("The {id}"), one_of: false, options: vec![option(id, not_with)] };
    let group = |name: &str, options: Vec<VehicleOption>| Choice { name: name.into(), one_of: true, options };
    vec![
        vec![
            group("Gearbox", vec![option("c", ""), option("d", ""), option("e-f", "a")]),
            single("a", ""),
            single("b", "g"),
            single("g", ""),
        ],
        vec![group("Gearbox", vec![option("c", "b"), option("d", "")]), single("b", ""), single("g", "b a"), single("a", "")],
        vec![single("a", "b"), single("b", "g"), single("g", "c"), single("c", "")],
        vec![group("Side", vec![option("g", "")]), single("c", ""), group("Heat", vec![option("b", "c"), option("e-f", "g")])],
    ]
}

fn choice_json(choice: &Choice) -> Value {
    let options: Vec<Value> =
        choice.options.iter().map(|option| json!({ "id": option.id, "name": option.name, "notWith": option.not_with.join(" ") })).collect();
    json!({ "label": choice.name, "oneOf": choice.one_of, "options": options })
}

/// What is known of each option after a choice, as signs in the order of the guide; none where the choice cannot be.
fn solved(choices: &[Choice], with: &[String], without: &[String]) -> Option<String> {
    let chosen = Chosen::new(choices, with, without).ok()?;
    let options = choices.iter().flat_map(|choice| &choice.options);
    Some(options.map(|option| chosen.of(&option.id).map_or('?', |there| if there { '+' } else { '-' })).collect())
}

#[test]
fn what_follows_from_a_choice() {
    let guides = choices();
    let mut dice = Dice(5);
    let mut vectors = Vec::new();
    while vectors.len() < MANY {
        let at = dice.below(guides.len());
        let (mut with, mut without) = (Vec::new(), Vec::new());
        for option in guides[at].iter().flat_map(|choice| &choice.options) {
            match dice.below(5) {
                0 => with.push(option.id.clone()),
                1 => without.push(option.id.clone()),
                _ => {}
            }
        }
        // In any order, as an address may have them.
        if dice.often(50) {
            with.reverse();
        }
        vectors.push(json!([at, with, without, solved(&guides[at], &with, &without)]));
    }
    let refused = vectors.iter().filter(|vector| vector[3].is_null()).count();
    assert!((50..800).contains(&refused), "{refused} of {MANY} cannot be");
    let head: Vec<Vec<Value>> = guides.iter().map(|choices| choices.iter().map(choice_json).collect()).collect();
    hold("choices", &json!({ "guides": head }), &vectors);
    let made = of_scripts("choices");
    assert!(made.len() >= MANY);
    for vector in made {
        let ids = |list: &Value| list.as_array().unwrap().iter().map(|id| id.as_str().unwrap().to_owned()).collect::<Vec<_>>();
        let said = solved(&guides[vector[0].as_u64().unwrap() as usize], &ids(&vector[1]), &ids(&vector[2]));
        assert_eq!(vector[3].as_str().map(str::to_owned), said, "{vector}");
    }
}

// Search ------------------------------------------------------------------------------------------

/// Letters and signs of many scripts, all of Unicode 13 or older, which every library that is in use knows.
const SIGNS: [&str; 12] = [
    "abcxyzABXMZ",
    "0123456789",
    "0123456789",
    " .,/-#x×\"",
    "äöüÄßéèÅñçşžŁøæœĳŉǆ",
    "½¼¾⅛²³₂¹№℡㎜µΩ\u{2126}\u{212a}℃ªº",
    "ΣσςάΩЙйёЯѐ",
    "漢字かなガｶﾞ한글",
    "\u{301}\u{308}\u{327}\u{345}\u{94d}\u{3099}\u{64b}",
    "\u{2010}\u{2011}\u{2013}\u{2212}\u{ad}\u{2009}\u{a0}\u{feff}\u{85}",
    "कखिुعربית𝐌𝟖😀",
    "ﬁﬃＭ８ⅷ⑴Ⓐ′″",
];

fn words_of(dice: &mut Dice) -> String {
    let mut text = String::new();
    for _ in 0..1 + dice.below(5) {
        let sets: Vec<Vec<char>> = (0..1 + dice.below(2)).map(|_| dice.of(&SIGNS).chars().collect()).collect();
        let many = if dice.often(2) { 50 } else { 1 + dice.below(6) };
        text.extend((0..many).map(|_| dice.of(&sets[0])));
        text.extend(sets.last().map(|set| dice.of(set)));
        text.push_str(dice.of(&["", " ", "-", "\u{2011}", "/", ".", ", "]));
    }
    text
}

fn folded(text: &str) -> String {
    let mut words = Vec::new();
    fold(text, |word| words.push(word.to_owned()));
    words.join(" ")
}

fn threads(text: &str) -> String {
    let mut terms = Terms::default();
    terms.threads(text, 0, Weight::Told);
    let mut found = Vec::new();
    terms.pack().each(|term, _| found.push(term.to_owned()));
    found.join(" ")
}

fn texts(name: &str, seed: u64, write: impl Fn(&mut Dice) -> String, answer: impl Fn(&str) -> String) {
    let mut dice = Dice(seed);
    let vectors: Vec<Value> = (0..MANY)
        .map(|_| {
            let text = write(&mut dice);
            let said = answer(&text);
            json!([text, said])
        })
        .collect();
    let told = vectors.iter().filter(|vector| vector[1] != "").count();
    assert!(told > MANY / 8, "{told} of {MANY} say something");
    hold(name, &json!({ "seed": seed }), &vectors);
    let made = of_scripts(name);
    assert!(made.len() >= MANY);
    for vector in made {
        assert_eq!(vector[1].as_str().unwrap(), answer(vector[0].as_str().unwrap()), "{name}: {vector}");
    }
}

#[test]
fn folding_of_words() {
    texts("fold", 6, words_of, folded);
}

#[test]
fn designations_of_threads() {
    let write = |dice: &mut Dice| {
        let metric = |dice: &mut Dice| {
            let number = |dice: &mut Dice| match dice.below(6) {
                0..=1 => format!("{}", 1 + dice.below(30)),
                2..=4 => format!("{}{}{}", dice.below(12), dice.of(&[".", ","]), dice.of(&["25", "5", "0", "75", "250", "3333333"])),
                _ => format!("{}", 1 + dice.below(3)),
            };
            let space =
                |dice: &mut Dice| dice.of(&["", "", "", "", "", " ", " ", "\u{a0}", "\u{202f}", "\u{feff}", "\u{85}", "  "]).to_string();
            [
                dice.of(&["M", "m", "m", "Ｍ"]).to_string(),
                space(dice),
                number(dice),
                space(dice),
                dice.of(&["x", "X", "×"]).to_string(),
                space(dice),
                number(dice),
            ]
            .concat()
        };
        let unified = |dice: &mut Dice| {
            let size = match dice.below(3) {
                0 => format!("#{}", dice.below(20)),
                _ => format!("{}/{}", 1 + dice.below(9), dice.of(&["4", "8", "16", "2", "0", "128", "04"])),
            };
            format!(
                "{size}{}{}{}",
                dice.of(&["", "", "\"", "″"]),
                dice.of(&["-", "-", "\u{2011}", "\u{2010}", " "]),
                dice.of(&["20", "16", "28", "32", "7", "4", "200"])
            )
        };
        let mut text = dice.of(&["", "", "", "bolt ", "bolt ", "(", "é", "𝐌", "1,", "a/", ".", "#"]).to_string();
        for _ in 0..1 + dice.below(2) {
            text.push_str(&if dice.often(50) { metric(dice) } else { unified(dice) });
            text.push_str(dice.of(&["", " ", " × 30", ".5", "/2", ",", ". ", " UNC", "-6g", "\"", "x", ", "]));
        }
        text
    };
    texts("threads", 7, write, threads);
}

/// What a value is filed under: for each statement its dimension and drawers, its lowest and highest value, and the room of rounding.
fn filed(text: &str, dimension: Dimension) -> Option<Vec<Value>> {
    let reading = read(text, dimension, &Options::default());
    let quantity = reading.quantity.filter(|_| reading.faults.is_empty())?;
    let mut terms = Terms::default();
    terms.value(&quantity, 0, Weight::Told);
    let mut spans: BTreeMap<String, Vec<String>> = BTreeMap::new();
    terms.pack().each(|term, _| {
        let (drawer, span) = term.split_once('_').unwrap();
        spans.entry(span.to_owned()).or_default().push(drawer.to_owned());
    });
    let row = |(span, drawers): (String, Vec<String>)| {
        let numbers: Vec<f64> = span.split('_').map(|number| number.parse().unwrap()).collect();
        json!([drawers.first(), drawers.last(), numbers[0], numbers[1], numbers[2]])
    };
    Some(spans.into_iter().map(row).collect())
}

#[test]
fn values_in_a_search() {
    let mut dice = Dice(8);
    let mut vectors = Vec::new();
    while vectors.len() < MANY {
        let unit = &units()[dice.below(units().len())];
        let number = |dice: &mut Dice| match dice.below(8) {
            0..=2 => format!("{}", dice.below(400)),
            3 => format!("{}", dice.below(300) * 100),
            4 | 5 => format!("{}.{}", dice.below(60), dice.of(&["5", "25", "0", "125"])),
            6 => format!("{} {:03}", 1 + dice.below(30), dice.below(1_000)),
            _ => format!("{}{}/{}", dice.of(&["", "1 ", "3 "]), dice.of(&["1", "3"]), dice.of(&["4", "8", "16"])),
        };
        let spelling = dice.of(&[&[unit.symbol][..], unit.spellings, unit.words].concat()).replace('·', dice.of(&["·", " ", "-", ""]));
        let one = number(&mut dice);
        let text = match dice.below(6) {
            0 => format!("{one}..{} {spelling}", number(&mut dice)),
            1 if unit.dimension == Dimension::Temperature => format!("-{one} {spelling}"),
            _ => format!("{one} {spelling}"),
        };
        if let Some(filed) = filed(&text, unit.dimension) {
            vectors.push(json!([text, filed]));
        }
    }
    let rows = bayleaf::search::unit_table();
    hold("values", &json!({ "units": rows }), &vectors);

    let made = of_scripts("values");
    let mut met = 0;
    for vector in &made {
        let (text, code) = (vector[0].as_str().unwrap(), vector[1].as_str().unwrap().chars().next());
        // The script reads spellings without their dots, which the program may not take, and letters that it would ask about.
        let dimension = Dimension::ALL.into_iter().find(|dimension| code == Some(bayleaf::search::dimension_code(*dimension)));
        let (Some(filed), Some(read)) = (filed(text, dimension.unwrap()), vector[2].as_array()) else { continue };
        let near = |at: usize, value: &Value| {
            let (script, program) = (read[at].as_f64().unwrap(), value.as_f64().unwrap());
            (script - program).abs() <= 1e-6 * script.abs().max(program.abs()).max(1e-12)
        };
        let one = &filed[0];
        assert!(near(0, &one[2]) && near(1, &one[3]) && near(2, &one[4]) && read[3] == one[0], "{vector}: {one}");
        met += 1;
    }
    assert!(made.len() >= MANY && met > MANY / 3, "{met} of {} are read by both", made.len());
}

// The seal ----------------------------------------------------------------------------------------

#[test]
fn seals() {
    let mut dice = Dice(9);
    let mut vectors = vec![json!(["abc", 1, &seal("abc")[..16]]), json!(["", 1, &seal("")[..16]])];
    while vectors.len() < MANY {
        // Around the lengths at which another block of the hash begins.
        let (text, times) = (words_of(&mut dice), dice.of(&[1, 1, 1, 3, 7, 20]));
        vectors.push(json!([text, times, &seal(&text.repeat(times))[..16]]));
    }
    hold("seal", &json!({ "seed": 9 }), &vectors);
}

// Files of records --------------------------------------------------------------------------------

/// Why a file is not taken, in a word.
fn reason(refused: Result<Record, record::refusal::Refusal>) -> &'static str {
    refused.map_or_else(|refusal| refusal.name, |_| "taken")
}

/// The places of a value, as JSON pointers.
fn places(value: &Value, at: &str, found: &mut Vec<String>) {
    let children: Vec<(String, &Value)> = match value {
        Value::Object(fields) => fields.iter().map(|(key, value)| (key.clone(), value)).collect(),
        Value::Array(list) => list.iter().enumerate().map(|(key, value)| (key.to_string(), value)).collect(),
        _ => Vec::new(),
    };
    for (key, value) in children {
        let at = format!("{at}/{key}");
        found.push(at.clone());
        places(value, &at, found);
    }
}

/// A record in which something was set or taken away, laid out and sealed; then its text was treated once more.
fn file_of(body: &Value, place: &str, set: Option<&Value>, treated: &str) -> String {
    let mut body = body.clone();
    let (parent, key) = place.rsplit_once('/').unwrap();
    match (set, body.pointer_mut(parent).unwrap()) {
        (Some(value), _) => *body.pointer_mut(place).unwrap() = value.clone(),
        (None, Value::Object(fields)) => drop(fields.remove(key)),
        (None, Value::Array(list)) => drop(list.remove(key.parse().unwrap())),
        _ => {}
    }
    let text = serde_json::to_string_pretty(&body).unwrap();
    let text = text.strip_suffix("\n}").unwrap();
    let sealed = format!("{text},\n  \"seal\": \"{}\"\n}}\n", seal(text));
    match treated {
        "crlf" => sealed.replace('\n', "\r\n"),
        "bom" => format!("\u{feff}{sealed}"),
        "two boms" => format!("\u{feff}\u{feff}{sealed}"),
        "line" => serde_json::to_string(&serde_json::from_str::<Value>(&sealed).unwrap()).unwrap(),
        "unsealed" => format!("{text}\n}}\n"),
        "cut" => sealed.chars().take(sealed.chars().count() / 2).collect(),
        "changed" => sealed.replacen("TH 0001", "TH 0002", 1),
        "spaced" => sealed.replacen(",\n  \"seal\"", ",\n   \"seal\"", 1),
        _ => sealed,
    }
}

#[test]
fn files_of_records() {
    let body = json!({
        "format": "bayleaf-record", "version": 1,
        "guide": { "slug": "demonstration", "title": "Demonstration", "document": "TH-1", "revision": null, "fingerprint": "ab12 cd34" },
        "options": { "with": ["tow-pack"], "without": [] },
        "order": { "order": "", "registration": "TH 0001", "vehicle": "", "vin": "", "odometer": "1 km", "technician": "S. Invented", "inspector": "", "started": "2026-11-26", "finished": "" },
        "ticks": ["s1/1"],
        "torques": [{ "operation": "s1/1", "applied": "45 N·m", "wrench": "", "note": "" }],
        "measured": [{ "operation": "s1/2", "value": 1, "measured": "14.4 V", "note": "" }],
        "waits": [{ "step": "s1", "started": "2026-11-26 14:05", "ended": "2026-11-26 14:08", "ticked": "" }],
        "notes": [{ "step": "s1", "text": "“cleaned” \u{2028}\u{7f}" }],
        "signed": { "technician": true, "inspector": false },
    });
    let mut all = Vec::new();
    places(&body, "", &mut all);
    let values = [
        json!(null),
        json!(""),
        json!("TH 0001"),
        json!(0),
        json!(1),
        json!(-1),
        json!(1.5),
        json!(7_000_000_000_u64),
        json!(true),
        json!([]),
        json!({}),
        json!(["a"]),
        json!([[]]),
    ];
    let treatments = ["", "", "", "", "", "crlf", "bom", "two boms", "line", "unsealed", "cut", "changed", "spaced"];
    let mut dice = Dice(13);
    let vectors: Vec<Value> = (0..MANY)
        .map(|_| {
            let (place, treated) = (&all[dice.below(all.len())], dice.of(&treatments));
            let set = dice.often(70).then(|| &values[dice.below(values.len())]);
            // Nothing is set to nothing by null, which a list of steps may be as well: so it stands in a list.
            json!([place, set.map(|value| json!([value])), treated, reason(record::read(file_of(&body, place, set, treated).as_bytes()))])
        })
        .collect();
    for wanted in ["taken", "json", "format", "version", "no-version", "no-seal", "changed", "field"] {
        assert!(vectors.iter().any(|vector| vector[3] == wanted), "none is {wanted}");
    }
    hold("files", &json!({ "body": body }), &vectors);
}
