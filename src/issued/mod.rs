//! An issued revision as it is kept beside its guide: one text file with the guide's text, what of the shop file it uses, the hashes of its
//! pictures and the fingerprint that stands on its pages and sheets. It is enough to build the document again, by this program or a later
//! one. The file is written once and never changed; it is read whole or not at all.

mod extract;

use std::fmt::Write as _;

use sha2::{Digest, Sha256};

pub use extract::{changed_of_shop, ids, used_of_shop};

use crate::document::Document;
use crate::document::build::{self, Input};
use crate::document::facts::Hashes;
use crate::guide;
use crate::guide::model::{Date, Shop};
use crate::guide::picture::Pictures;
use crate::source::{FileId, SourceFile};

/// The first line of the file, with the version of its form.
const HEAD: &str = "bayleaf issue 1";
/// What the file says to people.
const NOTE: &str =
    "Kept as it was issued, so that work done to this revision can be shown against it. Never edit it: its seal would not hold.";
/// How the name of the file ends.
pub const ENDING: &str = ".issue";

/// An issued revision.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Issued {
    /// The name of the guide's folder when it was issued.
    pub slug: String,
    /// The document number.
    pub document: Option<String>,
    /// The revision.
    pub revision: String,
    /// The day of issue.
    pub issued: Date,
    /// The fingerprint that stands on its pages and sheets.
    pub fingerprint: String,
    /// The hashes of its pictures, by the address in its text.
    pub pictures: Hashes,
    /// The guide's text.
    pub guide: String,
    /// What of the shop file it uses.
    pub shop: String,
}

impl Issued {
    /// The name of the file: the revision, with hyphens for what no file name may hold.
    pub fn file_name(revision: &str) -> String {
        let plain: String = revision.chars().map(|c| if c.is_alphanumeric() || matches!(c, '-' | '_') { c } else { '-' }).collect();
        format!("{plain}{ENDING}")
    }

    /// The name under which a picture is kept: the start of its hash, and the ending of its address.
    pub fn picture_name(address: &str, hash: &str) -> String {
        let ending = address.rsplit_once('.').map_or("bin", |(_, ending)| ending).to_ascii_lowercase();
        let ending: String = ending.chars().filter(char::is_ascii_alphanumeric).take(5).collect();
        format!("{}.{ending}", hash.get(..24).unwrap_or(hash))
    }

    /// The file.
    pub fn write(&self) -> String {
        let Issued { slug, document, revision, issued, fingerprint, pictures, guide, shop } = self;
        let mut text = format!("{HEAD}\n{NOTE}\n\n");
        let mut line = |key: &str, value: &str| {
            let _ = writeln!(text, "{key:<12} {value}");
        };
        line("guide", slug);
        if let Some(document) = document {
            line("document", document);
        }
        line("revision", revision);
        line("issued", &issued.to_string());
        line("fingerprint", fingerprint);
        for (address, hash) in pictures {
            line("picture", &format!("{hash} {address}"));
        }
        let (guide, shop) = (lines(guide), lines(shop));
        line("text", &format!("guide.md {}", guide.len()));
        line("text", &format!("shop.toml {}", shop.len()));
        let head = text.clone();
        let body: String = [("guide.md", &guide), ("shop.toml", &shop)]
            .into_iter()
            .flat_map(|(name, lines)| std::iter::once(format!("---- {name}\n")).chain(lines.iter().map(|line| format!("{line}\n"))))
            .collect();
        format!("{head}{:<12} {}\n\n{body}", "seal", seal(&head, &body))
    }

    /// Reads the file; the error says why it is not taken.
    pub fn read(bytes: &[u8]) -> Result<Issued, String> {
        let text = std::str::from_utf8(bytes).map_err(|_| "it is not UTF-8 text".to_owned())?;
        let text = text.trim_start_matches('\u{feff}').replace("\r\n", "\n");
        match text.lines().next().unwrap_or_default().strip_prefix("bayleaf issue ") {
            Some("1") => {}
            Some(version) => return Err(format!("it is of form {version}, and this bayleaf reads form 1; use a newer bayleaf")),
            None => return Err(format!("it is no issued revision: its first line is not `{HEAD}`")),
        }
        let cut = "it is cut off";
        let (at, told) = text.match_indices("\nseal ").next().ok_or(cut).map(|(at, _)| {
            let line = text[at + 1..].lines().next().unwrap_or_default();
            (at + 1, line)
        })?;
        let head = &text[..at];
        let body = text[at + told.len()..].strip_prefix("\n\n").ok_or(cut)?;
        if told.split_whitespace().nth(1) != Some(seal(head, body).as_str()) {
            return Err("its text is not as it was issued: its seal does not hold".to_owned());
        }
        let fields: Vec<(&str, &str)> =
            head.lines().skip(3).filter_map(|line| line.split_once(' ')).map(|(key, value)| (key, value.trim_start())).collect();
        let field = |key: &str| fields.iter().find(|(known, _)| *known == key).map(|(_, value)| (*value).to_owned());
        let need = |key: &str| field(key).ok_or_else(|| format!("it does not say its {key}"));
        let mut texts = Vec::new();
        let mut rest = body.split('\n');
        for (name, count) in fields.iter().filter(|(key, _)| *key == "text").filter_map(|(_, value)| value.split_once(' ')) {
            let count: usize = count.parse().map_err(|_| cut.to_owned())?;
            if rest.next() != Some(format!("---- {name}").as_str()) {
                return Err(cut.to_owned());
            }
            let lines: Vec<&str> = rest.by_ref().take(count).collect();
            if lines.len() < count {
                return Err(cut.to_owned());
            }
            texts.push((name, lines.iter().map(|line| format!("{line}\n")).collect::<String>()));
        }
        let text_of = |name: &str| texts.iter().find(|(known, _)| *known == name).map(|(_, text)| text.clone()).ok_or(cut);
        let pictures = fields.iter().filter(|(key, _)| *key == "picture").filter_map(|(_, value)| value.split_once(' '));
        Ok(Issued {
            slug: need("guide")?,
            document: field("document"),
            revision: need("revision")?,
            issued: day(&need("issued")?).ok_or("its day of issue is no date")?,
            fingerprint: need("fingerprint")?,
            pictures: pictures.map(|(hash, address)| (address.to_owned(), hash.to_owned())).collect(),
            guide: text_of("guide.md")?,
            shop: text_of("shop.toml")?,
        })
    }

