//! Reads `guides/shop.toml`: the shop's name and ways, and what its guides share.

use crate::finding::{Finding, RuleName};
use crate::guide::define::{definitions, wires};
use crate::guide::facts::Reader;
use crate::guide::keys::Block;
use crate::guide::language::Language;
use crate::guide::model::{Definitions, SheetFor, Shop, Weight};
use crate::near::nearest;
use crate::quantity::Exact;
use crate::source::{FileId, Place, SourceFile, Span};

/// The sentence on every page and sheet where the shop gives none of its own, or gives one that leaves something of it out.
pub const DEFERRAL: &str = "Follow the vehicle maker's current instructions and your local rules; where they differ from this sheet, they win. \
Work on brakes, restraint systems, fuel, gas, refrigerant, mains and high-voltage systems is for trained and licensed people.";

/// The shop of a folder without a shop file.
pub fn unnamed() -> Shop {
    Shop {
        file: None,
        name: "Unnamed shop".to_owned(),
        notice: None,
        also: Vec::new(),
        language: Language::default(),
        language_at: None,
        imperial_first: false,
        deferral: DEFERRAL.to_owned(),
        approval: false,
        handbook: false,
        address: None,
        drop: None,
        tolerance: None,
        wires: Vec::new(),
        weights: Vec::new(),
        sheets: Vec::new(),
        untold: Vec::new(),
        shared: Definitions::default(),
    }
}

/// Reads the shop file; whatever is wrong with it becomes findings.
pub fn read(source: &SourceFile, file: FileId) -> (Shop, Vec<Finding>) {
    let mut reader = Reader {
        file,
        findings: Vec::new(),
        decimal_comma: false,
        uncounted: Vec::new(),
        named: Vec::new(),
        untold: Vec::new(),
        full: false,
    };
    let end = source.text.find('\n').unwrap_or(source.text.len()).min(200);
    let start = Span::new(0..source.text.floor_char_boundary(end));
    let parsed = reader.parse(&source.text, 0, start, Block::Shop);
    let fields = parsed.fields(Block::Shop);
    let f = &fields;
    reader.check_keys(f);
    let unnamed = unnamed();
    let named = reader.word(f, "language");
    let language_at = named.as_ref().map(|text| text.span);
    let language = named.and_then(|text| Language::of(&text.value)).unwrap_or(unnamed.language);
    reader.decimal_comma = language.decimal_comma();
    let mut shop = Shop {
        file: Some(file),
        name: reader.text(f, "name").map_or(unnamed.name, |text| text.value),
        also: reader.texts(f, "also"),
        notice: reader.text(f, "notice").map(|text| text.value),
        imperial_first: reader.word(f, "units").is_some_and(|text| text.value == "imperial"),
        deferral: deferral(reader.text(f, "deferral").map(|text| text.value)),
        approval: reader.flag(f, "approval"),
        handbook: reader.flag(f, "handbook"),
        address: address(&mut reader, f),
        drop: share(&mut reader, f, "drop", "the voltage"),
        tolerance: share(&mut reader, f, "tolerance", "a torque"),
        wires: wires(&mut reader, f),
        weights: weights(&mut reader, f),
        sheets: sheets(&mut reader, f),
        shared: definitions(&mut reader, f),
        untold: Vec::new(),
        language,
        language_at,
    };
    shop.untold = reader.untold;
    (shop, reader.findings)
}

/// The shop's own sentence, followed by the built-in one unless it surely says the same: who comes first cannot be lost.
fn deferral(own: Option<String>) -> String {
    let Some(own) = own.map(|own| own.trim().to_owned()).filter(|own| !own.is_empty()) else { return DEFERRAL.to_owned() };
    if own.contains(DEFERRAL) || says_who_comes_first(&own) { own } else { format!("{own} {DEFERRAL}") }
}

