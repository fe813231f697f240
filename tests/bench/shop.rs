//! What a shop costs, measured as ratios in one run, each the median of pairs: `cargo bench --bench shop -- WHAT [GUIDES STEPS]`, where WHAT is
//!
//! - `pages`: pages from nothing and the review, beside Debian's `cmark` on the same Markdown and the floor of reading, parsing and writing;
//! - `again`: pages and sheets from nothing, then with nothing changed, with one guide changed, with a tool of the shop renamed;
//! - `grow`: pages of so many guides and of ten times as many, with the peak memory of both;
//! - `preview`: from a saved guide to the new page;
//! - `photos`: three widths of photos, beside `vipsthumbnail`;
//! - `small`: each of them in a small form, for the tests;
//! - `write FOLDER`: the shop alone, for whoever measures something else with it.

#[path = "generate.rs"]
mod generate;
#[path = "measure.rs"]
mod measure;

use std::fs;
use std::io::{BufRead, BufReader};
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::time::Instant;

use measure::{Home, bayleaf, median, pairs, timed};
use rayon::prelude::*;

fn main() {
    let arguments: Vec<String> = std::env::args().skip(1).filter(|argument| argument != "--bench").collect();
    let numbers: Vec<usize> = arguments.iter().filter_map(|argument| argument.parse().ok()).collect();
    let size = |guides: usize| (numbers.first().copied().unwrap_or(guides), numbers.get(1).copied().unwrap_or(30));
    match arguments.first().map_or("pages", String::as_str) {
        "again" => again(size(1000), 7),
        "grow" => grow(size(1000), 7),
        "preview" => preview(size(1000), 15),
        "photos" => photos(24, 7),
        "write" => {
            let (guides, steps) = size(1000);
            generate::write_shop(Path::new(&arguments[1]), guides, steps).expect("the shop is written");
        }
        "small" => {
            pages((6, 4), 1);
            again((4, 4), 1);
            grow((3, 3), 1);
            preview((3, 4), 2);
            photos(2, 1);
        }
        _ => pages(size(1000), 7),
    }
}

/// A generated shop in a folder of its own.
fn shop(guides: usize, steps: usize) -> (Home, Vec<PathBuf>) {
    let home = Home::new();
    let bytes = generate::write_shop(home.path(), guides, steps).expect("the shop is written");
    println!("{guides} guides x {steps} steps, {:.1} MB of Markdown, {} threads", bytes as f64 / 1e6, rayon::current_num_threads());
    let files = (0..guides).map(|number| home.path().join(format!("guides/guide-{number:05}.md"))).collect();
    (home, files)
}

fn pages((guides, steps): (usize, usize), runs: usize) {
    let (home, files) = shop(guides, steps);
    let mut peak = 0;
    let has_cmark = cmark(&files);
    let [publish, review, cmark, floor] = pairs(runs, || {
        let site = home.path().join("site");
        home.clear("site");
        let publish = timed(|| peak = peak.max(bayleaf(home.path(), &["publish", "--no-sheets"])));
        let review = timed(|| bayleaf(home.path(), &["review"]));
        let cmark = timed(|| cmark(&files));
        [publish, review, cmark, floor(&files, &site, &home.path().join("floor"))]
    });
    println!("publish        {:8.1} ms, peak memory {} MB, site {:.1} MB", publish * 1e3, peak / 1024, home.weight("site") / 1e6);
    println!("review         {:8.1} ms = {:.2} x publish", review * 1e3, review / publish);
    match has_cmark {
        true => println!("cmark          {:8.1} ms; publish = {:.2} x cmark", cmark * 1e3, publish / cmark),
        false => println!("cmark is not installed (Debian: apt-get install cmark); its ratio is left out"),
    }
    println!("floor          {:8.1} ms; publish = {:.2} x floor", floor * 1e3, publish / floor);
}

fn again((guides, steps): (usize, usize), runs: usize) {
    let (home, files) = shop(guides, steps);
    let publish = || timed(|| bayleaf(home.path(), &["publish"]));
    home.clear("site");
    let full = publish();
    let text = fs::read_to_string(&files[guides / 2]).expect("a guide");
    let shop = fs::read_to_string(home.path().join("guides/shop.toml")).expect("the shop file");
    let mut turn = 0;
    let [nothing, one, shared] = pairs(runs, || {
        turn += 1;
        let nothing = publish();
        fs::write(&files[guides / 2], format!("{text}\nLook at it once more, turn {turn}.\n")).expect("a guide is written");
        let one = publish();
        fs::write(home.path().join("guides/shop.toml"), shop.replace("Sockets", &format!("Sockets {turn}")))
            .expect("the shop file is written");
        [nothing, one, publish()]
    });
    println!("pages and sheets from nothing   {:8.2} s, site {:.1} MB", full, home.weight("site") / 1e6);
    println!("nothing changed                 {:8.1} ms = {:.4} x full", nothing * 1e3, nothing / full);
    println!("one guide changed               {:8.1} ms = {:.4} x full", one * 1e3, one / full);
    println!("a tool that all guides use      {:8.1} ms = {:.4} x full", shared * 1e3, shared / full);
}

