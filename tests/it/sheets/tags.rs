//! What the files are to somebody who hears them read: tags, order, titles, alternative texts, read with a package that did not write them.
//! The demands are those of ISO 14289-1 (PDF/UA-1) and ISO 19005-2 (PDF/A-2, level a), as far as a file can be asked for them.

use super::*;
use lopdf::{Dictionary, Document, Object};

struct Tags<'d> {
    document: &'d Document,
}

/// An element of the tree of tags.
#[derive(Debug)]
struct Element {
    kind: String,
    alt: Option<String>,
    children: Vec<Element>,
    /// How many pieces of content hang on it.
    content: usize,
}

impl Tags<'_> {
    fn resolved<'a>(&'a self, object: &'a Object) -> &'a Object {
        match object {
            Object::Reference(id) => self.document.get_object(*id).unwrap(),
            other => other,
        }
    }

    fn element(&self, dictionary: &Dictionary) -> Element {
        let kind = String::from_utf8_lossy(dictionary.get(b"S").unwrap().as_name().unwrap()).into_owned();
        let alt = dictionary.get(b"Alt").ok().map(|alt| lopdf::decode_text_string(self.resolved(alt)).unwrap());
        let mut element = Element { kind, alt, children: Vec::new(), content: 0 };
        if let Ok(kids) = dictionary.get(b"K") {
            self.kids(kids, &mut element);
        }
        element
    }

    fn kids(&self, kids: &Object, element: &mut Element) {
        match self.resolved(kids) {
            Object::Array(kids) => kids.iter().for_each(|kid| self.kids(kid, element)),
            Object::Dictionary(kid) if kid.has(b"S") => element.children.push(self.element(kid)),
            _ => element.content += 1,
        }
    }
}

impl Element {
    fn all<'e>(&'e self, found: &mut Vec<&'e Element>) {
        found.push(self);
        self.children.iter().for_each(|child| child.all(found));
    }
}

fn tree(document: &Document) -> Element {
    let tags = Tags { document };
    let root = document.catalog().unwrap().get(b"StructTreeRoot").unwrap();
    let root = tags.resolved(root).as_dict().unwrap();
    let mut top = Element { kind: "root".to_owned(), alt: None, children: Vec::new(), content: 0 };
    tags.kids(root.get(b"K").unwrap(), &mut top);
    top
}

fn document(bytes: &[u8]) -> Document {
    Document::load_mem(bytes).unwrap()
}

#[test]
fn the_tree_of_tags_is_what_the_standard_asks_for() {
    for slug in GUIDES {
        let page = demo(slug);
        for (kind, form) in
            [(Kind::Checklist, Form::Full), (Kind::Checklist, Form::Short), (Kind::Torque, Form::Full), (Kind::Packing, Form::Full)]
        {
            let document = document(&sheet(&page, kind, Paper::A4, form));
            let top = tree(&document);
            let mut all = Vec::new();
            top.all(&mut all);
            // ISO 14289-1, 7.4.2: headings start at 1 and skip no level.
            let headings: Vec<u8> = all.iter().filter_map(|tag| tag.kind.strip_prefix('H')?.parse().ok()).collect();
            assert_eq!(headings.iter().filter(|level| **level == 1).count(), 1, "{slug}: one title");
            assert_eq!(headings[0], 1, "{slug}: the title comes first");
            assert!(headings.windows(2).all(|pair| pair[1] <= pair[0] + 1), "{slug} {kind:?}: {headings:?}");
            for tag in &all {
                // 7.3: a figure says what it shows. 7.6: rows of lists stand in lists. 7.5: rows of tables in tables.
                let kinds: Vec<&str> = tag.children.iter().map(|child| child.kind.as_str()).collect();
                match tag.kind.as_str() {
                    "Figure" => assert!(tag.alt.as_ref().is_some_and(|alt| alt.len() > 8), "{slug}: {tag:?}"),
                    "L" => assert!(kinds.iter().all(|kind| *kind == "LI") && !kinds.is_empty(), "{slug}: {kinds:?}"),
                    "LI" => {
                        assert!(kinds.iter().all(|kind| matches!(*kind, "Lbl" | "LBody")) && kinds.contains(&"LBody"), "{slug}: {kinds:?}")
                    }
                    "Table" => assert!(kinds.iter().all(|kind| *kind == "TR") && kinds.len() > 1, "{slug}: {kinds:?}"),
                    "TR" => assert!(kinds.iter().all(|kind| matches!(*kind, "TH" | "TD")), "{slug}: {kinds:?}"),
                    _ => assert!(
                        kinds.iter().all(|kind| !matches!(*kind, "LI" | "TR" | "TH" | "TD" | "Lbl" | "LBody")),
                        "{slug}: {} holds {kinds:?}",
                        tag.kind
                    ),
                }
                if tag.kind == "Table" {
                    assert!(tag.children[0].children.iter().any(|cell| cell.kind == "TH"), "{slug}: a table has heads");
                    let cells: Vec<usize> = tag.children.iter().map(|row| row.children.len()).collect();
                    assert!(cells.windows(2).all(|pair| pair[0] == pair[1]), "{slug}: {cells:?}");
                }
            }
            if kind == Kind::Checklist {
                let steps = page.phases.iter().map(|phase| phase.steps.len()).sum::<usize>();
                assert!(all.iter().filter(|tag| tag.kind == "Sect").count() >= steps, "{slug}: each step is a section");
                if form == Form::Full {
                    assert_eq!(headings.iter().filter(|level| **level == 3).count(), steps, "{slug}: each step has its heading");
                }
            }
        }
    }
}

