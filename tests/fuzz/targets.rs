//! Every reader of foreign text, as a function from bytes to a number that tells apart what came of them. What has to hold whatever the
//! bytes are is asserted here: marks stand in their text and between characters, what was written is read again, what is published is
//! what would be published once more.

use std::collections::BTreeMap;
use std::hash::{DefaultHasher, Hash, Hasher};
use std::sync::LazyLock;

use bayleaf::compare;
use bayleaf::document::build::{self, Input};
use bayleaf::document::chosen::Chosen;
use bayleaf::document::facts::{self, Hashes};
use bayleaf::document::{Document, fingerprint};
use bayleaf::fastener::{Class, Drive, Kind as Sort, Thread, special, stage};
use bayleaf::finding::Finding;
use bayleaf::guide::language::Language;
use bayleaf::guide::model::{Guide, Shop};
use bayleaf::guide::picture::{PictureFact, PictureFault, PictureKind, Pictures, examine};
use bayleaf::guide::{self, claims};
use bayleaf::highlight;
use bayleaf::issued::{self, Issued};
use bayleaf::machine::guide_json;
use bayleaf::quantity::entry::{self, Field, Printed};
use bayleaf::quantity::{self, Dimension, Options};
use bayleaf::record::{self, listing};
use bayleaf::review::mend::{self, Look};
use bayleaf::review::report::{Results, Reviewed, Sources, json, sarif, text};
use bayleaf::review::{self, carry};
use bayleaf::search;
use bayleaf::sheets::paper::Paper;
use bayleaf::sheets::{self, Form, Job};
use bayleaf::site::{self, Publisher, SiteError};
use bayleaf::source::{FileId, SourceFile};
use bayleaf::start::list;
use bayleaf::theme::Theme;
use bayleaf::wiring;

use super::corpus;
use super::mutate::Kind;

/// A reader to try.
pub(super) struct Target {
    pub(super) name: &'static str,
    /// What its inputs are.
    pub(super) kind: Kind,
    /// Its share of all runs.
    pub(super) share: u64,
    /// Whether it goes down into its input, so that a stack could overflow.
    pub(super) deep: bool,
    pub(super) run: fn(&[u8]) -> u64,
}

/// All of them. Cheap ones get most runs, and dear ones most of the time.
pub(super) const TARGETS: &[Target] = &[
    Target { name: "quantity", kind: Kind::Words, share: 60_000, deep: false, run: quantity },
    Target { name: "entry", kind: Kind::Words, share: 90_000, deep: false, run: entry },
    Target { name: "trade", kind: Kind::Words, share: 10_000, deep: false, run: trade },
    Target { name: "words", kind: Kind::Words, share: 12_000, deep: false, run: words },
    Target { name: "list", kind: Kind::List, share: 10_000, deep: false, run: list },
    Target { name: "drawing", kind: Kind::Drawing, share: 5000, deep: true, run: drawing },
    Target { name: "drawn", kind: Kind::Drawing, share: 8, deep: true, run: drawn },
    Target { name: "photo", kind: Kind::Photo, share: 2000, deep: false, run: photo },
    Target { name: "record", kind: Kind::Record, share: 6000, deep: true, run: record },
    Target { name: "guide", kind: Kind::Guide, share: 1500, deep: true, run: guide },
    Target { name: "review", kind: Kind::Guide, share: 400, deep: true, run: review },
    Target { name: "reports", kind: Kind::Guide, share: 20, deep: true, run: reports },
    Target { name: "mend", kind: Kind::Guide, share: 30, deep: true, run: mend },
    Target { name: "document", kind: Kind::Guide, share: 400, deep: true, run: document },
    Target { name: "pages", kind: Kind::Guide, share: 10, deep: true, run: pages },
    Target { name: "sheets", kind: Kind::Guide, share: 3, deep: true, run: sheets },
    Target { name: "shop", kind: Kind::Shop, share: 150, deep: true, run: shop },
    Target { name: "issued", kind: Kind::Issued, share: 200, deep: true, run: issued },
    Target { name: "theme", kind: Kind::Template, share: 3, deep: true, run: theme },
];

