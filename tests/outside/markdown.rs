//! The words of steps against a second implementation of CommonMark (the `comrak` package): the text a
//! reader gets must not depend on which parser read it.

use std::fs;
use std::path::Path;

use bayleaf::guide;
use bayleaf::guide::words::{REFERENCE, passages};
use bayleaf::source::{FileId, SourceFile};

/// A guide as a program that knows no blocks sees it: fences and facts blanked out, line by line.
fn without_blocks(text: &str) -> String {
    let mut inside = false;
    let mut out = String::new();
    for line in text.lines() {
        let fence = line.trim_end() == "+++";
        if !(fence || inside) {
            out.push_str(line);
        }
        if fence {
            inside = !inside;
        }
        out.push('\n');
    }
    out
}

/// All text outside pictures, white space folded.
fn comrak_text(markdown: &str) -> String {
    let arena = comrak::Arena::new();
    let options = comrak::Options {
        extension: comrak::options::Extension { table: true, footnotes: true, ..Default::default() },
        ..Default::default()
    };
    let root = comrak::parse_document(&arena, markdown, &options);
    let mut text = String::new();
    gather(root, &mut text);
    fold(&text)
}

fn gather<'a>(node: &'a comrak::nodes::AstNode<'a>, text: &mut String) {
    use comrak::nodes::NodeValue;
    match &node.data.borrow().value {
        NodeValue::Image(_) => return,
        NodeValue::Text(words) => text.push_str(words),
        NodeValue::Code(code) => text.push_str(&code.literal),
        NodeValue::SoftBreak | NodeValue::LineBreak => text.push(' '),
        _ => {}
    }
    for child in node.children() {
        gather(child, text);
    }
    if node.data.borrow().value.block() {
        text.push(' ');
    }
}

fn fold(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn a_second_commonmark_parser_reads_the_same_words_in_the_demo_guides() {
    let guides = Path::new(env!("CARGO_MANIFEST_DIR")).join("guides");
    let (shop_source, _) = SourceFile::from_bytes("shop.toml".into(), fs::read(guides.join("shop.toml")).unwrap());
    let (shop, _) = guide::read_shop(&shop_source, FileId(0));
    let mut compared = 0;
    for entry in fs::read_dir(&guides).unwrap().flatten() {
        let path = entry.path().join("guide.md");
        let Ok(bytes) = fs::read(&path) else { continue };
        let (source, _) = SourceFile::from_bytes(path.display().to_string(), bytes);
        let (guide, _) = guide::read(&source, FileId(1), "demo", &shop);
        let mut ours = String::new();
        for prose in guide.words() {
            for passage in passages(prose) {
                ours.push_str(&passage.text.replace(REFERENCE, ""));
                ours.push(' ');
            }
        }
        let mut theirs = String::new();
        for part in without_blocks(&source.text).split("\n#") {
            // A part starts with the rest of its heading line; headings are compared by the model's own tests.
            let body = if part.starts_with(['#', ' ']) { part.split_once('\n').map_or("", |(_, body)| body) } else { part };
            theirs.push_str(&comrak_text(body));
            theirs.push(' ');
        }
        assert_eq!(fold(&ours), fold(&theirs), "{}", path.display());
        compared += guide.steps.len();
    }
    assert!(compared >= 60, "only {compared} steps were compared");
}