fn grow((guides, steps): (usize, usize), runs: usize) {
    let ((small, _), (large, _)) = (shop(guides, steps), shop(10 * guides, steps));
    let mut peaks = [0; 2];
    let [one, ten] = pairs(runs, || {
        [(0, &small), (1, &large)].map(|(at, home)| {
            home.clear("site");
            timed(|| peaks[at] = peaks[at].max(bayleaf(home.path(), &["publish", "--no-sheets"])))
        })
    });
    println!("{guides} guides   {:8.1} ms, peak memory {} MB", one * 1e3, peaks[0] / 1024);
    println!("{} guides  {:8.1} ms, peak memory {} MB", 10 * guides, ten * 1e3, peaks[1] / 1024);
    println!("ten times as many: {:.2} x the time, {:.2} x the memory", ten / one, peaks[1] as f64 / peaks[0].max(1) as f64);
}

/// What `preview` says of each change it has made.
fn preview((guides, steps): (usize, usize), runs: usize) {
    let (home, files) = shop(guides, steps);
    let mut command = Command::new(env!("CARGO_BIN_EXE_bayleaf"));
    command.arg("-C").arg(home.path()).args(["preview", "--port", "0"]).stdout(Stdio::null()).stderr(Stdio::piped());
    let mut child = command.spawn().expect("the preview starts");
    let mut told = BufReader::new(child.stderr.take().expect("what it says")).lines().map_while(Result::ok);
    let ready = told.find(|line| line.starts_with("ready in ")).expect("the preview is ready");
    let text = fs::read_to_string(&files[0]).expect("a guide");
    let mut times = Vec::new();
    for turn in 0..runs {
        fs::write(&files[0], format!("{text}\nLook at it once more, turn {turn}.\n")).expect("a guide is written");
        let line = told.find(|line| line.contains("made anew in ")).expect("the change is made");
        let time = line.split("made anew in ").nth(1).and_then(|rest| rest.split(' ').next()?.parse::<f64>().ok());
        times.push(time.expect("a time"));
    }
    let _ = child.kill();
    let _ = child.wait();
    println!("preview: {ready}; one guide changed {:.1} ms", median(times));
}

fn photos(count: usize, runs: usize) {
    let home = Home::new();
    let folder = home.path().join("guides/photos");
    fs::create_dir_all(&folder).expect("a folder is made");
    fs::write(home.path().join("guides/shop.toml"), generate::shop()).expect("the shop is written");
    let mut text = generate::guide(0, 4);
    let names: Vec<String> = (0..count).map(|at| format!("photo-{at}.jpg")).collect();
    names.par_iter().enumerate().for_each(|(at, name)| fs::write(folder.join(name), measure::photo(at)).expect("a photo is written"));
    names.iter().for_each(|name| text.push_str(&format!("\n![The bracket as it lies]({name})\n")));
    fs::write(folder.join("guide.md"), text).expect("a guide is written");
    let sources: Vec<PathBuf> = names.iter().map(|name| folder.join(name)).collect();
    let to = home.path().join("thumbs");
    fs::create_dir_all(&to).expect("a folder is made");
    let vips = |width: &str| {
        let format = format!("{}/%s-{width}.jpg[Q=80,strip]", to.display());
        let mut command = Command::new("vipsthumbnail");
        command.args(&sources).args(["--size", width, "-o", &format]).stdout(Stdio::null()).stderr(Stdio::null());
        command.status().is_ok_and(|status| status.success())
    };
    let has_vips = vips("480x");
    let without = || bayleaf(home.path(), &["publish", "--no-sheets"]);
    let [all, again, vips] = pairs(runs, || {
        home.clear("site");
        let all = timed(without);
        let again = timed(without);
        let vips = timed(|| ["480x", "960x", "1600x"].map(vips));
        [all, again, vips]
    });
    println!("{count} photos of 12 megapixels in three widths: publish {:.1} ms, once more {:.1} ms", all * 1e3, again * 1e3);
    match has_vips {
        true => println!("vipsthumbnail {:.1} ms; publish = {:.2} x vipsthumbnail", vips * 1e3, (all - again) / vips),
        false => println!("vipsthumbnail is not installed (Debian: apt-get install libvips-tools); its ratio is left out"),
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
    let start = Instant::now();
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
    start.elapsed().as_secs_f64()
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
