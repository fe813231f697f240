//! What inputs are made from: the demo shop, the examples of the rules, the clean guides of the seeded tests, and small ones made here.

use std::collections::BTreeSet;
use std::fs;
use std::io::Cursor;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use bayleaf::guide::model::Date;
use bayleaf::issued::Issued;
use bayleaf::record;
use image::{ImageFormat, RgbImage};
use serde_json::Value;

use super::mutate::Kind;

/// Shop and guide of the table of records.
pub(super) const RECORD_SHOP: &str = include_str!("../vectors/shop.toml");
pub(super) const RECORD_GUIDE: &str = include_str!("../vectors/guide.md");

pub(super) fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

/// Every file below a folder whose name ends so, in order.
fn files(folder: &str, ending: &str) -> Vec<PathBuf> {
    let mut found = Vec::new();
    let mut open = vec![root().join(folder)];
    while let Some(at) = open.pop() {
        for entry in fs::read_dir(&at).unwrap_or_else(|error| panic!("{}: {error}", at.display())).flatten() {
            let path = entry.path();
            if path.is_dir() {
                open.push(path);
            } else if path.to_string_lossy().ends_with(ending) {
                found.push(path);
            }
        }
    }
    found.sort();
    assert!(!found.is_empty(), "{folder} has no {ending}");
    found
}

fn read(folder: &str, ending: &str) -> Vec<String> {
    files(folder, ending).into_iter().map(|path| fs::read_to_string(path).unwrap()).collect()
}

/// The guides in the examples of the rules.
fn examples() -> Vec<String> {
    let mut found = Vec::new();
    for text in read("src/review/rules", ".md").iter().chain(&read("tests/rules", ".md")) {
        let guides = text.split("````guide\n").skip(1).filter_map(|rest| rest.split("\n````").next());
        found.extend(guides.map(|guide| format!("{guide}\n")));
    }
    assert!(found.len() > 150, "{}", found.len());
    found
}

fn guides() -> Vec<String> {
    let mut found = examples();
    found.extend(read("tests/seeded/metric/guides", ".md"));
    found.extend(read("tests/seeded/imperial/guides", ".md"));
    found.extend(read("guides", "guide.md"));
    found.push(RECORD_GUIDE.to_owned());
    found
}

/// What stands between quotation marks in guides.
fn words() -> Vec<String> {
    let mut found: BTreeSet<String> = BTreeSet::new();
    for guide in guides() {
        let quoted = guide.lines().filter(|line| line.contains('=')).flat_map(|line| line.split('"').skip(1).step_by(2));
        found.extend(quoted.filter(|text| text.len() < 80 && text.contains(|c: char| c.is_ascii_digit())).map(str::to_owned));
    }
    assert!(found.len() > 300, "{}", found.len());
    found.into_iter().collect()
}

/// The record that the table of refusals begins with, sealed.
fn records() -> Vec<String> {
    let table: Value = serde_json::from_str(include_str!("../vectors/records.json")).unwrap();
    let body = serde_json::to_string_pretty(&table["record"]).unwrap();
    let body = body.strip_suffix("\n}").unwrap();
    vec![format!("{body},\n  \"seal\": \"{}\"\n}}\n", record::seal(body))]
}

fn issued() -> Vec<String> {
    let mut found = read("guides", ".issue");
    for guide in examples().into_iter().step_by(5) {
        let issued = Issued {
            slug: "example".to_owned(),
            document: Some("TH-1".to_owned()),
            revision: "A".to_owned(),
            issued: Date { year: 2026, month: 9, day: 14 },
            fingerprint: "ab12 cd34".to_owned(),
            pictures: [("a.svg".to_owned(), "0".repeat(64))].into(),
            guide,
            shop: RECORD_SHOP.to_owned(),
        };
        found.push(issued.write());
    }
    found
}

