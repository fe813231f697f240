//! Publishing makes only what changed, and gives the bytes that a publish from nothing gives: held by random sequences of edits, each ending in
//! a comparison of every file and of every word that was told. `RUNS=2000 cargo test --locked --test it sequences_of_edits -- --ignored --nocapture`
//! runs so many; a share runs with the other tests.

use std::collections::BTreeMap;
use std::fs;
use std::io::Write as _;
use std::path::{Path, PathBuf};
use std::time::SystemTime;

use crate::history::{Numbers, SHOP, bayleaf, put, told};

const DRAWING: &str = "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 40 30\"><path d=\"M1 1h9v9z\"/></svg>\n";
const NAMES: [&str; 6] = ["lamp", "bracket", "rail", "cover", "tray", "duct"];

/// A guide as the edits left it.
#[derive(Clone)]
struct Guide {
    name: String,
    words: usize,
    torque: usize,
    number: usize,
    link: Option<String>,
    was: Option<String>,
    held: bool,
    withdrawn: bool,
    revision: usize,
}

impl Guide {
    fn new(name: &str, number: usize) -> Self {
        Guide { name: name.to_owned(), words: 0, torque: 22, number, link: None, was: None, held: false, withdrawn: false, revision: 0 }
    }

    fn text(&self) -> String {
        let letter = ["A", "B", "C", "D", "E", "F", "G", "H"][self.revision % 8];
        let day = self.revision % 8 + 1;
        let was = self.was.as_ref().map(|was| format!("was = [\"{was}\"]\n")).unwrap_or_default();
        let withdrawn = if self.withdrawn { "withdrawn = \"The kit is sold no more\"\n" } else { "" };
        let link = self.link.as_ref().map(|to| format!(" See [the other job](guide:{to}).")).unwrap_or_default();
        let held = if self.held { " Do [it](step:nowhere)." } else { "" };
        let change = if self.revision > 0 {
            format!(
                "\n[[change]]\nrevision = \"{letter}\"\nissued = 2026-01-0{day}\nwhat = \"Torque of the bolts, {}\"\nabout = [\"bolt\"]\n",
                self.torque
            )
        } else {
            String::new()
        };
        format!(
            "+++\ntitle = \"Fit the {}\"\ndocument = \"TH-{}\"\nrevision = \"{letter}\"\nissued = 2026-01-0{day}\nfits = [\"marlin-3500\"]\n{was}{withdrawn}\
             final_check = [\"It does not move\"]\nsources = {{ sheet = \"Fitting sheet\" }}\ntools = [\"torque-wrench-60\", \"sockets-small\"]\n\n\
             [[option]]\nid = \"heated\"\nname = \"Heated\"\n\n[[item]]\nid = \"bracket\"\nname = \"Bracket\"\nopen_at_start = true\n\n\
             [[hardware]]\nid = \"bolt\"\nname = \"Bracket bolt\"\nthread = \"M8 x 1.25\"\nclass = \"8.8\"\ndrive = \"13 mm hex\"\nsupplied = 4\n\n\
             [[spec]]\nid = \"bolt\"\nfor = \"bolt\"\ntorque = \"{} N·m\"\nsource = \"sheet\"\npattern = \"crosswise\"\n{change}+++\n\n\
             ![The bracket](own.svg)\n\n## Fit it\n\n+++\nid = \"bolt-it\"\ndo = [{{ fit = \"bracket\", hardware = \"4 x bolt\", torque = \"bolt\" }}]\n+++\n\n\
             Bolt the bracket down, as in text {}.{link}{held}\n",
            self.name, self.number, self.torque, self.words
        )
    }
}

