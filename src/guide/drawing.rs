//! Looks at a drawing's text: whether it is plain, how large it is, and why it cannot be used if it cannot. Nothing in it may fetch
//! something or move, and nothing in it may take more time or room to draw than a drawing is worth. Its style is left to `style`; what
//! only runs or leads elsewhere is taken out by `pictures`.

use std::collections::{BTreeMap, BTreeSet};

use roxmltree::{Document, Node};

use super::picture::{LONGEST_SIDE, PictureFact, PictureFault, PictureKind};
use super::style;

/// A drawing's file may have so many bytes.
pub const LARGEST: usize = 4 << 20;
/// Elements stand in one another so deep; drawing programs need about twenty.
pub const DEEPEST: usize = 100;
/// One element may have so many attributes.
pub const MOST_ATTRIBUTES: usize = 200;
/// All nodes of a drawing, those counted again that it uses again.
pub const MOST_NODES: usize = 100_000;
/// All letters of a drawing's texts.
pub const MOST_LETTERS: usize = 20_000;
/// Patterns, marks and parts used again may name one another in a chain so long.
pub const LONGEST_CHAIN: usize = 16;

/// The namespace of SVG.
pub const SVG: &str = "http://www.w3.org/2000/svg";
const XML: &str = "http://www.w3.org/XML/1998/namespace";
/// Elements that set a drawing in motion (SVG Animations Level 2).
const MOVING: [&str; 5] = ["set", "animate", "animateMotion", "animateTransform", "discard"];

/// Whether an element of a drawing only runs something, so that it looks the same without it.
pub fn runs(element: &str) -> bool {
    ["script", "handler", "listener"].iter().any(|name| element.eq_ignore_ascii_case(name))
}

/// Whether an attribute only runs something or leads elsewhere, so that the drawing looks the same without it.
pub fn runs_or_leads(element: &str, attribute: &str, value: &str) -> bool {
    let event = attribute.get(..2).is_some_and(|start| start.eq_ignore_ascii_case("on"));
    event || (element.eq_ignore_ascii_case("a") && attribute.eq_ignore_ascii_case("href") && !value.trim().starts_with('#'))
}

fn unreadable(why: impl Into<String>) -> PictureFault {
    PictureFault::Unreadable(why.into())
}

fn fetches(what: impl Into<String>) -> PictureFault {
    PictureFault::Unsafe(what.into())
}

/// A drawing must be plain: nothing fetched from elsewhere, and nothing that moves. What only runs or leads elsewhere is let
/// be, because publishing takes it out.
pub(super) fn examine(text: &str) -> Result<PictureFact, PictureFault> {
    let text = text.trim_start_matches('\u{feff}');
    if !text.trim_start().starts_with('<') {
        return Err(unreadable("it holds plain text"));
    }
    if text.len() > LARGEST {
        return Err(unreadable(format!("it is larger than {} MB, which no drawing is", LARGEST >> 20)));
    }
    bounded(text)?;
    let options = roxmltree::ParsingOptions { allow_dtd: false, nodes_limit: MOST_NODES as u32, ..Default::default() };
    let document = Document::parse_with_options(text, options).map_err(|error| unreadable(error.to_string()))?;
    let root = document.root_element();
    if root.tag_name().name() != "svg" {
        return Err(unreadable(format!("it starts with <{}>, not with <svg>", root.tag_name().name())));
    }
    // All of another kind is taken out when it is published, and then nothing would be left.
    if is_noted(root) {
        return Err(unreadable(format!("its <svg> is not of the namespace {SVG}, so nothing draws it")));
    }
    let mut cleaned = false;
    let mut letters = 0;
    let mut open = vec![document.root()];
    while let Some(node) = open.pop() {
        if node.is_pi() {
            return Err(fetches("a processing instruction"));
        }
        // What stands inside a script goes with it, and so does what a drawing program notes for itself.
        if runs(node.tag_name().name()) {
            cleaned = true;
            continue;
        }
        if is_noted(node) {
            continue;
        }
        cleaned |= plain(node)?;
        if node.is_text() {
            letters += node.text().unwrap_or_default().chars().filter(|c| !c.is_whitespace()).count();
        }
        if !node.tag_name().name().eq_ignore_ascii_case("style") {
            open.extend(node.children());
        }
    }
    if letters > MOST_LETTERS {
        return Err(unreadable(format!("it has more than {MOST_LETTERS} letters")));
    }
    used(&document)?;
    let (width, height) = size(root).ok_or_else(|| unreadable("it says neither width and height nor viewBox"))?;
    if width > LONGEST_SIDE || height > LONGEST_SIDE {
        return Err(PictureFault::TooLarge(width, height));
    }
    Ok(PictureFact { kind: PictureKind::Drawing, width, height, cleaned })
}

