//! What a guide costs as it grows: each kind of guide that somebody could write to hurt, doubled and doubled again up to the limits, through
//! every phase, from reading to a record of work done to it. Costs are counted in time on the processor and compared with each other, so
//! that nothing depends on the machine or on what else it does.
//!
//! `cargo test --locked --test it bounds -- --ignored --nocapture` prints times and exponents of every phase and fails on an exponent above
//! 1.2 where the time is long enough to tell; then it publishes and prints the worst guide at each limit, and prints time and memory of it.
//! The short test keeps what once was slow from coming back.

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;
use std::process::{Command, Stdio};
use std::time::Instant;

use bayleaf::compare;
use bayleaf::document::build::{self, Input};
use bayleaf::document::chosen::Chosen;
use bayleaf::document::facts::{self, Hashes};
use bayleaf::document::{Document, fingerprint};
use bayleaf::guide;
use bayleaf::guide::language::Language;
use bayleaf::guide::model::Date;
use bayleaf::guide::picture::Pictures as Facts;
use bayleaf::issued::{Issued, used_of_shop};
use bayleaf::machine::guide_json;
use bayleaf::quantity::Options;
use bayleaf::record;
use bayleaf::review;
use bayleaf::review::report::{Results, Reviewed, Sources, json, sarif, text};
use bayleaf::search;
use bayleaf::sheets::paper::Paper;
use bayleaf::sheets::{self, Form, Job, Kind, Pictures};
use bayleaf::site::{Publisher, SiteError};
use bayleaf::source::{FileId, SourceFile};
use bayleaf::theme::Theme;
use serde_json::json;

const HEAD: &str = "+++\ntitle = \"Demonstration\"\ndocument = \"TH-1\"\nrevision = \"A\"\n";

fn many(n: usize, one: impl Fn(usize) -> String) -> String {
    (0..n).map(one).collect()
}

/// A guide with one step, whose words these are.
fn words(text: &str) -> String {
    format!("{HEAD}+++\n\n## Do it\n\n+++\n+++\n\n{text}\n")
}

