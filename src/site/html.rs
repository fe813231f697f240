//! Words to HTML: the one place that writes markup. Nothing that an author writes can run: what is no markup of this file comes out as text.

use std::cell::Cell;
use std::fmt::Write;

use crate::document::value::{Printed, Told, Value};
use crate::document::words::{Align, Block, Callout, Inline, Line, Picture, Target, Words};
use crate::drawing::{Point, callouts};
use crate::guide::facts::slug_of;
use crate::guide::prose::RefKind;
use crate::markup::{escape, escape_into};
use crate::pictures::Published;
use crate::quantity;
use crate::source::Spanned;

/// A value in both unit orders.
pub fn value(value: &Value) -> String {
    let mut out = String::with_capacity(64);
    write_value(value, &mut out);
    out
}

fn write_value(value: &Value, out: &mut String) {
    let Printed { first, second } = value.spelt();
    // `m` marks the value in metric units and `u` the one in the others, so that a page can change their order.
    let imperial_leads = match value.told() {
        Told::Quantity(_) | Told::Worked(_) => value.imperial_first() && second.is_some(),
        Told::Words(_) | Told::Untold(_) => false,
    };
    let (leading, other) = if imperial_leads { ("u", "m") } else { ("m", "u") };
    // A page that shows both says once that they are a limit: the word stands apart, so that the style can leave it out of the second.
    let limit = |text: &str, out: &mut String| match quantity::bound(text).filter(|bound| second.is_some() && first.starts_with(bound)) {
        Some(bound) => {
            let _ = write!(out, "<span class=\"lim\">{bound}</span>");
            escape_into(out, &text[bound.len()..], true);
        }
        None => escape_into(out, text, true),
    };
    let untold = if value.untold().is_some() { " untold" } else { "" };
    let _ = write!(out, "<span class=\"val{untold}\"><b class=\"{leading}\">");
    limit(first, out);
    out.push_str("</b>");
    if let Some(second) = second {
        let _ = write!(out, " <i class=\"{other}\">");
        limit(second, out);
        out.push_str("</i>");
    }
    out.push_str("</span>");
}

/// A line.
pub fn line(line: &Line) -> String {
    let mut writer = Writer { out: String::with_capacity(64), quotes: true, shown: None };
    writer.words(&line.words);
    writer.out
}

/// Words with their structure. `shown` says whether the page has shown a picture already: the first one is loaded at once.
pub fn blocks(blocks: &[Spanned<Block>], shown: &Cell<bool>) -> String {
    if blocks.is_empty() {
        return String::new();
    }
    let mut writer = Writer { out: String::with_capacity(512), quotes: false, shown: Some(shown) };
    writer.blocks(blocks);
    writer.out
}

/// A picture of a step for paper, with the balloons of its callouts.
pub fn paper_picture(picture: &Picture) -> Option<String> {
    let published = Published::plan(&picture.address, picture.fact?);
    Some(with_balloons(published.for_paper(&escape(&picture.words)), picture, &published))
}

/// The words of a picture's callouts, numbered as its balloons.
pub fn callout_list(callouts: &[Callout]) -> String {
    if callouts.is_empty() {
        return String::new();
    }
    let lines: String = callouts.iter().map(|callout| format!("<li>{}</li>", line(&callout.words))).collect();
    format!("<ol class=\"called\">{lines}</ol>")
}

fn with_balloons(image: String, picture: &Picture, published: &Published) -> String {
    if picture.callouts.is_empty() {
        return image;
    }
    let places: Vec<Point> = picture.callouts.iter().map(|callout| Point::new(callout.at.0, callout.at.1)).collect();
    let (_, width, height) = published.largest();
    format!("<span class=\"pic\">{image}{}</span>", callouts::callouts(width, height, &places))
}

struct Writer<'w> {
    out: String,
    /// Whether quotation marks are spelt out: a line may come to stand in an attribute of a theme.
    quotes: bool,
    shown: Option<&'w Cell<bool>>,
}