/// Whether an element is of another kind than SVG, or says something of the drawing: publishing takes it out with all that is in it.
pub fn is_noted(node: Node<'_, '_>) -> bool {
    node.is_element() && (node.tag_name().namespace().is_some_and(|space| space != SVG) || node.tag_name().name() == "metadata")
}

/// Whether something of an element is taken out when it is published; the error says what it may not have.
fn plain(node: Node<'_, '_>) -> Result<bool, PictureFault> {
    let mut cleaned = false;
    let name = node.tag_name().name();
    if ["foreignObject", "iframe"].iter().any(|bad| name.eq_ignore_ascii_case(bad)) {
        return Err(fetches(format!("<{name}>")));
    }
    if MOVING.iter().any(|bad| name.eq_ignore_ascii_case(bad)) {
        return Err(fetches(format!("<{name}>, by which it moves: paper cannot show that")));
    }
    if name.eq_ignore_ascii_case("style") {
        if node.children().any(|child| child.is_element() || child.is_pi()) {
            return Err(fetches("a style with elements in it"));
        }
        // A comment or a section of plain text parts it in several.
        let text: String = node.children().filter_map(|child| if child.is_text() { child.text() } else { None }).collect();
        if let Some(what) = style::sheet(&text) {
            return Err(fetches(what));
        }
    }
    for attribute in node.attributes() {
        let (key, value) = (attribute.name(), attribute.value().trim());
        if runs_or_leads(name, key, value) {
            cleaned = true;
            continue;
        }
        let is = |known: &str| key.eq_ignore_ascii_case(known);
        let found = if is("style") {
            style::declarations(value)
        } else if style::is_property(key) && attribute.namespace().is_none() {
            style::value(value)
        } else {
            None
        };
        if let Some(what) = found {
            return Err(fetches(what.replace("a style", &format!("the attribute {key} of <{name}>"))));
        }
        // A base elsewhere makes `#part` an outside address.
        let bad = is("href") && !value.starts_with('#') && !is_picture(value)
            || (is("base") && attribute.namespace() == Some(XML))
            || style::leads_out(value);
        if bad {
            return Err(fetches(format!("the attribute {key} of <{name}>")));
        }
    }
    Ok(cleaned)
}

/// Whether an address carries a picture in itself, and one that is made of dots.
fn is_picture(address: &str) -> bool {
    ["png", "jpeg", "jpg", "gif", "webp"].iter().any(|kind| {
        let start = format!("data:image/{kind}");
        address.get(..start.len()).is_some_and(|head| head.eq_ignore_ascii_case(&start)) && address[start.len()..].starts_with([';', ','])
    })
}

/// Bounds that are looked at before the text is taken apart, since taking it apart is what would take long: how deep elements stand in one
/// another, and how many attributes one has.
fn bounded(text: &str) -> Result<(), PictureFault> {
    let mut depth = 0_usize;
    let mut rest = text;
    while let Some(at) = rest.find('<') {
        rest = &rest[at..];
        let skipped = [("<!--", "-->"), ("<![CDATA[", "]]>"), ("<?", "?>"), ("<!", ">"), ("</", ">")]
            .iter()
            .find(|(start, _)| rest.starts_with(start));
        if let Some((start, end)) = skipped {
            depth -= usize::from(*start == "</" && depth > 0);
            let Some(end_at) = rest[start.len()..].find(end) else { return Ok(()) };
            rest = &rest[start.len() + end_at + end.len()..];
            continue;
        }
        let (mut quote, mut attributes, mut last, mut length) = (None, 0, b'<', rest.len());
        for (at, byte) in rest.bytes().enumerate().skip(1) {
            match quote {
                Some(mark) if byte == mark => quote = None,
                Some(_) => {}
                None if byte == b'>' => {
                    length = at + 1;
                    break;
                }
                None if matches!(byte, b'"' | b'\'') => quote = Some(byte),
                None => attributes += usize::from(byte == b'='),
            }
            last = byte;
        }
        if attributes > MOST_ATTRIBUTES {
            return Err(unreadable(format!("one of its elements has more than {MOST_ATTRIBUTES} attributes")));
        }
        depth += usize::from(last != b'/');
        if depth > DEEPEST {
            return Err(unreadable(format!("its elements stand in one another more than {DEEPEST} deep; take groups apart")));
        }
        rest = &rest[length..];
    }
    Ok(())
}

/// What a part of a drawing costs.
#[derive(Clone, Copy)]
struct Cost {
    nodes: usize,
    depth: usize,
    chain: usize,
}

