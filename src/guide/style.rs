//! Looks through the style of a drawing: nothing in it may fetch something or move. It is taken apart by the rules of CSS, so that escapes
//! and comments hide nothing; properties and functions are those of a list, and what is not on it is named. The drawing around it is
//! left to `drawing`.

use cssparser::{ParseError, Parser, Token};

/// Blocks and functions stand in one another no deeper than this.
const DEEPEST: usize = 8;

/// Properties that a drawing may set: SVG 2, appendix "Property Index", and what CSS adds to text and painting.
const PROPERTIES: &[&str] = &[
    "alignment-baseline",
    "background",
    "background-color",
    "baseline-shift",
    "block-size",
    "border",
    "clip",
    "clip-path",
    "clip-rule",
    "color",
    "color-interpolation",
    "color-interpolation-filters",
    "color-rendering",
    "cursor",
    "cx",
    "cy",
    "d",
    "direction",
    "display",
    "dominant-baseline",
    "enable-background",
    "fill",
    "fill-opacity",
    "fill-rule",
    "filter",
    "flood-color",
    "flood-opacity",
    "font",
    "font-family",
    "font-feature-settings",
    "font-kerning",
    "font-size",
    "font-size-adjust",
    "font-stretch",
    "font-style",
    "font-synthesis",
    "font-variant",
    "font-variant-alternates",
    "font-variant-caps",
    "font-variant-east-asian",
    "font-variant-ligatures",
    "font-variant-numeric",
    "font-variant-position",
    "font-variation-settings",
    "font-weight",
    "font-width",
    "glyph-orientation-horizontal",
    "glyph-orientation-vertical",
    "height",
    "image-rendering",
    "inline-size",
    "isolation",
    "kerning",
    "letter-spacing",
    "lighting-color",
    "line-height",
    "margin",
    "marker",
    "marker-end",
    "marker-mid",
    "marker-start",
    "mask",
    "mask-type",
    "max-width",
    "mix-blend-mode",
    "opacity",
    "overflow",
    "paint-order",
    "pointer-events",
    "r",
    "rx",
    "ry",
    "shape-inside",
    "shape-margin",
    "shape-padding",
    "shape-rendering",
    "shape-subtract",
    "solid-color",
    "solid-opacity",
    "stop-color",
    "stop-opacity",
    "stroke",
    "stroke-dasharray",
    "stroke-dashoffset",
    "stroke-linecap",
    "stroke-linejoin",
    "stroke-miterlimit",
    "stroke-opacity",
    "stroke-width",
    "tab-size",
    "text-align",
    "text-anchor",
    "text-decoration",
    "text-decoration-color",
    "text-decoration-fill",
    "text-decoration-line",
    "text-decoration-skip-ink",
    "text-decoration-stroke",
    "text-decoration-style",
    "text-decoration-thickness",
    "text-indent",
    "text-orientation",
    "text-overflow",
    "text-rendering",
    "text-shadow",
    "text-transform",
    "transform",
    "transform-box",
    "transform-origin",
    "unicode-bidi",
    "user-select",
    "vector-effect",
    "vertical-align",
    "visibility",
    "white-space",
    "width",
    "word-spacing",
    "writing-mode",
    "x",
    "y",
];

/// Functions of values that fetch nothing; `url` may name a part of the drawing.
const FUNCTIONS: &[&str] = &[
    "url",
    "rgb",
    "rgba",
    "hsl",
    "hsla",
    "hwb",
    "lab",
    "lch",
    "oklab",
    "oklch",
    "color",
    "color-mix",
    "calc",
    "min",
    "max",
    "clamp",
    "var",
    "translate",
    "translatex",
    "translatey",
    "scale",
    "scalex",
    "scaley",
    "rotate",
    "skew",
    "skewx",
    "skewy",
    "matrix",
    "circle",
    "ellipse",
    "inset",
    "polygon",
    "path",
    "rect",
    "blur",
    "brightness",
    "contrast",
    "drop-shadow",
    "grayscale",
    "hue-rotate",
    "invert",
    "opacity",
    "saturate",
    "sepia",
    "linear-gradient",
    "radial-gradient",
];

/// Functions of selectors.
const SELECTORS: &[&str] = &["not", "is", "where", "has", "nth-child", "nth-last-child", "nth-of-type", "nth-last-of-type", "lang", "dir"];

/// What a style has in it that it may not have, in words; none if it is plain.
type Found = Option<String>;

/// What a rule's text may not have, from the text of a `<style>`.
pub(super) fn sheet(text: &str) -> Found {
    within(text, |parser| rules(parser, 0))
}

/// The same of an attribute `style`.
pub(super) fn declarations(text: &str) -> Found {
    within(text, |parser| block(parser, 0))
}

/// The same of the value of a presentation attribute.
pub(super) fn value(text: &str) -> Found {
    within(text, |parser| values(parser, FUNCTIONS, 0))
}

/// Whether the value of an attribute that is none of style leads out of the drawing all the same.
pub(super) fn leads_out(text: &str) -> bool {
    // In words any function may stand: “bolt (see page 3)”.
    within(text, |parser| urls(parser, 0)).is_some()
}

