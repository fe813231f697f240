//! Guides that review clean, and the ways to change their text: an edit knows where it stands in the clean
//! text, so that two faults can be put into one guide. What is broken, and how, is left to the faults.

use std::fs;
use std::ops::Range;
use std::path::{Path, PathBuf};

use bayleaf::finding::Finding;
use bayleaf::guide::model::{Guide, Shop};
use bayleaf::guide::names::Names;
use bayleaf::guide::picture::{PictureFault, Pictures, examine};
use bayleaf::guide::{self};
use bayleaf::review;
use bayleaf::source::{FileId, SourceFile, Span};

/// A guide that reviews clean, with its shop and pictures.
pub(crate) struct Clean {
    pub(crate) slug: String,
    pub(crate) source: SourceFile,
    pub(crate) shop: Shop,
    pictures: Pictures,
}

/// One change of the text: what is replaced in the clean text, and by what.
pub(crate) type Edit = (Range<usize>, String);

/// Where a finding is expected: a range of the clean text, or a range inside what the edit of that number puts in.
#[derive(Clone, Debug)]
pub(crate) enum At {
    Clean(Range<usize>),
    Edit(usize, Range<usize>),
}

/// One way in which a guide was broken.
#[derive(Clone, Debug)]
pub(crate) struct Broken {
    pub(crate) edits: Vec<Edit>,
    pub(crate) at: At,
    /// Words that the message must hold, such as an option's name.
    pub(crate) says: Option<String>,
    /// Ids that the fault is about: two faults about one thing may rightly cancel.
    pub(crate) about: Vec<String>,
}

impl Broken {
    pub(crate) fn new(edits: Vec<Edit>, at: At, about: &[&str]) -> Broken {
        Broken { edits, at, says: None, about: about.iter().map(|id| (*id).to_owned()).collect() }
    }

    pub(crate) fn saying(mut self, words: &str) -> Broken {
        self.says = Some(words.to_owned());
        self
    }
}

/// All clean guides: those of the demonstration, in the long way of writing, and those written for this test.
pub(crate) fn all() -> Vec<Clean> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let mut clean = Vec::new();
    for folder in ["guides", "tests/seeded/metric/guides", "tests/seeded/imperial/guides"] {
        let folder = root.join(folder);
        let mut files: Vec<PathBuf> = Vec::new();
        for entry in fs::read_dir(&folder).unwrap().flatten() {
            let path = entry.path();
            if path.is_dir() {
                files.push(path.join("guide.md"));
            } else if path.extension().is_some_and(|ending| ending == "md") {
                files.push(path);
            }
        }
        files.sort();
        for file in files {
            let shop = SourceFile::new("guides/shop.toml", fs::read_to_string(folder.join("shop.toml")).unwrap());
            let (shop, findings) = guide::read_shop(&shop, FileId(0));
            assert_eq!(findings, vec![]);
            let name = if file.ends_with("guide.md") { file.parent().unwrap() } else { &file };
            let slug = name.file_stem().unwrap().to_string_lossy().into_owned();
            // The demonstration is written the short way; here its guides stand in the long one, in which each fact has a place of its own
            // that can be broken. What only the short way can get wrong is in `told`.
            let long = root.join(format!("tests/seeded/long/{slug}.md"));
            let text = fs::read_to_string(if long.exists() { &long } else { &file }).unwrap();
            let source = SourceFile::new(format!("guides/{slug}.md"), text);
            let mut pictures = Pictures::new();
            let (read, _) = guide::read(&source, FileId(1), &slug, &shop);
            for picture in read.words().flat_map(|prose| &prose.pictures) {
                let bytes = fs::read(file.parent().unwrap().join(&picture.source.value)).unwrap();
                pictures.insert(picture.source.value.clone(), examine(&bytes));
            }
            clean.push(Clean { slug, source, shop, pictures });
        }
    }
    clean
}