static SHOP: LazyLock<Shop> = LazyLock::new(|| read_shop(include_str!("../../src/review/rules/example_shop.toml")));
static THEME: LazyLock<Theme> = LazyLock::new(|| Theme::new(&BTreeMap::new(), Language::English).unwrap());
/// The guide of the records, and the guide as it is compared with others.
static RECORDED: LazyLock<Document> = LazyLock::new(|| {
    let shop = read_shop(corpus::RECORD_SHOP);
    let source = SourceFile::new("guide.md", corpus::RECORD_GUIDE);
    document_of(&guide::read(&source, FileId(1), "demonstration", &shop).0, &shop)
});

fn read_shop(text: &str) -> Shop {
    guide::read_shop(&SourceFile::new("shop.toml", text), FileId(0)).0
}

fn document_of(guide: &Guide<'_>, shop: &Shop) -> Document {
    // Half of the pictures are there.
    let pictures: Pictures = guide
        .words()
        .flat_map(|prose| &prose.pictures)
        .map(|picture| {
            let address = picture.source.value.clone();
            let there = address.len() % 2 == 0;
            let fact = PictureFact { kind: PictureKind::Raster, width: 640, height: 480, cleaned: false };
            (address, if there { Ok(fact) } else { Err(PictureFault::Missing) })
        })
        .collect();
    let input = Input { pictures: &pictures, hashes: &Hashes::new(), fingerprint: Some("ab12 cd34".to_owned()), draft: true };
    build::document(guide, shop, &input)
}

/// A number for what came of an input.
fn outcome(of: impl Hash) -> u64 {
    let mut hasher = DefaultHasher::new();
    of.hash(&mut hasher);
    hasher.finish()
}

fn text_of(bytes: &[u8]) -> String {
    String::from_utf8_lossy(bytes).into_owned()
}

fn stands(text: &str, range: std::ops::Range<usize>) {
    assert!(text.get(range.clone()).is_some(), "{range:?} is no place between characters of {} bytes", text.len());
}

/// What findings say, by their rules; each of their marks stands in the text.
fn rules_of(findings: &[Finding], source: &SourceFile) -> Vec<&'static str> {
    for finding in findings {
        let edit = finding.edit.iter().map(|edit| edit.span);
        let places = std::iter::once(finding.place).chain(finding.related.iter().map(|related| related.place));
        let spans = places.filter(|place| place.file == FileId(1)).map(|place| place.span).chain(edit);
        spans.for_each(|span| stands(&source.text, span.range()));
        assert!(!finding.message.is_empty());
    }
    let mut rules: Vec<&'static str> = findings.iter().map(|finding| finding.rule.name()).collect();
    rules.sort_unstable();
    rules.dedup();
    rules
}

fn source(bytes: &[u8]) -> SourceFile {
    SourceFile::from_bytes("guides/example/guide.md".to_owned(), bytes.to_vec()).0
}

fn quantity(bytes: &[u8]) -> u64 {
    let text = text_of(bytes);
    let dimension = Dimension::ALL[text.len() % Dimension::ALL.len()];
    let mut said = Vec::new();
    for decimal_comma in [false, true] {
        let options = Options { decimal_comma, default_unit: text.len().is_multiple_of(3).then_some("mm") };
        let reading = quantity::read(&text, dimension, &options);
        for fault in &reading.faults {
            stands(&text, fault.range.clone());
        }
        said.push(outcome((
            reading.faults.iter().map(|fault| format!("{:?}", fault.kind)).collect::<Vec<_>>(),
            reading.quantity.is_some(),
        )));
        if let Some(quantity) = &reading.quantity {
            let spelt = quantity::spell(quantity);
            if reading.faults.is_empty() {
                let again = quantity::read(&spelt, dimension, &Options::default());
                assert!(again.quantity.is_some(), "what is printed, {spelt:?}, is not read");
            }
            quantity::duration_words(quantity);
            quantity::duration_iso(quantity);
            quantity.base_bounds();
        }
        let found = quantity::scan(&text, &options);
        let mut end = 0;
        for value in &found {
            stands(&text, value.range.clone());
            assert!(value.range.start >= end, "two values overlap");
            end = value.range.end;
        }
        said.push(found.len() as u64);
    }
    outcome(said)
}