/// Whether a style may set this property.
pub(super) fn is_property(name: &str) -> bool {
    let name = name.to_ascii_lowercase();
    // What a drawing program notes for itself, and names that a style gives to values, do nothing by themselves.
    PROPERTIES.contains(&name.as_str()) || ["--", "-inkscape-", "-sodipodi-", "inkscape-"].iter().any(|own| name.starts_with(own))
}

fn within(text: &str, look: impl FnOnce(&mut Parser<'_>) -> Found) -> Found {
    look(&mut Parser::new(text))
}

/// Looks into a block or a function, which has just been met.
fn inside(parser: &mut Parser<'_>, look: impl FnOnce(&mut Parser<'_>) -> Found) -> Found {
    let looked: Result<Found, ParseError<()>> = parser.parse_nested_block(|parser| {
        let found = look(parser);
        // What is left of a block in which something was found is of no interest.
        while parser.next().is_ok() {}
        Ok(found)
    });
    looked.unwrap_or_else(|_| Some("a style that cannot be read".to_owned()))
}

fn deep() -> Found {
    Some(format!("a style nested more than {DEEPEST} deep"))
}

fn rules(parser: &mut Parser<'_>, depth: usize) -> Found {
    if depth > DEEPEST {
        return deep();
    }
    // In the block of a medium stand rules; in any other, declarations.
    let mut of_medium = false;
    while let Ok(token) = parser.next().cloned() {
        let found = match token {
            Token::AtKeyword(name) if name.eq_ignore_ascii_case("media") => {
                of_medium = true;
                None
            }
            Token::AtKeyword(name) if name.to_ascii_lowercase().ends_with("keyframes") => {
                Some(format!("@{name} in a style, by which it moves: paper cannot show that"))
            }
            Token::AtKeyword(name) => Some(format!("@{name} in a style")),
            Token::Semicolon => {
                of_medium = false;
                None
            }
            Token::CurlyBracketBlock if std::mem::take(&mut of_medium) => inside(parser, |parser| rules(parser, depth + 1)),
            Token::CurlyBracketBlock => inside(parser, |parser| block(parser, depth + 1)),
            other => one(parser, &other, SELECTORS, depth),
        };
        if found.is_some() {
            return found;
        }
    }
    None
}

/// Declarations up to the end of a block.
fn block(parser: &mut Parser<'_>, depth: usize) -> Found {
    while let Ok(token) = parser.next().cloned() {
        let found = match token {
            Token::Semicolon => None,
            Token::Ident(name) => match parser.next() {
                Ok(Token::Colon) => property(&name).or_else(|| declared(parser, depth)),
                _ => Some("a style that cannot be read".to_owned()),
            },
            Token::AtKeyword(name) => Some(format!("@{name} in a style")),
            _ => Some("a style that cannot be read".to_owned()),
        };
        if found.is_some() {
            return found;
        }
    }
    None
}

fn property(name: &str) -> Found {
    let low = name.to_ascii_lowercase();
    if ["animation", "transition", "offset"]
        .iter()
        .any(|moves| low.trim_start_matches("-webkit-").trim_start_matches("-moz-").starts_with(moves))
    {
        return Some(format!("{name} in a style, by which it moves: paper cannot show that"));
    }
    (!is_property(name)).then(|| format!("the property {name} in a style"))
}

/// The value of a declaration, up to its semicolon.
fn declared(parser: &mut Parser<'_>, depth: usize) -> Found {
    while let Ok(token) = parser.next().cloned() {
        if token == Token::Semicolon {
            return None;
        }
        let found = one(parser, &token, FUNCTIONS, depth);
        if found.is_some() {
            return found;
        }
    }
    None
}

fn values(parser: &mut Parser<'_>, functions: &[&str], depth: usize) -> Found {
    if depth > DEEPEST {
        return deep();
    }
    while let Ok(token) = parser.next().cloned() {
        let found = one(parser, &token, functions, depth);
        if found.is_some() {
            return found;
        }
    }
    None
}

/// One token, with what stands in it.
fn one(parser: &mut Parser<'_>, token: &Token<'_>, functions: &[&str], depth: usize) -> Found {
    let fetches = || Some("a style that fetches something".to_owned());
    match token {
        Token::UnquotedUrl(address) => (!address.trim().starts_with('#')).then(fetches).flatten(),
        Token::BadUrl(_) | Token::BadString(_) => Some("a style that cannot be read".to_owned()),
        Token::Function(name) if name.eq_ignore_ascii_case("url") => inside(parser, |parser| match parser.next() {
            Ok(Token::QuotedString(address)) if address.trim().starts_with('#') => None,
            _ => fetches(),
        }),
        Token::Function(name) if functions.iter().any(|known| name.eq_ignore_ascii_case(known)) => {
            inside(parser, |parser| values(parser, functions, depth + 1))
        }
        Token::Function(name) => Some(format!("the function {name}() in a style")),
        Token::AtKeyword(name) => Some(format!("@{name} in a style")),
        Token::ParenthesisBlock | Token::SquareBracketBlock | Token::CurlyBracketBlock => {
            inside(parser, |parser| values(parser, functions, depth + 1))
        }
        _ => None,
    }
}

