//! What a guide costs as it grows: each kind of guide that somebody could write to hurt, doubled and doubled again, through every phase.
//! `cargo test --locked --test it bounds -- --ignored --nocapture` prints the times and exponents and fails on an exponent above
//! 1.2 where the time is long enough to tell; the short test keeps what once was slow from coming back.

use std::collections::BTreeMap;
use std::time::Instant;

use bayleaf::document::build::{self, Input};
use bayleaf::document::chosen::Chosen;
use bayleaf::guide;
use bayleaf::guide::picture::Pictures as Facts;
use bayleaf::review;
use bayleaf::sheets::paper::Paper;
use bayleaf::sheets::{self, Form, Job, Kind, Pictures};
use bayleaf::site::{Publisher, SiteError};
use bayleaf::source::{FileId, SourceFile};
use bayleaf::theme::Theme;

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
        ("blocks of TOML in words", 100, |n| words(&many(n, |_| "+++\ntitle = \"x\"\n+++\n\nx\n\n".to_owned()))),
    ]
}

const PHASES: [&str; 5] = ["read", "review", "document", "pages", "sheet"];

/// The seconds of each phase.
fn cost(text: &str, theme: &Theme) -> [f64; 5] {
    let shop = guide::shop::unnamed();
    let source = SourceFile::new("guide.md", text.to_owned());
    let mut at = Instant::now();
    let mut lap = || std::mem::replace(&mut at, Instant::now()).elapsed().as_secs_f64();
    let (guide, findings) = guide::read(&source, FileId(1), "demonstration", &shop);
    let read = lap();
    review::review(&guide, &shop, &Facts::new(), &|_| true, findings);
    let reviewed = lap();
    let document = build::document(
        &guide,
        &shop,
        &Input { pictures: &Facts::new(), hashes: &Default::default(), fingerprint: Some("ab12 cd34".to_owned()), draft: true },
    );
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
    [read, reviewed, documented, paged, lap()]
}

#[test]
#[ignore = "takes minutes; prints a table"]
fn every_phase_is_linear_in_every_kind_of_guide() {
    /// Shorter times say nothing of an exponent.
    const TELLS: f64 = 0.25;
    let theme = Theme::new(&BTreeMap::new(), bayleaf::guide::language::Language::English).unwrap();
    let only = std::env::var("KIND").unwrap_or_default();
    let mut steep = Vec::new();
    for (name, start, make) in kinds().into_iter().filter(|(name, ..)| name.contains(&only)) {
        let mut last: Option<[f64; 5]> = None;
        let mut n = start;
        loop {
            let text = make(n);
            if text.len() > 1 << 20 {
                break;
            }
            let now = cost(&text, &theme);
            for (phase, seconds) in now.iter().enumerate() {
                let exponent = last.map(|last| (seconds / last[phase]).log2());
                let told = exponent.filter(|_| *seconds > TELLS);
                if let Some(exponent) = told {
                    println!("{name}: {n} ({} kB): {} {seconds:.2} s, exponent {exponent:.2}", text.len() / 1_000, PHASES[phase]);
                    if exponent > 1.2 {
                        steep.push(format!("{name}, {}: {exponent:.2} at {n}", PHASES[phase]));
                    }
                }
            }
            let sum: f64 = now.iter().sum();
            if sum > 6.0 {
                break;
            }
            last = Some(now);
            n *= 2;
        }
        println!("{name}: {n}: {}", last.map_or_else(String::new, |last| format!("{last:.2?}")));
    }
    assert!(steep.is_empty(), "{steep:#?}");
}
