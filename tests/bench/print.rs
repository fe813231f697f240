//! Prints the sheets of a generated guide and says what it costs: the command from start to end, and one sheet in memory.
//! `cargo bench --bench print`, with `-- STEPS` for another size.

#[path = "generate.rs"]
mod generate;

use std::fs;
use std::process::{Command, Stdio};
use std::time::Instant;

use bayleaf::document::build::{self, Input};
use bayleaf::document::chosen::Chosen;
use bayleaf::guide;
use bayleaf::guide::picture::Pictures as Facts;
use bayleaf::sheets::paper::Paper;
use bayleaf::sheets::{self, Form, Job, Kind, Pictures};
use bayleaf::source::{FileId, SourceFile};

const RUNS: usize = 9;

fn main() {
    let steps = std::env::args().skip(1).find_map(|argument| argument.parse().ok()).unwrap_or(40);
    let home = tempfile::tempdir().expect("a folder to measure in");
    generate::write_shop(home.path(), 1, steps).expect("the shop is written");
    let name = "guide-00000";
    for form in ["short", "full"] {
        let command = || {
            let mut command = Command::new(env!("CARGO_BIN_EXE_bayleaf"));
            command
                .arg("-C")
                .arg(home.path())
                .args(["print", name, "--form", form, "--to", "sheets"])
                .stdout(Stdio::null())
                .stderr(Stdio::null());
            assert!(command.status().expect("bayleaf runs").code().is_some_and(|code| code < 2));
        };
        println!("{steps} steps, {form}: the command {:6.1} ms", median(command) * 1e3);
    }
    let read = |path: &str| fs::read_to_string(home.path().join(path)).expect("the shop was written");
    let shop = guide::read_shop(&SourceFile::new("shop.toml", read("guides/shop.toml")), FileId(0)).0;
    let source = SourceFile::new("guide.md", read(&format!("guides/{name}.md")));
    let (guide, _) = guide::read(&source, FileId(1), name, &shop);
    let input = Input { pictures: &Facts::new(), hashes: &Default::default(), fingerprint: Some("0000 0000".to_owned()), draft: false };
    let document = build::document(&guide, &shop, &input);
    let paper_shop = sheets::Shop {
        name: shop.name.clone(),
        deferral: shop.deferral.clone(),
        language: shop.language.code().to_owned(),
        say: &bayleaf::phrases::ENGLISH,
        address: Some("https://guides.example/".to_owned()),
        notice: None,
    };
    let chosen = Chosen::new(&document.choices, &[], &[]).expect("nothing is chosen");
    for (form, word) in [(Form::Short, "short"), (Form::Full, "full")] {
        let job = Job {
            shop: &paper_shop,
            guide: &document,
            pictures: &Pictures::new(),
            chosen: &chosen,
            paper: Paper::A4,
            form,
            record: None,
            missing: &[],
        };
        let mut bytes = 0;
        let time = median(|| bytes = sheets::sheet(&job, Kind::Checklist).expect("a sheet").bytes.len());
        println!("{steps} steps, {word}: one sheet in memory {:6.1} ms, {} kB", time * 1e3, bytes / 1000);
    }
}

fn median(mut work: impl FnMut()) -> f64 {
    let mut times: Vec<f64> = (0..RUNS)
        .map(|_| {
            let start = Instant::now();
            work();
            start.elapsed().as_secs_f64()
        })
        .collect();
    times.sort_by(f64::total_cmp);
    times[RUNS / 2]
}
