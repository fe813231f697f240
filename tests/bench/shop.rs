//! Publishes a generated shop and prints what it costs beside two yardsticks run in the same minute:
//! Debian's `cmark` on the same Markdown, and the floor of reading, parsing, writing HTML and putting the
//! same files on disk. `cargo bench --bench shop`, with `-- GUIDES STEPS` for another size; `-- --write FOLDER GUIDES STEPS`
//! only writes the shop, for whoever measures something else with it.

#[path = "generate.rs"]
mod generate;

use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::time::Instant;

use rayon::prelude::*;

const RUNS: usize = 5;

fn main() {
    let numbers: Vec<usize> = std::env::args().skip(1).filter_map(|argument| argument.parse().ok()).collect();
    let (guides, steps) = (numbers.first().copied().unwrap_or(1000), numbers.get(1).copied().unwrap_or(30));
    let arguments: Vec<String> = std::env::args().collect();
    if let Some(at) = arguments.iter().position(|argument| argument == "--write") {
        let folder = arguments.get(at + 1).expect("a folder to write to");
        generate::write_shop(Path::new(folder), guides, steps).expect("the shop is written");
        return;
    }
    // A memory file system, where there is one: fresh writes on a virtual disk swing by a factor of ten.
    let base = if Path::new("/dev/shm").is_dir() { PathBuf::from("/dev/shm") } else { std::env::temp_dir() };
    let home = tempfile::Builder::new().prefix("bayleaf-bench-").tempdir_in(base).expect("a folder to measure in");
    let bytes = generate::write_shop(home.path(), guides, steps).expect("the shop is written");
    let files: Vec<PathBuf> = (0..guides).map(|number| home.path().join(format!("guides/guide-{number:05}.md"))).collect();
    println!("{guides} guides x {steps} steps, {:.1} MB of Markdown, {} threads", bytes as f64 / 1e6, rayon::current_num_threads());

    let mut rows: [Vec<f64>; 4] = Default::default();
    let mut peak = 0;
    let mut has_cmark = true;
    for _ in 0..RUNS {
        let site = home.path().join("site");
        let _ = fs::remove_dir_all(&site);
        rows[0].push(timed(|| peak = peak.max(bayleaf(home.path(), &["publish", "--no-sheets"]))));
        rows[1].push(timed(|| {
            bayleaf(home.path(), &["review"]);
        }));
        rows[2].push(timed(|| has_cmark &= cmark(&files)));
        rows[3].push(floor(&files, &site, &home.path().join("floor")));
    }
    let [publish, review, cmark, floor] = rows.map(median);
    println!("pages only; the checklists as PDF are measured by the bench `print`");
    println!("publish        {:7.1} ms, peak memory {} MB", publish * 1e3, peak / 1024);
    println!("review         {:7.1} ms = {:.2} x publish", review * 1e3, review / publish);
    if has_cmark {
        println!("cmark          {:7.1} ms; publish = {:.2} x cmark", cmark * 1e3, publish / cmark);
    } else {
        println!("cmark is not installed (Debian: apt-get install cmark); its ratio is left out");
    }
    println!("floor          {:7.1} ms; publish = {:.2} x floor", floor * 1e3, publish / floor);
}

fn timed(work: impl FnOnce()) -> f64 {
    let start = Instant::now();
    work();
    start.elapsed().as_secs_f64()
}

fn median(mut times: Vec<f64>) -> f64 {
    times.sort_by(f64::total_cmp);
    times[times.len() / 2]
}

/// Runs the program; gives its peak memory in kilobytes.
fn bayleaf(folder: &Path, arguments: &[&str]) -> u64 {
    let mut child = Command::new(env!("CARGO_BIN_EXE_bayleaf"))
        .arg("-C")
        .arg(folder)
        .args(arguments)
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .spawn()
        .expect("the program starts");
    let status = format!("/proc/{}/status", child.id());
    let mut peak = 0;
    loop {
        if let Ok(text) = fs::read_to_string(&status)
            && let Some(line) = text.lines().find(|line| line.starts_with("VmHWM"))
        {
            peak = peak.max(line.split_whitespace().nth(1).and_then(|kb| kb.parse().ok()).unwrap_or(0));
        }
        if let Some(status) = child.try_wait().expect("the program ends") {
            assert!(status.success(), "{arguments:?}: {status}");
            return peak;
        }
        std::thread::sleep(std::time::Duration::from_millis(2));
    }
}

/// All Markdown through `cmark`, to nowhere; false if it is not installed.
fn cmark(files: &[PathBuf]) -> bool {
    Command::new("cmark").args(files).stdout(Stdio::null()).status().is_ok_and(|status| status.success())
}

/// Read, parse, write HTML to memory, and write the bytes that the site has: what no publisher can do without.
fn floor(files: &[PathBuf], site: &Path, to: &Path) -> f64 {
    let mut outputs: Vec<(PathBuf, Vec<u8>)> = Vec::new();
    gather(site, site, &mut outputs);
    let _ = fs::remove_dir_all(to);
    timed(|| {
        files.par_iter().for_each(|file| {
            let text = fs::read_to_string(file).expect("a guide");
            let mut html = String::with_capacity(text.len() * 2);
            pulldown_cmark::html::push_html(&mut html, pulldown_cmark::Parser::new(&text));
            std::hint::black_box(html);
        });
        outputs.par_iter().for_each(|(path, bytes)| {
            let path = to.join(path);
            fs::create_dir_all(path.parent().expect("a folder")).expect("a folder is made");
            fs::write(path, bytes).expect("a file is written");
        });
    })
}

fn gather(base: &Path, folder: &Path, outputs: &mut Vec<(PathBuf, Vec<u8>)>) {
    for entry in fs::read_dir(folder).expect("the site").flatten() {
        let path = entry.path();
        if path.is_dir() {
            gather(base, &path, outputs);
        } else {
            outputs.push((path.strip_prefix(base).expect("inside").to_owned(), fs::read(&path).expect("a page")));
        }
    }
}