/// Parts are used again by name, and so parts of parts: what is small as text may be without end when it is drawn.
fn used(document: &Document<'_>) -> Result<(), PictureFault> {
    let mut named: BTreeMap<&str, Node<'_, '_>> = BTreeMap::new();
    for node in document.descendants() {
        if let Some(id) = node.attribute("id") {
            named.entry(id).or_insert(node);
        }
    }
    let mut costs = BTreeMap::new();
    let cost = cost(document.root(), &named, &mut costs, &mut BTreeSet::new())?;
    // The root of the document stands around its first element, and a part that is used stands in what uses it.
    if cost.depth > DEEPEST + LONGEST_CHAIN + 1 {
        return Err(unreadable(format!(
            "its elements stand in one another more than {DEEPEST} deep, with those that it uses again; take groups apart"
        )));
    }
    if cost.nodes > MOST_NODES {
        return Err(unreadable(format!("it has more than {MOST_NODES} parts when those that it uses again are counted again")));
    }
    Ok(())
}

fn cost<'a>(
    part: Node<'a, '_>,
    named: &BTreeMap<&'a str, Node<'a, 'a>>,
    costs: &mut BTreeMap<&'a str, Cost>,
    around: &mut BTreeSet<&'a str>,
) -> Result<Cost, PictureFault> {
    let mut sum = Cost { nodes: 0, depth: 0, chain: 0 };
    let mut open = vec![(part, 1)];
    while let Some((node, depth)) = open.pop() {
        sum.nodes = sum.nodes.saturating_add(1);
        sum.depth = sum.depth.max(depth);
        open.extend(node.children().filter(Node::is_element).map(|child| (child, depth + 1)));
        // A link leads somewhere and draws nothing.
        let draws = |attribute: &str| node.tag_name().name() != "a" || attribute != "href";
        for attribute in node.attributes().filter(|attribute| draws(attribute.name())) {
            let value = attribute.value();
            let repeats = matches!(node.tag_name().name(), "use" | "tref") || attribute.name().starts_with("marker");
            for id in references(attribute.name(), value) {
                let Some((id, target)) = named.get_key_value(id) else { continue };
                let of = match costs.get(id) {
                    Some(known) => *known,
                    None => {
                        if around.len() >= LONGEST_CHAIN {
                            return Err(unreadable(format!("parts of it name one another in a chain longer than {LONGEST_CHAIN}")));
                        }
                        if !around.insert(id) {
                            return Err(unreadable(format!("its part `{id}` is used in itself")));
                        }
                        let of = cost(*target, named, costs, around)?;
                        around.remove(id);
                        costs.insert(id, of);
                        of
                    }
                };
                sum.depth = sum.depth.max(depth + of.depth);
                sum.chain = sum.chain.max(of.chain + 1);
                if sum.chain > LONGEST_CHAIN {
                    return Err(unreadable(format!("parts of it name one another in a chain longer than {LONGEST_CHAIN}")));
                }
                if repeats {
                    sum.nodes = sum.nodes.saturating_add(of.nodes);
                }
            }
        }
    }
    Ok(sum)
}

/// The ids that an attribute names.
fn references<'a>(attribute: &str, value: &'a str) -> Vec<&'a str> {
    if attribute.eq_ignore_ascii_case("href") {
        return value.trim().strip_prefix('#').into_iter().collect();
    }
    let ends = |c: char| matches!(c, ')' | '"' | '\'' | ' ');
    value.split('#').skip(1).map(|rest| rest.split(ends).next().unwrap_or_default()).filter(|id| !id.is_empty()).collect()
}