    /// The shop as far as the guide uses it.
    pub fn shop(&self) -> Shop {
        guide::read_shop(&SourceFile::new("shop.toml", self.shop.as_str()), FileId(0)).0
    }

    /// The document that was issued; `pictures` are what is known of its pictures. Its address is `slug`, which may have changed since.
    pub fn document(&self, slug: &str, pictures: &Pictures) -> Document {
        self.built(&self.shop(), slug, pictures, Some(self.fingerprint.clone()))
    }

    /// The same with other units first.
    pub fn document_in(&self, slug: &str, pictures: &Pictures, imperial_first: bool) -> Document {
        self.built(&Shop { imperial_first, ..self.shop() }, slug, pictures, Some(self.fingerprint.clone()))
    }

    /// The fingerprint that this program makes of what was issued.
    pub fn fingerprint_now(&self, pictures: &Pictures) -> String {
        self.built(&self.shop(), &self.slug, pictures, None).fingerprint
    }

    fn built(&self, shop: &Shop, slug: &str, pictures: &Pictures, fingerprint: Option<String>) -> Document {
        let source = SourceFile::new("guide.md", self.guide.as_str());
        let (guide, _) = guide::read(&source, FileId(1), slug, shop);
        build::document(&guide, shop, &Input { pictures, hashes: &self.pictures, fingerprint, draft: false })
    }
}

/// The lines of a text, without its last line end.
fn lines(text: &str) -> Vec<&str> {
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    text.strip_suffix('\n').unwrap_or(text).split('\n').map(|line| line.strip_suffix('\r').unwrap_or(line)).collect()
}

fn seal(head: &str, body: &str) -> String {
    Sha256::digest(format!("{head}{body}").as_bytes()).iter().map(|byte| format!("{byte:02x}")).collect()
}

fn day(text: &str) -> Option<Date> {
    let mut parts = text.split('-');
    let date = Date { year: parts.next()?.parse().ok()?, month: parts.next()?.parse().ok()?, day: parts.next()?.parse().ok()? };
    ((1..=12).contains(&date.month) && (1..=31).contains(&date.day)).then_some(date)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn issued() -> Issued {
        Issued {
            slug: "bracket".to_owned(),
            document: None,
            revision: "B/2".to_owned(),
            issued: Date { year: 2026, month: 9, day: 14 },
            fingerprint: "ab12 cd34".to_owned(),
            pictures: [("seat out.jpg".to_owned(), "00ff".to_owned())].into(),
            guide: "+++\ntitle = \"T\"\n+++\n\n## Step\n\n---- shop.toml\nseal x\n".to_owned(),
            shop: "name = \"S\"\n".to_owned(),
        }
    }

    #[test]
    fn a_file_is_read_as_it_was_written_with_any_line_ends() {
        let text = issued().write();
        assert_eq!(Issued::read(text.as_bytes()), Ok(issued()), "{text}");
        assert_eq!(Issued::read(text.replace('\n', "\r\n").as_bytes()), Ok(issued()));
        assert_eq!((Issued::file_name("B/2"), Issued::picture_name("a/Seat.JPG", "00ff")), ("B-2.issue".to_owned(), "00ff.jpg".to_owned()));
    }

    #[test]
    fn every_changed_letter_and_every_cut_is_noticed() {
        let text = issued().write();
        for at in (0..text.len()).filter(|at| text.is_char_boundary(*at)) {
            let cut = &text.as_bytes()[..at];
            assert!(Issued::read(cut).is_err(), "cut at {at}");
            let mut changed = text.clone().into_bytes();
            changed[at] = if changed[at] == b'x' { b'y' } else { b'x' };
            assert!(Issued::read(&changed).is_err(), "changed at {at}: {}", String::from_utf8_lossy(&changed));
        }
        assert!(Issued::read(b"bayleaf issue 2\n").unwrap_err().contains("newer bayleaf"));
    }
}