impl Writer<'_> {
    /// Begins a line of its own.
    fn fresh(&mut self) {
        if !self.out.is_empty() && !self.out.ends_with('\n') {
            self.out.push('\n');
        }
    }

    fn blocks(&mut self, blocks: &[Spanned<Block>]) {
        blocks.iter().for_each(|block| self.block(&block.value));
    }

    fn block(&mut self, block: &Block) {
        match block {
            Block::Paragraph(words) => {
                self.fresh();
                self.around("<p>", words, "</p>\n");
            }
            // The page sets the operations beside it.
            Block::Told { label, operations: _, words } => {
                self.fresh();
                let label = label.as_ref().map(|label| format!("<span class=\"n\">{}</span> ", escape(label))).unwrap_or_default();
                self.around(&format!("<p>{label}"), words, "</p>\n");
            }
            Block::Bare(words) => self.words(words),
            Block::Heading { level, words } => {
                // Headings in a step stand below the step's own, which is of level 3 on the page.
                let level = match level {
                    0..=3 => 4,
                    4 => 5,
                    _ => 6,
                };
                self.fresh();
                self.around(&format!("<h{level}>"), words, &format!("</h{level}>\n"));
            }
            Block::List { start, items } => {
                self.fresh();
                let tag = if start.is_some() { "ol" } else { "ul" };
                match start {
                    Some(start) if *start != 1 => self.out.push_str(&format!("<ol start=\"{start}\">\n")),
                    _ => self.out.push_str(&format!("<{tag}>\n")),
                }
                for item in items {
                    self.fresh();
                    self.out.push_str("<li>");
                    self.blocks(item);
                    self.out.push_str("</li>\n");
                }
                self.out.push_str(&format!("</{tag}>\n"));
            }
            Block::Table { aligned, head, rows } => {
                self.out.push_str("<div class=\"scroll\" tabindex=\"0\"><table><thead><tr>");
                self.row(aligned, head, "th scope=\"col\"", "th");
                self.out.push_str("</tr></thead><tbody>\n");
                for row in rows {
                    self.out.push_str("<tr>");
                    self.row(aligned, row, "td", "td");
                    self.out.push_str("</tr>\n");
                }
                self.out.push_str("</tbody></table></div>\n");
            }
            Block::Figure { picture, caption, explained } => self.figure(picture, caption, *explained),
            Block::Callouts(callouts) => self.out.push_str(&callout_list(callouts)),
            Block::Code { language, text } => {
                self.fresh();
                match language.as_str() {
                    "" => self.out.push_str("<pre><code>"),
                    language => self.out.push_str(&format!("<pre><code class=\"language-{}\">", escape(language))),
                }
                escape_into(&mut self.out, text, false);
                self.out.push_str("</code></pre>\n");
            }
            Block::Quote(blocks) => {
                self.fresh();
                self.out.push_str("<blockquote>\n");
                self.blocks(blocks);
                self.fresh();
                self.out.push_str("</blockquote>\n");
            }
            Block::Rule => {
                self.fresh();
                self.out.push_str("<hr />\n");
            }
            Block::Footnote { label, blocks } => {
                self.out.push_str(&format!("<div class=\"footnote\" id=\"{}\"><sup>{}</sup>", footnote_id(label), escape(label)));
                self.blocks(blocks);
                self.out.push_str("</div>\n");
            }
        }
    }

    fn row(&mut self, aligned: &[Align], cells: &[Words], open: &str, close: &str) {
        for (at, words) in cells.iter().enumerate() {
            let class = match aligned.get(at) {
                Some(Align::Right) => " class=\"right\"",
                Some(Align::Centre) => " class=\"center\"",
                Some(Align::Left) | None => "",
            };
            self.around(&format!("<{open}{class}>"), words, &format!("</{close}>"));
        }
    }

    fn figure(&mut self, picture: &Picture, caption: &str, explained: bool) {
        let published = picture.fact.map(|fact| Published::plan(&picture.address, fact));
        let class = if published.as_ref().is_some_and(Published::is_drawing) { "drawing" } else { "photo" };
        let markup = self.picture(picture);
        // Without scripts the link leads to the picture at its largest; with them it is shown over the page.
        let markup = match &published {
            Some(published) => format!("<a class=\"zoom\" href=\"{}\">{markup}</a>", published.largest().0),
            None => markup,
        };
        let list = if explained { callout_list(&picture.callouts) } else { String::new() };
        let caption = if caption.is_empty() { String::new() } else { format!("<figcaption>{}</figcaption>", escape(caption)) };
        self.out.push_str(&format!("<figure class=\"{class}\">{markup}{list}{caption}</figure>\n"));
    }

    fn picture(&self, picture: &Picture) -> String {
        let words = escape(&picture.words);
        match picture.fact {
            Some(fact) => {
                let published = Published::plan(&picture.address, fact);
                let lazy = self.shown.is_some_and(|shown| shown.replace(true));
                with_balloons(published.markup(&words, lazy), picture, &published)
            }
            // A guide published although it is held may lack a picture; the words stand in its place.
            None => format!("<span class=\"no-picture\">{words}</span>"),
        }
    }

    fn around(&mut self, open: &str, words: &Words, close: &str) {
        self.out.push_str(open);
        self.words(words);
        self.out.push_str(close);
    }

    fn words(&mut self, words: &Words) {
        for inline in words {
            match &inline.value {
                Inline::Text(text) => escape_into(&mut self.out, text, self.quotes),
                Inline::Code(text) => {
                    self.out.push_str("<code>");
                    escape_into(&mut self.out, text, false);
                    self.out.push_str("</code>");
                }
                Inline::Strong(words) => self.around("<strong>", words, "</strong>"),
                Inline::Emphasis(words) => self.around("<em>", words, "</em>"),
                Inline::Value(value) => write_value(value, &mut self.out),
                // The words of a value that is told elsewhere are words like others.
                Inline::Reference { kind: RefKind::Spec | RefKind::Step, id: _, value: _, words } => self.words(words),
                Inline::Reference {
                    kind: RefKind::Hardware | RefKind::Part | RefKind::Item | RefKind::Connector | RefKind::Tool | RefKind::Caution,
                    id: _,
                    value: _,
                    words,
                } => self.around("<span class=\"ref\">", words, "</span>"),
                Inline::Operation { id: _, words } => self.around("<b>", words, "</b>"),
                Inline::Step { id, words } => self.around(&format!("<a href=\"#{}\">", escape(id)), words, "</a>"),
                Inline::Link { to, words } => match to {
                    Target::Guide(slug) => self.around(&format!("<a href=\"../{}/index.html\">", escape(slug)), words, "</a>"),
                    Target::Address(address) => self.around(&format!("<a href=\"{}\">", escape(address)), words, "</a>"),
                    Target::Nowhere => self.around("<span class=\"ref\">", words, "</span>"),
                },
                Inline::Picture(picture) => {
                    let markup = self.picture(picture);
                    self.out.push_str(&markup);
                }
                Inline::Note(label) => {
                    self.out.push_str(&format!("<sup><a href=\"#{}\">{}</a></sup>", footnote_id(label), escape(label)));
                }
                Inline::Soft => self.out.push('\n'),
                Inline::Break => self.out.push_str("<br />\n"),
            }
        }
    }
}

/// Footnotes of all steps stand on one page: the label alone names them.
fn footnote_id(label: &str) -> String {
    format!("note-{}", slug_of(label))
}

/// Plain text in which no line ends within a value: `3 mm` stays whole.
pub fn whole(text: &str) -> String {
    let mut whole = text.to_owned();
    for found in quantity::scan(text, &quantity::Options::default()).iter().rev() {
        for statement in found.quantity.statements.iter().rev() {
            let kept = whole[statement.range.clone()].replace(' ', "\u{a0}");
            whole.replace_range(statement.range.clone(), &kept);
        }
    }
    whole
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_line_ends_within_a_value() {
        let text = "2 holes, pilot hole first: 3 mm (1/8 in), then 8 mm";
        assert_eq!(whole(text), "2 holes, pilot hole first: 3\u{a0}mm (1/8\u{a0}in), then 8\u{a0}mm");
        assert_eq!(whole("by hand"), "by hand");
    }
}