fn photos() -> Vec<Vec<u8>> {
    let picture = RgbImage::from_fn(24, 16, |x, y| image::Rgb([(x * 10) as u8, (y * 15) as u8, 90]));
    let as_format = |format| {
        let mut bytes = Cursor::new(Vec::new());
        picture.write_to(&mut bytes, format).unwrap();
        bytes.into_inner()
    };
    let jpeg = as_format(ImageFormat::Jpeg);
    // With the note of a camera that the picture lies on its side.
    let mut turned = jpeg.clone();
    let note: &[u8] = b"\xff\xe1\x00\x22Exif\0\0MM\0*\0\0\0\x08\0\x01\x01\x12\0\x03\0\0\0\x01\0\x06\0\0\0\0\0\0";
    turned.splice(2..2, note.iter().copied());
    vec![jpeg, turned, as_format(ImageFormat::Png), as_format(ImageFormat::WebP)]
}

const DRAWINGS: &[&str] = &[
    "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 40 20\"><rect width=\"40\" height=\"20\"/></svg>",
    "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"4cm\" height=\"2in\"><style>.a{fill:red;stroke:#123}@media print{.a{fill:none}}</style><g class=\"a\"><path d=\"M0 0h9v9a3 2 0 0 1-9 0z\"/></g></svg>",
    "<svg xmlns=\"http://www.w3.org/2000/svg\" xmlns:xlink=\"http://www.w3.org/1999/xlink\" viewBox=\"0 0 99 99\"><defs><linearGradient id=\"a\"><stop offset=\"0\" stop-color=\"red\"/></linearGradient><symbol id=\"b\"><circle r=\"4\" fill=\"url(#a)\"/></symbol></defs><use xlink:href=\"#b\" x=\"9\"/><text x=\"1\" y=\"9\" font-size=\"8\">A <tspan font-weight=\"bold\">B</tspan></text></svg>",
    "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 9 9\"><clipPath id=\"c\"><rect width=\"5\" height=\"5\"/></clipPath><mask id=\"m\"><rect width=\"9\" height=\"9\" fill=\"#fff\"/></mask><g clip-path=\"url(#c)\" mask=\"url(#m)\" transform=\"rotate(30 4 4) scale(2)\"><polyline points=\"0,0 9,9 0,9\" marker-end=\"url(#k)\"/></g><marker id=\"k\"><path d=\"M0 0l3 3\"/></marker></svg>",
    "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 9 9\"><pattern id=\"p\" width=\"2\" height=\"2\" patternUnits=\"userSpaceOnUse\"><rect width=\"1\" height=\"1\"/></pattern><rect width=\"9\" height=\"9\" style=\"fill:url(#p)\" onclick=\"x()\"/><script>x()</script><metadata>by</metadata></svg>",
];

const LISTS: &[&str] = &[
    "4 x Flange bolt, M8 x 30, 8.8\n2 Washer\nBracket TH-100\n",
    "qty,name,number,thread,length,class\n4,\"Bolt, flange\",TH-1,M8x1.25,30 mm,8.8\n1,Base,TH-2,,,\n",
    "Menge;Bezeichnung;Artikelnummer\n4;Schraube M8x30;0815\n",
    "4\tBolt 1/4-20 UNC x 1\"\tTH-9\n8\tNut 1/4-20\tTH-10\n",
    "\u{feff}2 × Cable tie\r\n12 pcs Clip, plastic\r\n",
];

fn templates() -> Vec<String> {
    files("themes", ".html")
        .into_iter()
        .map(|path| format!("{{# {} #}}\n{}", path.file_name().unwrap().to_string_lossy(), fs::read_to_string(&path).unwrap()))
        .collect()
}

/// The inputs to begin with.
pub(super) fn of(kind: Kind) -> Vec<Arc<[u8]>> {
    let texts = match kind {
        Kind::Words => words(),
        Kind::Guide => guides(),
        Kind::Shop => {
            let mut shops = read("guides", "shop.toml");
            shops.extend(read("tests/seeded", "shop.toml"));
            shops.extend([include_str!("../../src/review/rules/example_shop.toml").to_owned(), RECORD_SHOP.to_owned()]);
            shops
        }
        Kind::Drawing => DRAWINGS.iter().map(|drawing| (*drawing).to_owned()).chain(read("guides", ".svg")).collect(),
        Kind::Photo => return photos().into_iter().map(Arc::from).collect(),
        Kind::Record => records(),
        Kind::Issued => issued(),
        Kind::List => LISTS.iter().map(|list| (*list).to_owned()).collect(),
        Kind::Template => templates(),
    };
    texts.into_iter().map(|text| Arc::from(text.into_bytes())).collect()
}