/// A photo of one colour.
fn photo(colour: usize) -> Vec<u8> {
    // A PNG with stored rows: signature, header, one zlib stream without compression, end (RFC 2083, RFC 1950).
    let (width, height) = (500_u32, 20_u32);
    let mut rows = Vec::new();
    for _ in 0..height {
        rows.push(0);
        rows.extend(std::iter::repeat_n([(colour * 37) as u8, 90, 120], width as usize).flatten());
    }
    let mut stream = vec![0x78, 0x01];
    let mut parts = rows.chunks(60_000).peekable();
    while let Some(part) = parts.next() {
        stream.push(u8::from(parts.peek().is_none()));
        stream.extend((part.len() as u16).to_le_bytes());
        stream.extend((!(part.len() as u16)).to_le_bytes());
        stream.extend(part);
    }
    let (mut a, mut b) = (1_u32, 0_u32);
    for byte in &rows {
        a = (a + u32::from(*byte)) % 65_521;
        b = (b + a) % 65_521;
    }
    stream.extend((b << 16 | a).to_be_bytes());
    let mut png = b"\x89PNG\r\n\x1a\n".to_vec();
    let mut chunk = |kind: &[u8], data: &[u8]| {
        let checked: Vec<u8> = kind.iter().chain(data).copied().collect();
        let mut sum = !0_u32;
        for byte in &checked {
            sum ^= u32::from(*byte);
            for _ in 0..8 {
                sum = sum >> 1 ^ (0xedb8_8320 & 0_u32.wrapping_sub(sum & 1));
            }
        }
        png.extend((data.len() as u32).to_be_bytes());
        png.extend(checked);
        png.extend((!sum).to_be_bytes());
    };
    let header: Vec<u8> = width.to_be_bytes().into_iter().chain(height.to_be_bytes()).chain([8, 2, 0, 0, 0]).collect();
    chunk(b"IHDR", &header);
    chunk(b"IDAT", &stream);
    chunk(b"IEND", b"");
    png
}

/// Every file of a folder with its content and the time it was written.
fn files(folder: &Path) -> BTreeMap<PathBuf, (Vec<u8>, SystemTime)> {
    let mut found = BTreeMap::new();
    let mut open = vec![folder.to_owned()];
    while let Some(at) = open.pop() {
        for entry in fs::read_dir(&at).into_iter().flatten().flatten() {
            let path = entry.path();
            if path.is_dir() {
                open.push(path);
            } else {
                let time = fs::metadata(&path).unwrap().modified().unwrap();
                found.insert(path.strip_prefix(folder).unwrap().to_owned(), (fs::read(&path).unwrap(), time));
            }
        }
    }
    found
}

/// A shop under edits.
struct Shop {
    home: tempfile::TempDir,
    guides: Vec<Guide>,
    next: usize,
    tools: usize,
    sheet: bool,
    numbers: Numbers,
    done: Vec<String>,
}

impl Shop {
    fn new(seed: u64) -> Self {
        let mut numbers = Numbers(seed.wrapping_mul(0x9e37_79b9_7f4a_7c15) | 1);
        let count = 2 + numbers.below(3);
        let guides = (0..count).map(|at| Guide::new(NAMES[at], at)).collect();
        let shop = Shop { home: tempfile::tempdir().unwrap(), guides, next: count, tools: 0, sheet: false, numbers, done: Vec::new() };
        shop.write_shop();
        for at in 0..count {
            shop.write(at);
        }
        shop
    }

    fn folder(&self, name: &str) -> PathBuf {
        self.home.path().join("guides").join(name)
    }

    fn write(&self, at: usize) {
        let guide = &self.guides[at];
        put(self.home.path(), &format!("{}/guide.md", guide.name), &guide.text());
        if !self.folder(&guide.name).join("own.svg").exists() {
            put(self.home.path(), &format!("{}/own.svg", guide.name), DRAWING);
        }
    }

    fn write_shop(&self) {
        let mut text = SHOP.replace("name = \"Torque wrench", &format!("name = \"Wrench {} for torque", self.tools));
        if self.sheet {
            text.push_str(&format!("\n[[sheet]]\nguide = \"{}\"\nwith = [\"heated\"]\n", self.guides[0].name));
        }
        put(self.home.path(), "shop.toml", &text);
    }