/// Whether words name the vehicle maker, local rules and licensed people, and deny nothing.
fn says_who_comes_first(words: &str) -> bool {
    let folded = words.to_lowercase();
    let all: Vec<&str> = folded.split(|c: char| !c.is_alphanumeric()).filter(|word| !word.is_empty()).collect();
    let any = |known: &[&str]| all.iter().any(|word| known.contains(word));
    let maker = any(&["maker", "makers", "manufacturer", "manufacturers"]) && any(&["vehicle", "vehicles", "van", "car"]);
    let rules = any(&["local", "national"]) && any(&["rule", "rules", "law", "laws", "code", "codes", "regulation", "regulations"]);
    let people = any(&["licensed", "licenced", "certified", "qualified"]);
    let denies =
        any(&["no", "not", "never", "without", "nobody", "none", "nor", "neither", "ignore", "skip", "unless", "except", "need", "t"]);
    maker && rules && people && !denies
}

/// A share of something, in percent.
pub(super) fn share(reader: &mut Reader, f: &crate::guide::facts::Fields<'_>, key: &'static str, what: &str) -> Option<Exact> {
    let text = reader.text(f, key)?;
    let share = text.value.trim().strip_suffix('%').and_then(|number| percent(number.trim()));
    if share.is_none() {
        let message = format!("`{}` is no share of {what}", text.value);
        reader.findings.push(Finding::hold(RuleName::TypeWrong, reader.place(text.span), message, "write it in percent, such as \"3 %\""));
    }
    share
}

/// A number of percent between 0 and 100 as a share.
fn percent(number: &str) -> Option<Exact> {
    let (whole, part) = number.split_once(['.', ',']).unwrap_or((number, ""));
    let digits = format!("{whole}{part}");
    let plain = !whole.is_empty() && part.len() <= 3 && digits.len() <= 6 && digits.bytes().all(|b| b.is_ascii_digit());
    let share = plain.then(|| Exact::fraction(digits.parse().ok()?, 100 * 10i128.pow(part.len() as u32))).flatten()?;
    (share <= Exact::whole(1)).then_some(share)
}

fn weights(reader: &mut Reader, f: &crate::guide::facts::Fields<'_>) -> Vec<Weight> {
    let mut weights = Vec::new();
    for f in reader.tables(f, "rule", Block::Rule) {
        if let (Some(rule), Some(severity), Some(reason)) =
            (reader.text(&f, "name"), reader.word(&f, "severity"), reader.text(&f, "reason"))
        {
            weights.push(Weight { rule, severity, reason });
        }
    }
    weights
}

fn sheets(reader: &mut Reader, f: &crate::guide::facts::Fields<'_>) -> Vec<SheetFor> {
    let mut sheets = Vec::new();
    for f in reader.tables(f, "sheet", Block::Sheet) {
        let (with, without) = (reader.texts(&f, "with"), reader.texts(&f, "without"));
        if let Some(guide) = reader.text(&f, "guide") {
            sheets.push(SheetFor { guide, with, without });
        }
    }
    sheets
}

/// Sheets that the shop file asks for of guides that are not there. `slugs` are the names of all guides.
pub fn sheets_of_nothing(shop: &Shop, slugs: &[&str]) -> Vec<Finding> {
    let Some(file) = shop.file else { return Vec::new() };
    let unknown = shop.sheets.iter().filter(|sheet| !slugs.contains(&sheet.guide.as_str()));
    unknown
        .map(|sheet| {
            let place = Place { file, span: sheet.guide.span };
            let remedy = match nearest(&sheet.guide.value, slugs.iter().copied()) {
                Some(near) => format!("write `{near}`"),
                None => "use the name of a guide's folder or file, or take the block out".to_owned(),
            };
            Finding::query(
                RuleName::IdUnknown,
                place,
                format!("there is no guide `{}`, so no sheet is made for it", sheet.guide.value),
                remedy,
            )
        })
        .collect()
}

fn address(reader: &mut Reader, f: &crate::guide::facts::Fields<'_>) -> Option<String> {
    let address = reader.text(f, "address")?;
    let is_web = address.value.starts_with("https://") || address.value.starts_with("http://");
    if !is_web || address.value.contains(|c: char| c.is_whitespace() || c == '"' || c == '<') {
        reader.findings.push(Finding::hold(
            RuleName::TypeWrong,
            reader.place(address.span),
            format!("`{}` is not a web address", address.value),
            "write the whole address, such as https://guides.example/",
        ));
        return None;
    }
    Some(format!("{}/", address.value.trim_end_matches('/')))
}