fn entry(bytes: &[u8]) -> u64 {
    let text = text_of(bytes);
    let torque = Field {
        printed: vec![
            Printed { unit: "N·m", low: Some("43.2"), high: Some("46.8") },
            Printed { unit: "lb·ft", low: Some("32"), high: Some("34.5") },
        ],
        torque: Some((Some("43.2"), Some("46.8"))),
        asked: "45 N·m".to_owned(),
    };
    let measured = Field { printed: vec![Printed { unit: "V", low: Some("14.2"), high: None }], torque: None, asked: "14.2 V".to_owned() };
    let said = [torque, measured].map(|field| {
        let read = entry::read_entry(&text, &field);
        let judged = entry::judge(&text, &field);
        assert!(read.is_ok() || judged.is_err(), "what cannot be read was judged good");
        (read.map(|entry| entry.unit.symbol).map_err(|why| why.len().min(40)), judged.is_ok())
    });
    outcome(said)
}

/// Threads, classes, drives, passes, colours, sections and ratings.
fn trade(bytes: &[u8]) -> u64 {
    let text = text_of(bytes);
    let options = Options::default();
    let thread = Thread::read(&text);
    if let Ok(reading) = &thread {
        let again = Thread::read(&reading.value.to_string()).unwrap_or_else(|why| panic!("{} is not read: {}", reading.value, why.message));
        assert_eq!(again.value, reading.value);
        assert!(reading.value.stress_area_mm2().is_finite());
    }
    let thread = thread.ok().map(|reading| reading.value);
    let class = [Sort::Bolt, Sort::Nut, Sort::Screw].map(|kind| Class::read(&text, kind, thread.as_ref()).is_ok());
    let stages = stage::read(&[&text, "100 %"], None, &options);
    let colour = wiring::read_colour(&text);
    if let Ok(colour) = &colour {
        assert_eq!(wiring::read_colour(&colour.to_string()).as_ref(), Ok(colour));
    }
    let section = wiring::read_section(&text, &options);
    if let Ok(section) = &section {
        section.area();
        section.is_iso_6722();
    }
    if let Err(fault) = &section {
        stands(&text, fault.range.clone());
    }
    let rating = wiring::read_rating(&text, &options);
    if let Ok(rating) = rating {
        wiring::no_blade_rating(rating, None);
        wiring::blade_fuse(rating);
    }
    wiring::Supply::of(&text);
    let special =
        special::Special::read(&text).map(|read| read.map(|reading| reading.value.to_string().len()).map_err(|why| why.message.len() / 8));
    outcome((
        thread.map(|thread| thread.to_string()),
        class,
        special,
        Drive::read(&text).is_ok(),
        format!("{stages:?}").len() / 16,
        colour.is_ok(),
        section.is_ok(),
        rating.is_ok(),
    ))
}

/// The words of the search.
fn words(bytes: &[u8]) -> u64 {
    let text = text_of(bytes);
    let mut said = Vec::new();
    search::fold(&text, |word| {
        assert!(!word.is_empty());
        said.push(word.chars().count());
    });
    let mut terms = search::Terms::default();
    terms.words(&text, 1, search::Weight::Told);
    terms.threads(&text, 2, search::Weight::Told);
    terms.pack().each(|_, places| said.push(places.len()));
    bayleaf::near::nearest(&text, ["base-bolt", "cover", "battery", "torque", ""]);
    outcome(said)
}

fn list(bytes: &[u8]) -> u64 {
    let text = text_of(bytes);
    let listed = list::read(&text);
    outcome((
        listed.rows.len().min(8),
        listed.left.len().min(8),
        listed.rows.first().map(|row| (row.thread.is_some(), row.class.is_some(), row.length.is_some())),
    ))
}

/// A drawing that is looked at, cleaned and looked at again: what is taken can be published.
fn drawing(bytes: &[u8]) -> u64 {
    let seen = examine(bytes);
    if let Ok(fact) = seen
        && fact.kind == PictureKind::Drawing
    {
        let files = site::picture("example", "a.svg", fact, bytes).unwrap_or_else(|why| panic!("it was taken and is not published: {why}"));
        let again = examine(&files[0].1).expect("what is published can be looked at");
        assert!(!again.cleaned && (again.width, again.height) == (fact.width, fact.height));
    }
    outcome(
        seen.map(|fact| (fact.width.min(200), fact.height.min(200), fact.cleaned))
            .map_err(|fault| format!("{fault:?}").chars().take(60).collect::<String>()),
    )
}

