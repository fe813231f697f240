//! Takes out of a drawing what is not drawn: scripts, events, links, comments, metadata, and whatever the drawing program
//! kept for itself, which may name people and folders. What fetches something has been refused before, in `guide::picture`.

use std::ops::Range;

use roxmltree::{Document, Node};

use crate::guide::drawing::{SVG, is_noted, runs, runs_or_leads};

/// Namespaces whose attributes have a meaning in a drawing.
const KEPT: [&str; 3] = [SVG, "http://www.w3.org/1999/xlink", "http://www.w3.org/XML/1998/namespace"];

/// The drawing without what is not drawn; as it is where there is nothing to take out.
pub(super) fn drawing(bytes: &[u8]) -> Vec<u8> {
    let Ok(text) = std::str::from_utf8(bytes) else { return bytes.to_vec() };
    let text = text.trim_start_matches('\u{feff}');
    let Ok(document) = Document::parse(text) else { return bytes.to_vec() };
    let mut out: Vec<Range<usize>> = Vec::new();
    gather(document.root(), text, &mut out);
    out.sort_by_key(|range| (range.start, range.end));
    let mut kept = String::with_capacity(text.len());
    let mut at = 0;
    for range in out {
        if range.start >= at {
            kept.push_str(&text[at..range.start]);
            at = range.end;
        }
    }
    kept.push_str(&text[at..]);
    kept.into_bytes()
}

/// The parts of the text that go. Elements are gone through by a list and not by calls, since nobody knows how deep they stand.
fn gather(root: Node<'_, '_>, text: &str, out: &mut Vec<Range<usize>>) {
    let mut open = vec![root];
    while let Some(node) = open.pop() {
        let name = node.tag_name().name();
        if node.is_comment() || is_noted(node) || runs(name) {
            out.push(node.range());
            continue;
        }
        for attribute in node.attributes() {
            let strange = attribute.namespace().is_some_and(|space| !KEPT.contains(&space));
            if strange || runs_or_leads(name, attribute.name(), attribute.value()) {
                // The space in front goes with it.
                let range = attribute.range();
                let start = text[..range.start].trim_end().len();
                out.push(start..range.end);
            }
        }
        open.extend(node.children());
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_not_drawn_goes_and_what_is_drawn_stays() {
        let given = "<?xml version=\"1.0\"?><!-- by A. Person --><svg xmlns=\"http://www.w3.org/2000/svg\" xmlns:xlink=\"http://www.w3.org/1999/xlink\" \
            xmlns:ink=\"urn:ink\" viewBox=\"0 0 9 9\" ink:file=\"C:\\Users\\person\\a.svg\"><metadata><x>secret</x></metadata>\
            <ink:view zoom=\"3\"/><g ink:label=\"Layer\" id=\"a\"><rect width=\"1\"/><!-- note --></g><use xlink:href=\"#a\"/></svg>";
        let cleaned = String::from_utf8(drawing(given.as_bytes())).unwrap();
        for gone in ["Person", "person", "secret", "Layer", "zoom", "note"] {
            assert!(!cleaned.contains(gone), "{gone}: {cleaned}");
        }
        let read = Document::parse(&cleaned).unwrap();
        let names: Vec<&str> = read.descendants().filter(Node::is_element).map(|node| node.tag_name().name()).collect();
        assert_eq!(names, ["svg", "g", "rect", "use"]);
        assert!(cleaned.contains("xlink:href=\"#a\"") && cleaned.contains("id=\"a\""));
    }

    #[test]
    fn what_runs_or_leads_elsewhere_goes_and_its_look_stays() {
        let given = "<svg xmlns='http://www.w3.org/2000/svg' width='9' height='9' onload='a()'><script>/*<![CDATA[*/ b() /*]]>*/</script>\
            <a href='https://example.org/'><rect width='1' ONCLICK=\"c('>')\" fill='red'/></a><a href='#in'><text>on</text></a><handler>d()</handler></svg>";
        let cleaned = drawing(given.as_bytes());
        let fact = crate::guide::picture::examine(&cleaned).unwrap();
        assert!(!fact.cleaned, "nothing is left to clean: {}", String::from_utf8_lossy(&cleaned));
        assert_eq!(
            String::from_utf8(cleaned).unwrap(),
            "<svg xmlns='http://www.w3.org/2000/svg' width='9' height='9'><a><rect width='1' fill='red'/></a><a href='#in'><text>on</text></a></svg>"
        );
    }

    #[test]
    fn a_drawing_with_nothing_to_take_out_stays_byte_for_byte() {
        let plain = b"<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 9 9\"><title>T</title><rect width=\"1\"/></svg>";
        assert_eq!(drawing(plain), plain);
        assert_eq!(drawing(b"no drawing"), b"no drawing");
    }
}