impl Clean {
    /// The model of the clean text.
    pub(crate) fn guide(&self) -> Guide<'_> {
        guide::read(&self.source, FileId(1), &self.slug, &self.shop).0
    }

    pub(crate) fn names<'g>(&'g self, guide: &'g Guide<'_>) -> Names<'g> {
        Names::new(guide, &self.shop)
    }

    pub(crate) fn text(&self) -> &str {
        &self.source.text
    }

    pub(crate) fn slice(&self, span: Span) -> &str {
        &self.source.text[span.range()]
    }

    /// What the review finds in a changed text.
    pub(crate) fn review(&self, text: &str) -> Vec<Finding> {
        let source = SourceFile::new(self.source.path.clone(), text);
        let (guide, findings) = guide::read(&source, FileId(1), &self.slug, &self.shop);
        let mut pictures = self.pictures.clone();
        for picture in guide.words().flat_map(|prose| &prose.pictures) {
            pictures.entry(picture.source.value.clone()).or_insert(Err(PictureFault::Missing));
        }
        review::review(&guide, &self.shop, &pictures, &|slug| slug == self.slug, findings).findings
    }

    /// The text with these edits; none if two of them meet.
    pub(crate) fn with(&self, edits: &[&Edit]) -> Option<String> {
        let mut edits = edits.to_vec();
        edits.sort_by_key(|(range, _)| (range.start, range.end));
        if edits.windows(2).any(|pair| pair[0].0.end > pair[1].0.start || pair[0].0.start == pair[1].0.start) {
            return None;
        }
        let mut text = self.source.text.clone();
        for (range, replacement) in edits.into_iter().rev() {
            text.replace_range(range.clone(), replacement);
        }
        Some(text)
    }

    /// Where `at` of one broken guide stands once all these edits are made.
    pub(crate) fn place(&self, broken: &Broken, edits: &[&Edit]) -> Range<usize> {
        let moved = |offset: usize| {
            let before = edits.iter().filter(|(range, _)| range.end <= offset && (range.start < offset || range.is_empty()));
            before.fold(offset as isize, |at, (range, text)| at + text.len() as isize - range.len() as isize) as usize
        };
        match &broken.at {
            At::Clean(range) => {
                let start = moved(range.start);
                start..start + range.len()
            }
            At::Edit(number, inside) => {
                let edit = &broken.edits[*number];
                let others = edits.iter().filter(|other| !std::ptr::eq(**other, edit) && other.0.end <= edit.0.start);
                let start = others.fold(edit.0.start as isize, |at, (range, text)| at + text.len() as isize - range.len() as isize);
                start as usize + inside.start..start as usize + inside.end
            }
        }
    }

    /// The range of a whole line, with its line feed.
    pub(crate) fn line(&self, offset: usize) -> Range<usize> {
        let text = self.text();
        let start = text[..offset].rfind('\n').map_or(0, |at| at + 1);
        let end = text[offset..].find('\n').map_or(text.len(), |at| offset + at + 1);
        start..end
    }

    /// The line `key = ...` inside `within`, with the lines that its list goes on to, if it is there.
    pub(crate) fn key(&self, within: Range<usize>, key: &str) -> Option<Range<usize>> {
        let text = &self.text()[within.clone()];
        let mut offset = 0;
        for line in text.split_inclusive('\n') {
            let start = within.start + offset;
            offset += line.len();
            let Some(rest) = line.trim_start().strip_prefix(key).map(str::trim_start).filter(|rest| rest.starts_with('=')) else {
                continue;
            };
            let mut end = within.start + offset;
            if rest.contains('[') && !rest.contains(']') {
                end = start + self.text()[start..].find("\n]")? + 3;
            }
            return Some(start..end);
        }
        None
    }

    /// The range of an operation with the comma behind it, so that the list stays a list.
    pub(crate) fn operation(&self, span: Span) -> Range<usize> {
        let rest = &self.text()[span.end as usize..];
        let space = rest.len() - rest.trim_start().len();
        let end = if rest[space..].starts_with(',') { span.end as usize + space + 1 } else { span.end as usize };
        span.start as usize..end
    }
}