/// A drawing on a sheet.
fn drawn(bytes: &[u8]) -> u64 {
    let Ok(fact) = examine(bytes) else { return 0 };
    if fact.kind != PictureKind::Drawing {
        return 1;
    }
    let Ok(drawing) = site::sheet_picture("a.svg", fact, bytes) else { return 2 };
    let text = "+++\ntitle = \"D\"\ndocument = \"TH-1\"\nrevision = \"A\"\n+++\n\n## Look\n\n![A drawing](a.svg)\n";
    let source = SourceFile::new("guide.md", text);
    let (guide, _) = guide::read(&source, FileId(1), "example", &SHOP);
    let pictures: Pictures = [("a.svg".to_owned(), Ok(fact))].into();
    let input = Input { pictures: &pictures, hashes: &Hashes::new(), fingerprint: Some("ab12 cd34".to_owned()), draft: true };
    let document = build::document(&guide, &SHOP, &input);
    print(&document, &[("a.svg".to_owned(), drawing)].into())
}

fn photo(bytes: &[u8]) -> u64 {
    let seen = examine(bytes);
    // What is large is unpacked by the same library as what is small, only for longer.
    if let Ok(fact) = seen
        && fact.kind == PictureKind::Raster
        && u64::from(fact.width) * u64::from(fact.height) < 100_000
    {
        match site::picture("example", "a.jpg", fact, bytes) {
            Ok(files) => {
                for (_, content) in &files {
                    let again = examine(content).expect("what is published can be looked at");
                    assert!(again.width <= fact.width);
                }
                return outcome((1, files.len(), fact.width.min(99), fact.height.min(99)));
            }
            Err(why) => return outcome((2, why.to_string().len())),
        }
    }
    outcome((3, seen.map_err(|fault| format!("{fault:?}").chars().take(60).collect::<String>()).map(|fact| fact.width.min(99))))
}

/// A record, held against its guide and listed.
fn record(bytes: &[u8]) -> u64 {
    let record = match record::read(bytes) {
        Ok(record) => record,
        Err(refusal) => return outcome((1, refusal.name)),
    };
    let row = listing::row("record.json", &record);
    let listing = listing::Listing { format: listing::FORMAT, version: listing::VERSION, records: vec![row], unread: Vec::new() };
    listing::text(&listing);
    let csv = listing::csv(&listing);
    assert!(csv.ends_with("\r\n"), "a row of CSV ends as RFC 4180 says");
    record::spelt_out(&record, &['é', '\u{1f468}']);
    if let Some(refusal) = record::refusal::of_guide(&record, &RECORDED) {
        return outcome((2, refusal.name));
    }
    if let Some(why) = record::foreign(&record, &RECORDED) {
        return outcome((3, why.len()));
    }
    let Ok(chosen) = Chosen::new(&RECORDED.choices, &record.options.with, &record.options.without) else { return 4 };
    let mut applies = RECORDED.clone();
    chosen.apply(&mut applies);
    let missing = record::check(&record, &RECORDED, &applies);
    outcome((5, missing, record::complete(&record, &applies)))
}

fn guide(bytes: &[u8]) -> u64 {
    let source = source(bytes);
    let (guide, findings) = guide::read(&source, FileId(1), "example", &SHOP);
    claims::read(&source.text, FileId(1));
    let operations = guide.operations().count();
    outcome((rules_of(&findings, &source), guide.steps.len().min(20), operations.min(20), guide.own.specs.rows.len().min(8)))
}

fn review(bytes: &[u8]) -> u64 {
    let source = source(bytes);
    let (guide, findings) = guide::read(&source, FileId(1), "example", &SHOP);
    let reviewed = review::review(&guide, &SHOP, &Pictures::new(), &|slug| slug.len() % 2 == 0, findings);
    outcome((rules_of(&reviewed.findings, &source), reviewed.accepted.len().min(4)))
}