type Kinds = Vec<(&'static str, usize, fn(usize) -> String)>;

/// Kinds of guides with the number of things at which they begin.
fn kinds() -> Kinds {
    vec![
        ("unknown ids times known ids", 200, |n| {
            let items = many(n, |at| format!("\n[[item]]\nid = \"cover-{at}\"\nname = \"Cover {at}\"\n"));
            let steps = many(n, |at| format!("\n## Step {at}\n\n+++\ndo = [{{ remove = \"cxver-{at}\" }}]\n+++\n\nDo it.\n"));
            format!("{HEAD}{items}+++\n{steps}")
        }),
        ("steps of one title", 200, |n| format!("{HEAD}+++\n{}", many(n, |_| "\n## Do it\n\n+++\n+++\n\nDo it.\n".to_owned()))),
        ("headings in one step", 200, |n| words(&many(n, |at| format!("### Part {at}\n\n")))),
        ("joined emoji", 500, |n| words(&many(n, |_| "\u{1f468}\u{200d}\u{1f527}\u{200d}".to_owned()))),
        ("combining marks", 2_000, |n| words(&format!("a{}", "\u{301}".repeat(n)))),
        ("rows of a table", 200, |n| words(&format!("| a | b |\n|---|---|\n{}", many(n, |at| format!("| a {at} | b |\n"))))),
        ("columns of a table", 50, |n| words(&format!("|{}\n|{}\n|{}\n", "a|".repeat(n), "-|".repeat(n), "b|".repeat(n)))),
        ("words of a paragraph", 2_000, |n| words(&many(n, |at| format!("word{at} ")))),
        ("letters of one word", 4_000, |n| words(&"x".repeat(n))),
        ("lines of code", 500, |n| words(&format!("```\n{}```\n", "x y z\n".repeat(n)))),
        ("values in words", 200, |n| words(&many(n, |at| format!("Tighten to {at} N\u{b7}m, then 12 V and 5 mm. ")))),
        ("points of a list", 200, |n| words(&many(n, |at| format!("- point {at}\n")))),
        ("lists in lists", 40, |n| words(&many(n, |at| format!("{}- x\n", "  ".repeat(at))))),
        ("quotes in quotes", 100, |n| words(&format!("{} x", ">".repeat(n)))),
        ("stars", 1_000, |n| words(&many(n, |_| "*a **b _c ".to_owned()))),
        ("brackets", 1_000, |n| words(&format!("{}x{}", "[".repeat(n), "]".repeat(n)))),
        ("links", 200, |n| words(&many(n, |at| format!("[a](#b{at}) ")))),
        ("ticks of code", 300, |n| words(&many(n.isqrt() * 4, |at| format!("{}a", "`".repeat(at + 1))))),
        ("operations of one step", 100, |n| {
            let list = many(n, |_| "  { clean = \"Seat\" },\n".to_owned());
            format!("{HEAD}+++\n\n## Do it\n\n+++\ndo = [\n{list}]\n+++\n\nDo it.\n")
        }),
        ("covers off and on", 100, |n| {
            let items = many(n, |at| format!("\n[[item]]\nid = \"cover-{at}\"\nname = \"Cover {at}\"\n"));
            let off = many(n, |at| format!("\n## Off {at}\n\n+++\ndo = [{{ remove = \"cover-{at}\" }}]\n+++\n\nDo it.\n"));
            let on = many(n, |at| format!("\n## On {at}\n\n+++\ndo = [{{ fit = \"cover-{at}\" }}]\n+++\n\nDo it.\n"));
            format!("{HEAD}{items}+++\n{off}{on}")
        }),
        ("torques", 100, |n| {
            let specs = many(n, |at| format!("\n[[spec]]\nid = \"t{at}\"\ntorque = \"{} N\u{b7}m\"\n", 10 + at));
            let steps =
                many(n, |at| format!("\n## Bolt {at}\n\n+++\ndo = [{{ tighten = \"Bolt\", torque = \"t{at}\" }}]\n+++\n\nDo it.\n"));
            format!("{HEAD}{specs}+++\n{steps}")
        }),
        ("cautions", 100, |n| {
            let list = many(n, |at| {
                format!(
                    "\n[[caution]]\nid = \"c{at}\"\nsignal = \"warning\"\nhazard = \"Hazard {at}\"\nresult = \"Injury\"\navoid = \"Keep away\"\n"
                )
            });
            format!("{HEAD}cautions = [{}]\n{list}+++\n\n## Do it\n\n+++\n+++\n\nDo it.\n", many(n, |at| format!("\"c{at}\", ")))
        }),
        ("tools", 100, |n| {
            let list = many(n, |at| format!("\n[[tool]]\nid = \"t{at}\"\nname = \"Tool {at}\"\n"));
            format!("{HEAD}tools = [{}]\n{list}+++\n\n## Do it\n\n+++\n+++\n\nDo it.\n", many(n, |at| format!("\"t{at}\", ")))
        }),
        ("unknown keys", 200, |n| format!("{HEAD}{}+++\n\n## Do it\n\n+++\n+++\n\nDo it.\n", many(n, |at| format!("titel{at} = 1\n")))),
        ("lists of TOML in lists", 1_000, |n| format!("{HEAD}tools = {}{}\n+++\n\n## Do it\n", "[".repeat(n), "]".repeat(n))),
        ("operations in sentences", 100, |n| {
            let items = many(n, |at| format!("item.cover-{at} = \"Cover {at}\"\n"));
            let steps =
                many(n, |at| format!("\n## Step {at}\n\n[Take the cover off](<remove: cover-{at}>). [Put it on](<fit: cover-{at}>).\n"));
            format!("{HEAD}{items}+++\n{steps}")
        }),
        ("hardware", 100, |n| {
            let rows = many(n, |at| format!("hardware.b{at} = \"4 x Bolt {at}; M8x1.25; 8.8; 13 mm hex\"\n"));
            let steps =
                many(n, |at| format!("\n## Bolt {at}\n\n+++\ndo = [{{ tighten = \"b{at}\", hardware = \"4 x b{at}\" }}]\n+++\n\nDo it.\n"));
            format!("{HEAD}{rows}+++\n{steps}")
        }),
        ("options", 8, |n| {
            let options = many(n, |at| format!("\n[[option]]\nid = \"o{at}\"\nname = \"Option {at}\"\n"));
            let steps =
                many(n, |at| format!("\n## Step {at}\n\n+++\nwhen = \"o{at}\"\ndo = [{{ remove = \"Cover {at}\" }}]\n+++\n\nDo it.\n"));
            format!("{HEAD}{options}+++\n{steps}")
        }),
        ("steps that need others", 100, |n| {
            let steps = many(n, |at| {
                format!("\n## Step {at}\n\n+++\nid = \"s{at}\"\nneeds = [\"s{}\"]\n+++\n\nSee [](step:s{}).\n", at / 2, n - 1 - at)
            });
            format!("{HEAD}+++\n{steps}")
        }),
        ("changes", 100, |n| {
            let list = many(n, |at| format!("\n[[change]]\nrevision = \"{at}\"\nissued = 2026-01-02\nwhat = \"Change {at}\"\n"));
            format!("{HEAD}{list}+++\n\n## Do it\n\nDo it.\n")
        }),
        ("blocks of TOML in words", 100, |n| words(&many(n, |_| "+++\ntitle = \"x\"\n+++\n\nx\n\n".to_owned()))),
    ]
}

const PHASES: [&str; 10] = ["read", "review", "report", "document", "pages", "sheet", "search", "machine", "compare", "record"];

/// Seconds on the processor of this thread; by the clock where the system does not say.
fn now(start: Instant) -> f64 {
    let told = fs::read_to_string("/proc/thread-self/schedstat").ok();
    let spent = told.and_then(|text| text.split(' ').next()?.parse::<f64>().ok());
    spent.map_or_else(|| start.elapsed().as_secs_f64(), |nanoseconds| nanoseconds / 1e9)
}

/// A record in which everything was done.
fn record_of(document: &Document) -> String {
    let operations = || document.steps().flat_map(|step| &step.operations);
    let ticks: Vec<&str> = operations().map(|operation| operation.id.as_str()).collect();
    let torques: Vec<_> = operations()
        .filter(|operation| operation.torque.is_some())
        .map(|operation| json!({ "operation": operation.id, "applied": "45 N·m", "wrench": "", "note": "" }))
        .collect();
    let head = &document.head;
    let body = json!({
        "format": "bayleaf-record", "version": 1,
        "guide": { "slug": head.slug, "title": head.title, "document": head.document, "revision": head.revision, "fingerprint": document.fingerprint },
        "options": { "with": [], "without": [] },
        "order": { "order": "", "registration": "TH 1", "vehicle": "", "vin": "", "odometer": "", "technician": "A", "inspector": "", "started": "", "finished": "" },
        "ticks": ticks, "torques": torques, "measured": [], "waits": [], "notes": [], "signed": { "technician": false, "inspector": false },
    });
    let body = serde_json::to_string_pretty(&body).unwrap();
    let body = body.strip_suffix("\n}").unwrap();
    format!("{body},\n  \"seal\": \"{}\"\n}}\n", record::seal(body))
}

/// The seconds of each phase.
fn cost(text: &str, theme: &Theme) -> [f64; PHASES.len()] {
    let shop = guide::shop::unnamed();
    let source = SourceFile::new("guides/demonstration/guide.md", text.to_owned());
    let start = Instant::now();
    let mut at = now(start);
    let mut lap = || {
        let before = std::mem::replace(&mut at, now(start));
        at - before
    };
    let (guide, findings) = guide::read(&source, FileId(1), "demonstration", &shop);
    let read = lap();
    let outcome = review::review(&guide, &shop, &Facts::new(), &|_| true, findings);
    let reviewed = lap();
    let sources: Sources = [(FileId(1), source.clone())].into();
    let results = Results {
        guides: vec![Reviewed { file: FileId(1), slug: "demonstration".to_owned() }],
        findings: outcome.findings.iter().collect(),
        accepted: Vec::new(),
        weights: &[],
        sources: &sources,
        folder: "",
        complete: true,
    };
    text::findings(&outcome.findings, &sources, text::Style { colour: false, width: 100 });
    json::text(&results).unwrap();
    sarif::text(&results).unwrap();
    let reported = lap();
    let hashes = Hashes::new();
    let input = Input { pictures: &Facts::new(), hashes: &hashes, fingerprint: Some("ab12 cd34".to_owned()), draft: true };
    let document = build::document(&guide, &shop, &input);
    let documented = lap();
    let mut files = 0;
    let mut put = |_: &str, bytes: &[u8]| -> Result<(), SiteError> {
        files += bytes.len();
        Ok(())
    };
    let kept = Publisher::new(&shop, theme).guide(&document, Default::default(), &mut put).unwrap();
    let listed = [kept.listed];
    Publisher::new(&shop, theme).over_all(&listed, &[]).unwrap();
    Publisher::new(&shop, theme).index(&listed, vec![kept.indexed]);
    let paged = lap();
    let on_paper = sheets::Shop {
        name: shop.name.clone(),
        notice: None,
        deferral: shop.deferral.clone(),
        language: shop.language.code().to_owned(),
        say: &bayleaf::phrases::ENGLISH,
        address: None,
    };
    let chosen = Chosen::new(&document.choices, &[], &[]).unwrap();
    let job = Job {
        shop: &on_paper,
        guide: &document,
        pictures: &Pictures::new(),
        chosen: &chosen,
        paper: Paper::A4,
        form: Form::Full,
        record: None,
        missing: &[],
    };
    // What the sheets cannot show is refused with a reason; that has to come soon too.
    let _ = sheets::sheet(&job, Kind::Checklist);
    let _ = sheets::sheet(&job, Kind::Torque);
    let printed = lap();
    let gathered = search::gather(&document, Options::default());
    search::index(&[gathered], &[]);
    let searched = lap();
    guide_json::guide(&document, &shop).unwrap();
    let told = lap();
    // Against itself without its last third, as a revision would be.
    let shorter = &text[..text.floor_char_boundary(text.len() / 3 * 2)];
    let other = SourceFile::new("guide.md", shorter);
    let before = build::document(&guide::read(&other, FileId(1), "demonstration", &shop).0, &shop, &input);
    lap();
    let facts = facts::of(&document, &hashes);
    compare::compare(&facts::of(&before, &hashes), &facts);
    fingerprint::of(&document, &hashes);
    let issued = Issued {
        slug: "demonstration".to_owned(),
        document: None,
        revision: "A".to_owned(),
        issued: Date { year: 2026, month: 1, day: 2 },
        fingerprint: "ab12 cd34".to_owned(),
        pictures: Hashes::new(),
        guide: text.to_owned(),
        shop: used_of_shop(text, text),
    };
    Issued::read(issued.write().as_bytes()).unwrap();
    let compared = lap();
    let file = record_of(&document);
    lap();
    if let Ok(record) = record::read(file.as_bytes()) {
        record::refusal::of_guide(&record, &document);
        record::check(&record, &document, &document);
        record::complete(&record, &document);
    }
    let recorded = lap();
    [read, reviewed, reported, documented, paged, printed, searched, told, compared, recorded]
}

#[test]
fn nothing_grows_as_a_square_of_a_guide() {
    /// By how much the guides grow from the first to the second.
    const GROWS: usize = 4;
    /// The exponent that is let pass, wide because what is measured is short: a square is 2.
    const MOST: f64 = 1.6;
    /// What is shorter says nothing.
    const TELLS: f64 = 0.02;
    let theme = Theme::new(&BTreeMap::new(), Language::English).unwrap();
    let mut steep = Vec::new();
    for (name, start, make) in kinds() {
        let texts = [make(start), make(start * GROWS)];
        if texts[1].len() > 1 << 20 {
            continue;
        }
        let best = |text: &str, tries: usize| {
            (0..tries).map(|_| cost(text, &theme)).reduce(|one, other| std::array::from_fn(|phase| one[phase].min(other[phase])))
        };
        let [small, large] = [best(&texts[0], 1).unwrap(), best(&texts[1], 1).unwrap()];
        let exponent = |small: f64, large: f64| (large / small).log(GROWS as f64);
        let suspect = |small: &[f64; PHASES.len()], large: &[f64; PHASES.len()]| {
            (0..PHASES.len()).filter(|&phase| large[phase] > TELLS && exponent(small[phase], large[phase]) > MOST).collect::<Vec<_>>()
        };
        if suspect(&small, &large).is_empty() {
            continue;
        }
        // Once more, against what else the machine does.
        let [small, large] = [best(&texts[0], 3).unwrap(), best(&texts[1], 3).unwrap()];
        for phase in suspect(&small, &large) {
            let (small, large) = (small[phase], large[phase]);
            steep.push(format!("{name}, {}: {small:.4} s and {large:.4} s, exponent {:.2}", PHASES[phase], exponent(small, large)));
        }
    }
    assert!(steep.is_empty(), "{steep:#?}");
}

#[test]
#[ignore = "takes minutes; prints a table"]
fn every_phase_is_linear_in_every_kind_of_guide() {
    /// Shorter times say nothing of an exponent.
    const TELLS: f64 = 0.25;
    let theme = Theme::new(&BTreeMap::new(), Language::English).unwrap();
    let only = std::env::var("KIND").unwrap_or_default();
    let mut steep = Vec::new();
    for (name, start, make) in kinds().into_iter().filter(|(name, ..)| name.contains(&only)) {
        let mut last: Option<[f64; PHASES.len()]> = None;
        let mut n = start;
        loop {
            let text = make(n);
            if text.len() > 1 << 20 {
                break;
            }
            let mut now = cost(&text, &theme);
            let over = |now: &[f64; PHASES.len()]| {
                let told = |phase: &usize| now[*phase] > TELLS && last.is_some_and(|last| (now[*phase] / last[*phase]).log2() > 1.2);
                (0..PHASES.len()).filter(told).collect::<Vec<usize>>()
            };
            // Once more, against what else the machine does.
            if !over(&now).is_empty() {
                let again = cost(&text, &theme);
                now = std::array::from_fn(|phase| now[phase].min(again[phase]));
            }
            for phase in 0..PHASES.len() {
                if now[phase] > TELLS
                    && let Some(last) = last
                {
                    let exponent = (now[phase] / last[phase]).log2();
                    println!("{name}: {n} ({} kB): {} {:.2} s, exponent {exponent:.2}", text.len() / 1_000, PHASES[phase], now[phase]);
                }
            }
            for phase in over(&now) {
                steep.push(format!("{name}, {}: {:.2} s at {n}", PHASES[phase], now[phase]));
            }
            let sum: f64 = now.iter().sum();
            last = Some(now);
            if sum > 20.0 {
                break;
            }
            n *= 2;
        }
        println!("{name}: up to {n}: {}", last.map_or_else(String::new, |last| format!("{last:.2?}")));
    }
    assert!(steep.is_empty(), "{steep:#?}");
}

/// A case: what it is called, its guide, and the files beside it.
type Worst = (&'static str, String, Vec<(&'static str, Vec<u8>)>);

