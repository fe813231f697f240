//! Sheets on paper: what stands on them, how they are laid out and tagged, and what happens with bad input. The PDF files are read back
//! with programs and packages that have nothing to do with the one that wrote them.

mod bad;
mod layout;
mod open;
mod record;
mod tags;
mod text;
mod undone;

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};

use bayleaf::document::build::{self, Input};
use bayleaf::document::chosen::Chosen;
use bayleaf::document::{Document, vehicles};
use bayleaf::guide;
use bayleaf::guide::model::Shop;
use bayleaf::guide::picture::Pictures as Facts;
use bayleaf::sheets::paper::Paper;
use bayleaf::sheets::{self, Form, Job, Kind, Made, Pictures, Refused};
use bayleaf::site::guide_page;
use bayleaf::source::{FileId, SourceFile};
use bayleaf::theme::data;

/// The demo guides.
const GUIDES: [&str; 4] = ["second-battery-charger", "swivel-seat-base", "tow-bar-wiring", "transmission-cooler"];

fn root() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
}

fn bayleaf(folder: &Path, arguments: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_bayleaf")).arg("-C").arg(folder).args(arguments).output().unwrap()
}

fn told(output: &Output) -> String {
    String::from_utf8_lossy(&output.stderr).into_owned()
}

/// The demo shop.
fn demo_shop() -> Shop {
    let text = fs::read_to_string(root().join("guides/shop.toml")).unwrap();
    guide::read_shop(&SourceFile::new("shop.toml", text), FileId(0)).0
}

/// A guide's document, and what its page says of it: what a sheet shows is held against the page.
#[derive(Clone)]
struct Guide {
    document: Document,
    page: data::Guide,
}

impl Guide {
    fn new(document: Document) -> Self {
        Guide { page: guide_page::page(&document), document }
    }
}

impl std::ops::Deref for Guide {
    type Target = data::Guide;

    fn deref(&self) -> &data::Guide {
        &self.page
    }
}

/// The document of a guide's text.
fn page_of(slug: &str, text: &str, shop: &Shop) -> Guide {
    let source = SourceFile::new("guide.md", text);
    let (guide, _) = guide::read(&source, FileId(1), slug, shop);
    let input = Input { pictures: &Facts::new(), hashes: &Default::default(), fingerprint: Some("ab12 cd34".to_owned()), draft: false };
    Guide::new(build::document(&guide, shop, &input))
}

/// A demo guide, without its pictures.
fn demo(slug: &str) -> Guide {
    page_of(slug, &fs::read_to_string(root().join(format!("guides/{slug}/guide.md"))).unwrap(), &demo_shop())
}

fn paper_shop(shop: &Shop) -> sheets::Shop {
    sheets::Shop {
        name: shop.name.clone(),
        notice: shop.notice.clone(),
        deferral: shop.deferral.clone(),
        language: shop.language.code().to_owned(),
        say: &bayleaf::phrases::ENGLISH,
        address: shop.address.clone(),
    }
}

fn chosen(page: &Guide, with: &[&str], without: &[&str]) -> Chosen {
    let owned = |ids: &[&str]| ids.iter().map(|id| (*id).to_owned()).collect::<Vec<_>>();
    Chosen::new(&page.document.choices, &owned(with), &owned(without)).unwrap()
}

/// A sheet of a page, without pictures.
fn try_sheet(page: &Guide, kind: Kind, paper: Paper, form: Form, chosen: &Chosen) -> Result<Made, Refused> {
    let shop = paper_shop(&demo_shop());
    sheets::sheet(
        &Job { shop: &shop, guide: &page.document, pictures: &Pictures::new(), chosen, paper, form, record: None, missing: &[] },
        kind,
    )
}

fn sheet(page: &Guide, kind: Kind, paper: Paper, form: Form) -> Vec<u8> {
    try_sheet(page, kind, paper, form, &chosen(page, &[], &[])).unwrap().bytes
}

/// A word with left, top, right and bottom, in points.
type Placed = (String, [f64; 4]);