/// All reports of a review.
fn reports(bytes: &[u8]) -> u64 {
    let source = source(bytes);
    let (guide, findings) = guide::read(&source, FileId(1), "example", &SHOP);
    let reviewed = review::review(&guide, &SHOP, &Pictures::new(), &|_| true, findings);
    highlight::guide(&source.text);
    highlight::lines(&source.text, |_| Vec::new());
    let sources: Sources = [(FileId(1), source.clone()), (FileId(0), SourceFile::new("guides/shop.toml", ""))].into();
    let results = Results {
        guides: vec![Reviewed { file: FileId(1), slug: "example".to_owned() }],
        findings: reviewed.findings.iter().collect(),
        accepted: reviewed.accepted.iter().map(|(finding, why)| (finding, why.as_str())).collect(),
        weights: &SHOP.weights,
        sources: &sources,
        folder: "",
        complete: true,
    };
    let plain = text::findings(&reviewed.findings, &sources, text::Style { colour: false, width: 100 });
    let json = json::text(&results).unwrap();
    let sarif = sarif::text(&results).unwrap();
    for text in [&json, &sarif] {
        serde_json::from_str::<serde_json::Value>(text).expect("a report is JSON");
    }
    outcome((rules_of(&reviewed.findings, &source), plain.is_empty()))
}

/// Certain repairs: a second run makes none.
fn mend(bytes: &[u8]) -> u64 {
    let source = source(bytes);
    let look = |text: &str| {
        let source = SourceFile::new("guides/example/guide.md", text);
        let (guide, findings) = guide::read(&source, FileId(1), "example", &SHOP);
        let carried = carry::carry(&guide, text);
        let (values, operations) = (mend::values(&guide), mend::operations(&guide));
        Look { findings: review::review(&guide, &SHOP, &Pictures::new(), &|_| true, findings).findings, values, operations, carried }
    };
    let mended = mend::mend(&source.text, FileId(1), look);
    outcome((mended.count.min(20), mended.text.len() == source.text.len()))
}

/// Prose to document, and what is made of it without templates.
fn document(bytes: &[u8]) -> u64 {
    let source = source(bytes);
    let (guide, _) = guide::read(&source, FileId(1), "example", &SHOP);
    let document = document_of(&guide, &SHOP);
    let json = guide_json::guide(&document, &SHOP).unwrap();
    serde_json::from_slice::<serde_json::Value>(&json).expect("a guide is JSON");
    let facts = facts::of(&document, &Hashes::new());
    assert!(compare::compare(&facts, &facts).is_empty(), "a guide differs from itself");
    let other = compare::compare(&facts::of(&RECORDED, &Hashes::new()), &facts);
    let print = fingerprint::of(&document, &Hashes::new());
    let (_, packed) = search::gather(&document, Options::default());
    let mut terms = 0;
    packed.each(|_, _| terms += 1);
    outcome((print.len(), terms / 8, other.len() / 4, document.choices.len().min(4), document.steps().count().min(20)))
}

/// The pages of a guide and of a site of it alone.
fn publish(document: &Document, theme: &Theme, shop: &Shop) -> Result<usize, SiteError> {
    let mut bytes = 0;
    let mut put = |name: &str, content: &[u8]| -> Result<(), SiteError> {
        assert!(!name.starts_with('/') && !name.contains(".."), "{name}");
        bytes += content.len();
        if name.ends_with(".html") {
            let text = std::str::from_utf8(content).expect("a page is text");
            for bad in ["<script>", " onload=", " onclick=", "href=\"javascript:", "src=\"http"] {
                assert!(!text.contains(bad), "{name} has {bad}");
            }
        }
        Ok(())
    };
    let publisher = Publisher::new(shop, theme);
    let kept = publisher.guide(document, Default::default(), &mut put)?;
    let listed = [kept.listed];
    for (name, content) in publisher.over_all(&listed, &[])?.into_iter().chain(publisher.index(&listed, vec![kept.indexed])) {
        put(&name, &content)?;
    }
    Ok(bytes)
}