fn size(root: Node<'_, '_>) -> Option<(u32, u32)> {
    let pixels = |name: &str| {
        let value = root.attribute(name)?.trim();
        value.strip_suffix("px").unwrap_or(value).parse::<f64>().ok().filter(|size| (1.0..1e6).contains(size))
    };
    let (width, height) = match (pixels("width"), pixels("height")) {
        (Some(width), Some(height)) => (width, height),
        _ => {
            let mut numbers = root.attribute("viewBox")?.split([' ', ',']).filter(|part| !part.is_empty()).map(str::parse::<f64>);
            let (_, _) = (numbers.next()?.ok()?, numbers.next()?.ok()?);
            (numbers.next()?.ok()?, numbers.next()?.ok()?)
        }
    };
    (width >= 1.0 && height >= 1.0 && width < 1e6 && height < 1e6).then_some((width.round() as u32, height.round() as u32))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn drawing(inner: &str) -> String {
        format!("<svg xmlns='http://www.w3.org/2000/svg' xmlns:xlink='http://www.w3.org/1999/xlink' width='10' height='10'>{inner}</svg>")
    }

    fn refused(inner: &str) -> String {
        match examine(&drawing(inner)) {
            Err(PictureFault::Unsafe(why) | PictureFault::Unreadable(why)) => why,
            other => panic!("{}: {other:?}", &inner[..inner.len().min(200)]),
        }
    }

    #[test]
    fn a_style_is_read_whole_and_by_the_rules_of_css() {
        for inner in [
            "<style>.a{fill:u\\72l(https://example.org/)}</style>",
            "<style>@\\69mport 'a';</style>",
            "<style>.a{fill:red}<!-- c -->@import 'a';</style>",
            "<style>.a{}<![CDATA[@font-face{src:url(a)}]]></style>",
            "<style><title/>@import 'a';</style>",
            "<style><g>x</g></style>",
            "<rect style='mask:image-set(\"a\" 1x)'/>",
            "<rect fill='image-set(\"a\" 1x)'/>",
            "<rect fill='u\\72l(https://example.org/#a)'/>",
            "<rect style='animation:a 1s'/>",
            "<image href='data:image/svg+xml,%3Csvg/%3E'/>",
            "<g xml:base='https://example.org/'><use href='#a'/></g>",
            "<use xlink:href='other.svg#a'/>",
        ] {
            assert!(matches!(examine(&drawing(inner)), Err(PictureFault::Unsafe(_))), "{inner}: {:?}", examine(&drawing(inner)));
        }
        for inner in [
            "<style type='text/css'><![CDATA[.a{fill:url(#b)}]]></style>",
            "<text>Bolt(M8), url(see page 3)</text>",
            "<g aria-label='Bolt(M8)' class='a(b)' transform='rotate(3 4 5) translate(1,2)'/>",
            "<path d='M0 0L1e3-2z' fill='#fff' stroke='url(#a)' style='fill:none;-inkscape-stroke:none'/>",
            "<image href='data:image/png;base64,AAAA'/>",
            "<metadata><rdf xmlns='urn:x' style='@import' href='https://example.org/'/></metadata>",
            "<g id='a'><a href='#a'><rect fill='#abc'/></a></g>",
        ] {
            assert!(examine(&drawing(inner)).is_ok(), "{inner}: {:?}", examine(&drawing(inner)));
        }
    }

    #[test]
    fn bounds_are_told_with_their_number() {
        let nested = |deep: usize| format!("{}{}", "<g>".repeat(deep), "</g>".repeat(deep));
        assert!(examine(&drawing(&nested(DEEPEST - 1))).is_ok());
        for deep in [DEEPEST, 600, 800, 3_000, 10_000, 100_000] {
            assert!(refused(&nested(deep)).contains("more than 100 deep"), "{deep}");
        }
        let attributes: String = (0..201).map(|at| format!(" a{at}='>'")).collect();
        assert!(refused(&format!("<g{attributes}/>")).contains("200 attributes"));
        assert!(refused(&format!("<text>{}</text>", "x".repeat(MOST_LETTERS + 1))).contains("20000 letters"));
        assert!(refused(&"<g/>".repeat(MOST_NODES)).contains("nodes limit"));
        assert!(refused(&" ".repeat(LARGEST)).contains("larger than 4 MB"));
    }

    #[test]
    fn what_is_used_again_is_counted_again() {
        // Ten uses of ten uses of ten uses: 10^8 parts from a few lines.
        let many: String = (0..8).map(|at| format!("<g id='g{at}'>{}</g>", format!("<use href='#g{}'/>", at + 1).repeat(10))).collect();
        assert!(refused(&format!("{many}<rect id='g8'/>")).contains("counted again"));
        let chain = |long: usize| (0..long).map(|at| format!("<g id='g{at}'><use xlink:href='#g{}'/></g>", at + 1)).collect::<String>();
        assert!(refused(&chain(5_000)).contains("chain longer than 16"));
        let masks: String = (0..3_000).map(|at| format!("<mask id='m{at}'><rect mask='url(#m{})'/></mask>", at + 1)).collect();
        assert!(refused(&masks).contains("chain longer than 16"));
        let long = |at: usize| format!("<g id='g{at}'>{}<use href='#g{}'/>{}</g>", "<g>".repeat(60), at + 1, "</g>".repeat(60));
        assert!(refused(&(0..3).map(long).collect::<String>()).contains("with those that it uses again"));
        assert!(refused("<g id='a'><use href='#a'/></g>").contains("used in itself"));
        assert!(refused("<g id='a'><use href='#b'/></g><g id='b' mask='url(#a)'/>").contains("used in itself"));
        assert!(examine(&drawing("<g id='a'><rect/></g><use href='#a'/><use href='#a'/><rect mask='url(#none)'/>")).is_ok());
    }
}