/// The worst guide at each limit, with files beside it.
fn worst() -> Vec<Worst> {
    let filled = |name: &'static str| {
        let (_, start, make) = kinds().into_iter().find(|(kind, ..)| *kind == name).unwrap();
        let mut n = start;
        while make(n * 2).len() < 1 << 20 {
            n *= 2;
        }
        make(n)
    };
    let caution = |at: usize| {
        format!(
            "\n[[caution]]\nid = \"c{at}\"\nsignal = \"warning\"\nhazard = \"{0}\"\nresult = \"{0}\"\navoid = \"{0}\"\n",
            "Keep away. ".repeat(180)
        )
    };
    let shown = (0..24).map(|at| format!("\"c{at}\"")).collect::<Vec<_>>().join(", ");
    let cautions = format!(
        "{HEAD}{}+++\n{}",
        many(24, caution),
        many(1_000, |at| format!("\n## Step {at}\n\n+++\ncautions = [{shown}]\n+++\n\nDo it.\n"))
    );
    let picture = |file: &str| format!("{HEAD}+++\n\n## Look\n\n![What is seen]({file})\n");
    let drawing =
        format!("<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 99 99\">{}</svg>", "<path d=\"M0 0L9 9\"/>".repeat(99_000));
    let mut photo = std::io::Cursor::new(Vec::new());
    image::GrayImage::from_pixel(11_000, 7_200, image::Luma([90])).write_to(&mut photo, image::ImageFormat::Png).unwrap();
    vec![
        ("1 MB of words", filled("words of a paragraph"), vec![]),
        ("1 MB of lines in a list", filled("points of a list"), vec![]),
        ("1 MB of values", filled("values in words"), vec![]),
        ("1 MB of links", filled("links"), vec![]),
        ("tables of 4,000 cells", words(&many(100, |_| format!("| a | b |\n|---|---|\n{}\n", "| a | b |\n".repeat(1_000)))), vec![]),
        ("1,000 steps", filled("steps of one title"), vec![]),
        (
            "4,000 operations",
            {
                let list = "{ clean = \"Seat\" }, ".repeat(200);
                format!("{HEAD}+++\n{}", many(20, |at| format!("\n## Step {at}\n\n+++\ndo = [{list}]\n+++\n\nDo it.\n")))
            },
            vec![],
        ),
        ("1,000 covers off", filled("covers off and on"), vec![]),
        ("1,000 torques", filled("torques"), vec![]),
        ("1,000 sorts of hardware", filled("hardware"), vec![]),
        ("128 options", filled("options"), vec![]),
        ("24 long cautions in each of 1,000 steps", cautions, vec![]),
        ("1 MB of findings", filled("unknown keys"), vec![]),
        ("a drawing of 99,000 parts", picture("a.svg"), vec![("a.svg", drawing.into_bytes())]),
        ("a photo of 79 million pixels", picture("a.png"), vec![("a.png", photo.into_inner())]),
    ]
}