/// A PDF file in a folder that goes with it.
struct Pdf {
    folder: tempfile::TempDir,
}

impl Pdf {
    fn new(bytes: &[u8]) -> Self {
        let folder = tempfile::tempdir().unwrap();
        fs::write(folder.path().join("sheet.pdf"), bytes).unwrap();
        Pdf { folder }
    }

    fn path(&self) -> PathBuf {
        self.folder.path().join("sheet.pdf")
    }

    fn run(&self, program: &str, arguments: &[&str]) -> String {
        let output = Command::new(program).args(arguments).arg(self.path()).arg("-").output().expect("poppler-utils is installed");
        assert!(output.status.success(), "{program}: {}", String::from_utf8_lossy(&output.stderr));
        String::from_utf8(output.stdout).unwrap()
    }

    /// The text in the order in which it stands in the file.
    fn raw(&self) -> String {
        self.run("pdftotext", &["-raw"])
    }

    /// The text as it is laid out.
    fn laid_out(&self) -> String {
        self.run("pdftotext", &["-layout"])
    }

    /// Each page's size in points, and the words on it.
    fn words(&self) -> Vec<((f64, f64), Vec<Placed>)> {
        let html = self.run("pdftotext", &["-bbox"]);
        let number =
            |tag: &str, name: &str| -> f64 { tag.split(&format!("{name}=\"")).nth(1).unwrap().split('"').next().unwrap().parse().unwrap() };
        let mut pages = Vec::new();
        for line in html.lines().map(str::trim) {
            if line.starts_with("<page ") {
                pages.push(((number(line, "width"), number(line, "height")), Vec::new()));
            } else if line.starts_with("<word ") {
                let text = line.split('>').nth(1).unwrap().split('<').next().unwrap().to_owned();
                let edges = ["xMin", "yMin", "xMax", "yMax"].map(|name| number(line, name));
                pages.last_mut().unwrap().1.push((text, edges));
            }
        }
        pages
    }

    /// Each page as grey pixels with its width and height.
    fn rasterised(&self, dots: u32) -> Vec<(usize, usize, Vec<u8>)> {
        let to = self.folder.path().join("page");
        let output = Command::new("pdftoppm").args(["-gray", "-r", &dots.to_string()]).arg(self.path()).arg(&to).output().unwrap();
        assert!(output.status.success());
        let mut files: BTreeMap<PathBuf, Vec<u8>> = BTreeMap::new();
        for entry in
            fs::read_dir(self.folder.path()).unwrap().flatten().filter(|entry| entry.path().extension().is_some_and(|e| e == "pgm"))
        {
            files.insert(entry.path(), fs::read(entry.path()).unwrap());
        }
        files.into_values().map(|bytes| grey_map(&bytes)).collect()
    }
}

/// A binary grey map: `P5`, width, height, largest value, pixels.
fn grey_map(bytes: &[u8]) -> (usize, usize, Vec<u8>) {
    let mut at = 0;
    let mut fields = Vec::new();
    while fields.len() < 4 {
        let end = at + bytes[at..].iter().position(u8::is_ascii_whitespace).unwrap();
        fields.push(String::from_utf8_lossy(&bytes[at..end]).into_owned());
        at = end + 1;
    }
    (fields[1].parse().unwrap(), fields[2].parse().unwrap(), bytes[at..].to_vec())
}

/// Text without spaces, so that line breaks do not count.
fn squeezed(text: &str) -> String {
    text.chars().filter(|c| !c.is_whitespace()).collect()
}

/// A guide's text with steps.
fn guide_with(head: &str, steps: impl IntoIterator<Item = String>) -> String {
    let steps: Vec<String> = steps.into_iter().collect();
    format!(
        "+++\ntitle = \"Try the lamp\"\nrevision = \"A\"\nissued = 2026-01-02\nfits = [\"marlin-3500\"]\nfinal_check = [\"The lamp is on\"]\n{head}\n+++\n\n{}",
        steps.join("\n")
    )
}
