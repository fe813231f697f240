//! Reviews one long guide with many options in memory and prints what that costs beside reading it: 200 steps and 12
//! options unless said otherwise. `cargo bench --bench review`, with `-- STEPS OPTIONS` for another size.

use std::fmt::Write;
use std::hint::black_box;
use std::time::Instant;

use bayleaf::guide::picture::Pictures;
use bayleaf::guide::{self, shop};
use bayleaf::review;
use bayleaf::source::{FileId, SourceFile};

const RUNS: usize = 41;

fn main() {
    let numbers: Vec<usize> = std::env::args().skip(1).filter_map(|argument| argument.parse().ok()).collect();
    let (steps, options) = (numbers.first().copied().unwrap_or(200), numbers.get(1).copied().unwrap_or(12));
    for (words, closed) in [("every connector is closed again", true), ("one connector in each option is left open", false)] {
        let source = SourceFile::new("guides/long.md", long_guide(steps, options, closed));
        let shop = shop::unnamed();
        let pictures = Pictures::new();
        let (mut reading, mut reviewing, mut found) = (Vec::new(), Vec::new(), 0);
        for _ in 0..RUNS {
            let start = Instant::now();
            let (guide, findings) = guide::read(black_box(&source), FileId(1), "long", &shop);
            reading.push(start.elapsed().as_secs_f64());
            let start = Instant::now();
            let outcome = review::review(&guide, &shop, &pictures, &|_| true, findings);
            reviewing.push(start.elapsed().as_secs_f64());
            found = black_box(outcome).findings.len();
        }
        let (read, review) = (median(reading), median(reviewing));
        println!("{steps} steps, {options} options, {} KB, {words}", source.text.len() / 1024);
        println!("  read   {:6.2} ms", read * 1e3);
        println!("  review {:6.2} ms = {:.2} x read, {found} findings", review * 1e3, review / read);
    }
}

fn median(mut times: Vec<f64>) -> f64 {
    times.sort_by(f64::total_cmp);
    times[times.len() / 2]
}

/// A guide in which every option has connectors and clips of its own, and all share one sort of screw.
fn long_guide(steps: usize, options: usize, closed: bool) -> String {
    let mut text = "+++\ntitle = \"Fit the demonstration kit\"\nhours = \"1..9\"\nsources = { sheet = \"Invented sheet\" }\n".to_owned();
    let mut line = |words: std::fmt::Arguments<'_>| text.write_fmt(words).expect("text can be written to");
    line(format_args!("\n[[hardware]]\nid = \"screw\"\nname = \"Panel screw\"\nno_torque = \"plastic\"\non_vehicle = {options}\n"));
    for option in 0..options {
        // The first six are two groups of three, the others are free.
        let group = if option < 6 { format!("one_of = \"group-{}\"\n", option / 3) } else { String::new() };
        line(format_args!("\n[[option]]\nid = \"option-{option}\"\nname = \"Option {option}\"\n{group}"));
    }
    let half = steps / 2;
    for at in 0..half {
        line(format_args!("\n[[item]]\nid = \"panel-{at}\"\nname = \"Panel number {at}\"\n"));
        line(format_args!("\n[[connector]]\nid = \"plug-{at}\"\nname = \"Plug number {at}\"\nbehind = [\"panel-{at}\"]\n"));
    }
    line(format_args!("+++\n\n# Strip down\n"));
    for at in 0..half {
        let option = at % options.max(1);
        let screws = if at < options { ", hardware = \"1 x screw\"" } else { "" };
        line(format_args!(
            "\n## Take panel {at} off\n\n+++\nminutes = 2\ndo = [\n  {{ remove = \"panel-{at}\"{screws}, when = \"option-{option}\" }},\n  {{ disconnect = \"plug-{at}\", when = \"option-{option}\" }},\n]\n+++\n\nLift [the panel](item:panel-{at}) off.\nPress the latch of the plug while you pull its housing.\nIf the latch is broken, write it on the job card.\n"
        ));
    }
    line(format_args!("\n# Close up\n"));
    for at in 0..half {
        let option = at % options.max(1);
        let screws = if at < options { ", hardware = \"1 x screw\"" } else { "" };
        let connect =
            if closed || at >= options { format!("  {{ connect = \"plug-{at}\", when = \"option-{option}\" }},\n") } else { String::new() };
        line(format_args!(
            "\n## Put panel {at} back\n\n+++\nminutes = 3\ndo = [\n{connect}  {{ fit = \"panel-{at}\"{screws}, when = \"option-{option}\" }},\n]\n+++\n\nPush the plug together until its latch clicks.\nPress [the panel](item:panel-{at}) on until it snaps in.\n"
        ));
    }
    text
}
