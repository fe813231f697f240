//! What a guide claims over all guides of a shop: its document number, its revision, and the names that it had before. Read from the head alone, since
//! every guide's claims are needed before the first guide is reviewed. What contradicts is left to the review.

use crate::guide::facts::Reader;
use crate::guide::keys::Block;
use crate::guide::model::Text;
use crate::source::{FileId, Span};

/// The line that opens and closes a block.
const FENCE: &str = "+++";

/// What a guide claims.
#[derive(Clone, Debug, Default, PartialEq, serde::Deserialize, serde::Serialize)]
pub struct Claims {
    /// Its document number.
    pub document: Option<Text>,
    /// The revision that it is.
    pub revision: Option<Text>,
    /// Names that it had in addresses.
    pub was: Vec<Text>,
}

/// The claims of a guide's text; faults in it are told when the guide is read.
pub fn read(text: &str, file: FileId) -> Claims {
    let mut at = 0;
    let mut body = None;
    for line in text.split_inclusive('\n') {
        let (start, trimmed) = (at, line.trim());
        at += line.len();
        match body {
            None if trimmed.is_empty() => {}
            None if trimmed == FENCE => body = Some(at),
            None => return Claims::default(),
            // What stands behind the first table is none of the head's own.
            Some(from) if trimmed == FENCE || trimmed.starts_with("[[") => return of(&text[from..start], from, file),
            Some(_) => {}
        }
    }
    Claims::default()
}

fn of(body: &str, base: usize, file: FileId) -> Claims {
    let mut reader = Reader {
        file,
        findings: Vec::new(),
        decimal_comma: false,
        uncounted: Vec::new(),
        named: Vec::new(),
        untold: Vec::new(),
        full: false,
    };
    let parsed = reader.parse(body, base, Span::at(base), Block::Guide);
    let fields = parsed.fields(Block::Guide);
    Claims { document: reader.text(&fields, "document"), revision: reader.text(&fields, "revision"), was: reader.texts(&fields, "was") }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_head_alone_is_read() {
        let text = "\n+++\ntitle = \"T\"\ndocument = \"TH-1\"\nwas = [\"old-name\"]\n\n[[part]]\nid = \"p\"\ndocument = \"X\"\n+++\n";
        let claims = read(text, FileId(1));
        let document = claims.document.unwrap();
        assert_eq!((document.value.as_str(), &text[document.span.range()]), ("TH-1", "TH-1"));
        assert_eq!(claims.was.iter().map(|was| was.value.as_str()).collect::<Vec<_>>(), ["old-name"]);
        assert!(read("no head", FileId(1)).document.is_none() && read("+++\ndocument = \"X\"\n", FileId(1)).document.is_none());
    }
}