    /// One edit, whatever it is.
    fn edit(&mut self) {
        let kind = self.numbers.below(22);
        let at = self.numbers.below(self.guides.len());
        let name = self.guides[at].name.clone();
        self.done.push(format!("{kind} of {name}"));
        let cache = self.home.path().join(".bayleaf-cache-site");
        match kind {
            0 | 1 => self.guides[at].words += 1,
            2 => self.guides[at].torque = 20 + self.numbers.below(6),
            3 => {
                self.tools += 1;
                self.write_shop();
            }
            4 => {
                let name = format!("{}-{}", NAMES[self.numbers.below(6)], self.next);
                self.guides.push(Guide::new(&name, self.next));
                self.next += 1;
                self.write(self.guides.len() - 1);
            }
            5 if self.guides.len() > 1 => {
                self.guides.remove(at);
                fs::remove_dir_all(self.folder(&name)).unwrap();
                return;
            }
            6 => {
                let new = format!("renamed-{}", self.next);
                self.next += 1;
                fs::rename(self.folder(&name), self.folder(&new)).unwrap();
                self.guides[at].was = (self.numbers.below(2) == 0).then_some(name);
                self.guides[at].name = new;
            }
            7 => {
                let side = self.numbers.below(30) + 1;
                put(self.home.path(), &format!("{name}/own.svg"), &DRAWING.replace("h9", &format!("h{side}")));
            }
            8 => drop(fs::remove_file(self.folder(&name).join("own.svg"))),
            9 => {
                let themes = self.home.path().join("themes");
                fs::create_dir_all(&themes).unwrap();
                fs::write(themes.join("own.css"), format!("a{{order:{}}}", self.numbers.below(4))).unwrap();
            }
            10 => {
                let wait = include_str!("../../themes/wait.html");
                let themes = self.home.path().join("themes");
                fs::create_dir_all(&themes).unwrap();
                fs::write(themes.join("wait.html"), format!("{wait}<!-- {} -->", self.numbers.below(3))).unwrap();
            }
            11 => drop(fs::remove_dir_all(self.home.path().join("themes"))),
            12 => {
                self.sheet = !self.sheet;
                self.write_shop();
            }
            13 => self.guides[at].held = !self.guides[at].held,
            14 => self.guides[at].withdrawn = !self.guides[at].withdrawn,
            15 => self.guides[at].number = self.numbers.below(self.guides.len()),
            16 => {
                let to = self.numbers.below(self.guides.len() + 1);
                self.guides[at].link = Some(self.guides.get(to).map_or("nobody", |guide| guide.name.as_str()).to_owned());
            }
            17 => {
                self.guides[at].revision += 1;
                self.write(at);
                bayleaf(self.home.path(), &["issue", &name]);
            }
            18 => {
                // A cache that is cut off, damaged, of nobody, or gone.
                let Ok(mut bytes) = fs::read(&cache) else { return };
                match self.numbers.below(4) {
                    0 => bytes.truncate(self.numbers.below(bytes.len())),
                    1 => {
                        let place = self.numbers.below(bytes.len());
                        bytes[place] ^= 1 << self.numbers.below(8);
                    }
                    2 => bytes = b"another thing".to_vec(),
                    _ => {
                        fs::remove_file(&cache).unwrap();
                        return;
                    }
                }
                fs::write(&cache, bytes).unwrap();
            }
            19 => {
                // A photo in the place of the drawing, with the size and the time of the one before.
                let path = self.folder(&name).join("own.svg");
                let time = fs::metadata(&path).ok().and_then(|facts| facts.modified().ok());
                fs::write(&path, photo(self.numbers.below(5))).unwrap();
                if let Some(time) = time {
                    fs::File::options().write(true).open(&path).unwrap().set_modified(time).unwrap();
                }
            }
            20 => {
                // The same words, written anew by a clock that ran backwards.
                let path = self.folder(&name).join("guide.md");
                let mut file = fs::File::create(&path).unwrap();
                file.write_all(self.guides[at].text().as_bytes()).unwrap();
                file.set_modified(SystemTime::UNIX_EPOCH).unwrap();
                return;
            }
            _ => return,
        }
        self.write_again(at);
    }

    /// The text of a guide once more; a picture that was taken away stays away.
    fn write_again(&self, at: usize) {
        if let Some(guide) = self.guides.get(at) {
            put(self.home.path(), &format!("{}/guide.md", guide.name), &guide.text());
        }
    }

    /// Publishes; gives back what was told but for time and number of changes, and the exit status.
    fn publish(&self, to: &str, more: &[&str]) -> (String, Option<i32>) {
        let output = bayleaf(self.home.path(), &[&["publish", "--fewer-guides", "--to", to], more].concat());
        let told = told(&output).replace(&format!("/{to}"), "/TO");
        let plain = |line: &&str| !line.starts_with("published ") && !line.starts_with("no longer on the site") && !line.is_empty();
        (told.lines().filter(plain).collect::<Vec<_>>().join("\n"), output.status.code())
    }