/// Runs the program in a folder; gives its exit status, seconds, and the most memory it held, in MB.
fn measured(folder: &Path, arguments: &[&str]) -> (Option<i32>, f64, usize) {
    let start = Instant::now();
    let mut child = Command::new(env!("CARGO_BIN_EXE_bayleaf"))
        .arg("-C")
        .arg(folder)
        .args(arguments)
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .spawn()
        .unwrap();
    let status = format!("/proc/{}/status", child.id());
    let mut most = 0;
    let code = loop {
        let text = fs::read_to_string(&status).unwrap_or_default();
        let peak = text.lines().find_map(|line| line.strip_prefix("VmHWM:")?.trim().strip_suffix("kB")?.trim().parse::<usize>().ok());
        most = most.max(peak.unwrap_or_default());
        if let Some(status) = child.try_wait().unwrap() {
            break status.code();
        }
        std::thread::sleep(std::time::Duration::from_millis(5));
    };
    (code, start.elapsed().as_secs_f64(), most / 1_024)
}

#[test]
#[ignore = "takes minutes; prints a table"]
fn the_worst_guide_at_each_limit_needs_no_more_memory_than_there_is() {
    /// In MB: a small rented server has this.
    const ENOUGH: usize = 2_000;
    let only = std::env::var("KIND").unwrap_or_default();
    let mut greedy = Vec::new();
    println!("{:<42} {:>8} {:>9} {:>9} {:>9} {:>9}", "at the limit of", "kB", "review s", "MB", "publish s", "MB");
    for (name, text, files) in worst().into_iter().filter(|(name, ..)| name.contains(&only)) {
        let home = tempfile::tempdir().unwrap();
        let own = home.path().join("guides/demonstration");
        fs::create_dir_all(&own).unwrap();
        fs::write(own.join("guide.md"), &text).unwrap();
        fs::write(home.path().join("guides/shop.toml"), "name = \"Tern Hollow Van Works\"\n").unwrap();
        for (file, bytes) in &files {
            fs::write(own.join(file), bytes).unwrap();
        }
        let size = text.len() + files.iter().map(|(_, bytes)| bytes.len()).sum::<usize>();
        let (reviewed, review_took, review_most) = measured(home.path(), &["review"]);
        let (published, took, most) = measured(home.path(), &["publish", "--unreleased"]);
        println!("{name:<42} {:>8} {review_took:>9.1} {review_most:>9} {took:>9.1} {most:>9}", size / 1_000);
        assert!(reviewed.is_some_and(|code| code < 2) && published.is_some_and(|code| code < 2), "{name}: {reviewed:?} {published:?}");
        if most.max(review_most) > ENOUGH {
            greedy.push(name);
        }
    }
    assert!(greedy.is_empty(), "{greedy:?}");
}