fn urls(parser: &mut Parser<'_>, depth: usize) -> Found {
    let out = || Some("an address".to_owned());
    if depth > DEEPEST {
        return out();
    }
    while let Ok(token) = parser.next().cloned() {
        let found = match token {
            Token::UnquotedUrl(address) => (!address.trim().starts_with('#')).then(out).flatten(),
            Token::Function(name) if name.eq_ignore_ascii_case("url") => inside(parser, |parser| match parser.next() {
                Ok(Token::QuotedString(address)) if address.trim().starts_with('#') => None,
                _ => out(),
            }),
            Token::Function(_) | Token::ParenthesisBlock | Token::SquareBracketBlock | Token::CurlyBracketBlock => {
                inside(parser, |parser| urls(parser, depth + 1))
            }
            _ => None,
        };
        if found.is_some() {
            return found;
        }
    }
    None
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_plain_style_is_plain() {
        for text in [
            ".a, g > rect.b:not(.c):nth-child(2n+1) { fill: #fff; stroke: rgb(1, 2, 3); stroke-width: 2px }",
            "@media print { .a { fill: none } .b { fill: url(#hatch) } }",
            "/* @import */ text { font: bold 12px 'A (b)', sans-serif; -inkscape-font-specification: x; fill: url( '#a' ) !important; }",
            "<!-- .a { opacity: .5 } -->",
            ".a { --shade: #123; fill: var(--shade); transform: rotate(3deg) translate(1px, calc(2px + 1px)) }",
            "",
        ] {
            assert_eq!(sheet(text), None, "{text}");
        }
        assert_eq!(declarations("fill:red;stroke:url(#a);;"), None);
        assert_eq!(value("url(#a) rgb(1,2,3)"), None);
        assert!(!leads_out("Bolt(M8), see page (3)") && !leads_out("url(#a)") && !leads_out("it's \"half"));
    }

    #[test]
    fn what_fetches_or_moves_is_named_however_it_is_spelt() {
        for (text, named) in [
            ("@import 'a.css';", "@import"),
            ("@\\69mport 'a.css';", "@import"),
            ("@IMPORT url(a.css);", "@IMPORT"),
            ("@font-face { font-family: a; src: url(a.woff) }", "@font-face"),
            ("@key\\66rames a { from { x: 1 } }", "moves"),
            ("@-webkit-keyframes a { from { x: 1 } }", "moves"),
            ("@media print { @import 'a'; }", "@import"),
            ("@media print { a { } @font-face { } }", "@font-face"),
            (".a { fill: url(https://example.org/#a) }", "fetches"),
            (".a { fill: u\\72l(https://example.org/) }", "fetches"),
            (".a { fill: \\75 rl( 'https://example.org/' ) }", "fetches"),
            (".a { fill: url(/**/#a) }", "fetches"),
            (".a { fill: URL(\"\\68ttps://example.org/\") }", "fetches"),
            (".a { fill: image-set('a.png' 1x) }", "image-set()"),
            (".a { fill: im\\61ge-set('a.png' 1x) }", "()"),
            (".a { mask: cross-fade(url(#a), 'b.png') }", "cross-fade()"),
            (".a { fill: color-mix(in srgb, image('a.png'), red) }", "image()"),
            (".a { --x: image-set('a.png' 1x); fill: var(--x) }", "image-set()"),
            (".a { --x: { y: src('a.png') } }", "src()"),
            (".a { animation: b 1s }", "moves"),
            (".a { -webkit-animation-name: b }", "moves"),
            (".a { transition: fill 1s }", "moves"),
            (".a { offset-path: path('M0 0') }", "moves"),
            (".a { anim\\61tion: b }", "moves"),
            (".a { background-image: none }", "background-image"),
            (".a { behavior: none }", "behavior"),
            (".a { -moz-binding: none }", "-moz-binding"),
            (".a { content: 'x' }", "content"),
            (".a { .b { fill: red } }", "read"),
            (".a { animation: b 1s; .b { fill: red } }", "moves"),
            ("@media a; .a { background-image: none; .b { } }", "background-image"),
            (".a { fill: url(a b) }", "read"),
            ("a:is(url(https://example.org)) { }", "fetches"),
        ] {
            let found = sheet(text);
            assert!(found.as_ref().is_some_and(|found| found.contains(named)), "{text}: {found:?}");
        }
        assert!(declarations("fill:u\\72l(//x)").is_some() && declarations("fill:red;}").is_some());
        assert!(value("image-set('a' 1x)").is_some() && value("url(x)").is_some());
        assert!(leads_out("u\\72l(x)") && leads_out("a (url(x))"));
        assert!(
            sheet(&format!(".a {{ fill: {}1{} }}", "calc(".repeat(5_000), ")".repeat(5_000))).is_some_and(|found| found.contains("deep"))
        );
        assert!(sheet(&"@media a {".repeat(5_000)).is_some());
        assert!(leads_out(&"(".repeat(100_000)));
    }
}