    /// A few edits, each published; then everything is as from nothing.
    fn sequence(&mut self, sheets: bool) {
        let mut flags: Vec<&str> = if sheets { Vec::new() } else { vec!["--no-sheets"] };
        self.publish("site", &flags);
        for _ in 0..1 + self.numbers.below(3) {
            for _ in 0..1 + self.numbers.below(2) {
                self.edit();
            }
            match self.numbers.below(9) {
                0 => flags.push("--unreleased"),
                1 => flags.push("--strict"),
                2 => flags.truncate(usize::from(!sheets)),
                _ => {}
            }
            flags.dedup();
            let before = files(&self.home.path().join("site"));
            let now = self.publish("site", &flags);
            let after = files(&self.home.path().join("site"));
            for (path, (bytes, time)) in &after {
                // The record is written with every change.
                let same = before.get(path).is_none_or(|(known, then)| known != bytes || then == time);
                assert!(same || path.ends_with(".bayleaf-site"), "{} did not change and has another time: {:?}", path.display(), self.done);
            }
            let anew = self.publish("anew", &[&flags[..], &["--anew"]].concat());
            let expected = files(&self.home.path().join("anew"));
            // Where nothing may be published there is no other site, and the old one stays.
            if expected.is_empty() {
                assert!(before.iter().map(|(path, file)| (path, &file.0)).eq(after.iter().map(|(path, file)| (path, &file.0))));
                assert_eq!(now, anew, "after {:?} with {flags:?}", self.done);
                continue;
            }
            let paths = expected.keys().chain(after.keys());
            let differ: Vec<&PathBuf> =
                paths.filter(|path| expected.get(*path).map(|file| &file.0) != after.get(*path).map(|file| &file.0)).collect();
            assert!(differ.is_empty(), "after {:?} with {flags:?}: {differ:?}\n{}\n{}", self.done, now.0, anew.0);
            assert_eq!(now, anew, "after {:?} with {flags:?}", self.done);
            let _ = fs::remove_dir_all(self.home.path().join("anew"));
        }
    }
}

fn sequences(runs: u64, sheets_each: u64) {
    use rayon::prelude::*;
    (0..runs).into_par_iter().for_each(|seed| Shop::new(seed + 1).sequence(seed % sheets_each == 0));
    println!("{runs} sequences of edits, each like a publish from nothing");
}

#[test]
fn a_share_of_sequences_of_edits_gives_what_a_publish_from_nothing_gives() {
    sequences(24, 12);
}

#[test]
#[ignore = "minutes"]
fn sequences_of_edits_give_what_a_publish_from_nothing_gives() {
    sequences(std::env::var("RUNS").ok().and_then(|runs| runs.parse().ok()).unwrap_or(2000), 16);
}

/// What plays beside a guide is no picture and follows from no text: it is known by how it lies on the disk.
#[test]
fn a_video_that_changed_goes_out_again_and_one_that_went_goes() {
    let home = tempfile::tempdir().unwrap();
    let run = |arguments: &[&str]| told(&bayleaf(home.path(), arguments));
    run(&["start"]);
    let guide = home.path().join("guides/first-aid-box/guide.md");
    let text = fs::read_to_string(&guide).unwrap().replacen("\ntitle", "\nvideo = \"work.mp4\"\ntitle", 1);
    fs::write(&guide, text).unwrap();
    let (video, out) = (guide.with_file_name("work.mp4"), home.path().join("site/guides/first-aid-box/work.mp4"));
    for content in [&b"one"[..], b"another"] {
        fs::write(&video, content).unwrap();
        let said = run(&["publish", "--no-sheets"]);
        assert_eq!(fs::read(&out).unwrap(), content, "{said}");
        assert!(run(&["publish", "--no-sheets"]).contains("nothing changed"));
        assert_eq!(fs::read(&out).unwrap(), content);
    }
    fs::remove_file(&video).unwrap();
    let said = run(&["publish", "--no-sheets"]);
    assert!(!out.exists() && said.contains("the video cannot be shown"), "{said}");
}