#[test]
fn the_file_says_that_it_is_tagged_and_in_which_language() {
    let page = demo("swivel-seat-base");
    let document = document(&sheet(&page, Kind::Checklist, Paper::A4, Form::Full));
    let tags = Tags { document: &document };
    let catalog = document.catalog().unwrap();
    // ISO 32000-1, 14.7.1 and 14.8.1; ISO 14289-1, 7.1 and 7.2.
    assert!(tags.resolved(catalog.get(b"MarkInfo").unwrap()).as_dict().unwrap().get(b"Marked").unwrap().as_bool().unwrap());
    assert_eq!(lopdf::decode_text_string(catalog.get(b"Lang").unwrap()).unwrap(), "en");
    let preferences = tags.resolved(catalog.get(b"ViewerPreferences").unwrap()).as_dict().unwrap();
    assert!(preferences.get(b"DisplayDocTitle").unwrap().as_bool().unwrap());
    let metadata = tags.resolved(catalog.get(b"Metadata").unwrap()).as_stream().unwrap();
    let metadata = String::from_utf8(metadata.get_plain_content().unwrap_or_else(|_| metadata.content.clone())).unwrap();
    for part in [
        "<pdfuaid:part>1</pdfuaid:part>",
        "<pdfaid:part>2</pdfaid:part>",
        "<pdfaid:conformance>A</pdfaid:conformance>",
        "Fit the swivel base",
    ] {
        assert!(metadata.contains(part), "{part} in {metadata}");
    }
    // The day of issue, not today's.
    assert!(metadata.contains("2026-11-27"), "{metadata}");
    let info = tags.resolved(document.trailer.get(b"Info").unwrap()).as_dict().unwrap();
    assert!(lopdf::decode_text_string(info.get(b"Title").unwrap()).unwrap().starts_with("Checklist: Fit the swivel base"));
}

/// ISO 14289-1, 7.18.5: a link is tagged as one and says where it leads.
#[test]
fn the_link_to_the_page_is_tagged_and_described() {
    let document = document(&sheet(&demo("swivel-seat-base"), Kind::Checklist, Paper::A4, Form::Short));
    let tags = Tags { document: &document };
    let address = "https://guides.tern-hollow.example/guides/swivel-seat-base/?rev=E";
    let first = document.get_dictionary(document.get_pages()[&1]).unwrap();
    let links = tags.resolved(first.get(b"Annots").unwrap()).as_array().unwrap();
    assert_eq!(links.len(), 1);
    let link = tags.resolved(&links[0]).as_dict().unwrap();
    assert_eq!(lopdf::decode_text_string(link.get(b"Contents").unwrap()).unwrap(), address);
    assert!(link.has(b"StructParent"));
    let action = tags.resolved(link.get(b"A").unwrap()).as_dict().unwrap();
    assert_eq!(action.get(b"URI").unwrap().as_str().unwrap(), address.as_bytes());
    let mut all = Vec::new();
    let top = tree(&document);
    top.all(&mut all);
    let found: Vec<_> = all.iter().filter(|tag| tag.kind == "Link").collect();
    assert!(found.len() == 1 && found[0].content == 2, "{found:?}");
}

#[test]
fn bookmarks_lead_to_every_phase_and_step() {
    for slug in GUIDES {
        let page = demo(slug);
        let document = document(&sheet(&page, Kind::Checklist, Paper::A4, Form::Full));
        let toc = document.get_toc().unwrap();
        let titles: Vec<&str> = toc.toc.iter().map(|entry| entry.title.as_str()).collect();
        for phase in &page.phases {
            assert!(phase.title.as_ref().is_none_or(|title| titles.contains(&title.as_str())), "{slug}: {:?}", phase.title);
            for step in &phase.steps {
                let at = titles.iter().position(|title| title.starts_with(&format!("{} {}", step.number, step.title)));
                assert!(at.is_some_and(|at| toc.toc[at].level == 2), "{slug}: step {}", step.number);
            }
        }
        assert!(toc.toc.windows(2).all(|pair| pair[0].page <= pair[1].page), "{slug}");
    }
}

#[test]
fn fonts_are_in_the_file() {
    let document = document(&sheet(&demo("tow-bar-wiring"), Kind::Checklist, Paper::A4, Form::Full));
    let mut fonts = 0;
    for object in document.objects.values() {
        let Ok(dictionary) = object.as_dict() else { continue };
        if dictionary.get(b"Type").and_then(Object::as_name).ok() == Some(b"FontDescriptor") {
            fonts += 1;
            assert!(dictionary.has(b"FontFile2") || dictionary.has(b"FontFile3"), "{dictionary:?}");
            let name = String::from_utf8_lossy(dictionary.get(b"FontName").unwrap().as_name().unwrap()).into_owned();
            assert!(name.contains("DejaVuSansCondensed"), "{name}");
        }
    }
    assert_eq!(fonts, 2);
}

/// The same order with another reader: poppler's own tree.
#[test]
fn another_reader_sees_the_same_order() {
    let page = demo("swivel-seat-base");
    let pdf = Pdf::new(&sheet(&page, Kind::Checklist, Paper::A4, Form::Full));
    let output = Command::new("pdfinfo").arg("-struct-text").arg(pdf.path()).output().unwrap();
    let text = squeezed(&String::from_utf8_lossy(&output.stdout).replace('"', ""));
    let mut at = 0;
    for step in page.phases.iter().flat_map(|phase| &phase.steps) {
        for needle in std::iter::once(step.title.clone()).chain(step.operations.iter().map(|operation| operation.things.clone())) {
            let needle = squeezed(&needle.chars().take(18).collect::<String>());
            let found = text[at..].find(&needle).unwrap_or_else(|| panic!("step {}: {needle}", step.number));
            at += found;
        }
    }
}