fn pages(bytes: &[u8]) -> u64 {
    let source = source(bytes);
    let (guide, _) = guide::read(&source, FileId(1), "example", &SHOP);
    publish(&document_of(&guide, &SHOP), &THEME, &SHOP).unwrap_or_else(|why| panic!("no pages: {why}")) as u64 / 512
}

fn print(document: &Document, pictures: &sheets::Pictures) -> u64 {
    let on_paper = sheets::Shop {
        name: SHOP.name.clone(),
        notice: None,
        deferral: SHOP.deferral.clone(),
        language: "en".to_owned(),
        address: None,
        say: &bayleaf::phrases::ENGLISH,
    };
    let chosen = Chosen::new(&document.choices, &[], &[]).unwrap();
    let job =
        Job { shop: &on_paper, guide: document, pictures, chosen: &chosen, paper: Paper::A4, form: Form::Full, record: None, missing: &[] };
    let mut said = Vec::new();
    for kind in [sheets::Kind::Checklist, sheets::Kind::Torque] {
        match sheets::sheet(&job, kind) {
            Ok(made) => said.push((made.bytes.len() / 2_048, made.notes.len())),
            Err(sheets::Refused::Broken(why)) => panic!("no sheet: {why}"),
            Err(_) => said.push((0, 0)),
        }
    }
    outcome(said)
}

fn sheets(bytes: &[u8]) -> u64 {
    let source = source(bytes);
    let (guide, _) = guide::read(&source, FileId(1), "example", &SHOP);
    print(&document_of(&guide, &SHOP), &sheets::Pictures::new())
}

/// The shop file, and a guide under it.
fn shop(bytes: &[u8]) -> u64 {
    let source = SourceFile::from_bytes("guides/shop.toml".to_owned(), bytes.to_vec()).0;
    let (shop, findings) = guide::read_shop(&source, FileId(1));
    let findings = review::review_shop(&shop, findings);
    let own = SourceFile::new("guide.md", corpus::RECORD_GUIDE);
    let (guide, found) = guide::read(&own, FileId(2), "example", &shop);
    review::review(&guide, &shop, &Pictures::new(), &|_| true, found);
    document_of(&guide, &shop);
    outcome(rules_of(&findings, &source))
}

fn issued(bytes: &[u8]) -> u64 {
    let issued = match Issued::read(bytes) {
        Ok(issued) => issued,
        Err(why) => return outcome(why.chars().take(24).collect::<String>()),
    };
    // What was read is written and read as the same.
    let again = Issued::read(issued.write().as_bytes());
    assert_eq!(again.as_ref(), Ok(&issued));
    issued::used_of_shop(&issued.shop, &issued.guide);
    issued::changed_of_shop(&issued.shop, corpus::RECORD_SHOP);
    let document = issued.document("example", &Pictures::new());
    Issued::file_name(&issued.revision);
    outcome((document.steps().count(), issued.shop.len() / 256, issued.pictures.len()))
}

/// A template of the shop's own, named in its first line.
fn theme(bytes: &[u8]) -> u64 {
    let text = text_of(bytes);
    let named = text.strip_prefix("{# ").and_then(|rest| rest.split_once(" #}")).map(|(name, _)| name);
    let name = named.filter(|name| name.ends_with(".html") && name.len() < 30).unwrap_or("guide.html");
    let own = BTreeMap::from([(name.to_owned(), bytes.to_vec())]);
    match Theme::new(&own, Language::English) {
        Ok(theme) => match publish_loosely(&theme) {
            Ok(files) => outcome((1, files)),
            Err(why) => outcome((2, why.to_string().len() / 8)),
        },
        Err(why) => outcome((3, why.to_string().len() / 8)),
    }
}

/// Pages under a theme that may say what it likes.
fn publish_loosely(theme: &Theme) -> Result<usize, SiteError> {
    let mut bytes = 0;
    let mut put = |_: &str, content: &[u8]| -> Result<(), SiteError> {
        bytes += content.len();
        Ok(())
    };
    let publisher = Publisher::new(&SHOP, theme);
    let kept = publisher.guide(&RECORDED, Default::default(), &mut put)?;
    let files = publisher.over_all(&[kept.listed], &[])?;
    Ok((bytes + files.iter().map(|(_, content)| content.len()).sum::<usize>()) / 256)
}
