//! Words to HTML: the one place that writes markup. References become values and names, pictures become
//! figures, raw markup becomes text, and nothing that an author writes can run.

use std::cell::{Cell, RefCell};
use std::collections::BTreeMap;

use foldhash::HashMap;
use pulldown_cmark::{Alignment, CowStr, Event, HeadingLevel, Tag, TagEnd, html};

use crate::guide::model::{Callout, Guide, Shop};
use crate::guide::names::{Destination, Names, step};
use crate::guide::prose::{Prose, RefKind, is_safe_address};
use crate::publish::drawing::{Point, callouts};
use crate::publish::page_data::Value;
use crate::publish::photo::Published;
use crate::quantity::{self, Order, Quantity};

/// What turning words into HTML needs to know.
#[derive(Clone, Copy)]
pub struct Context<'g, 's> {
    /// The guide.
    pub guide: &'g Guide<'s>,
    /// The shop.
    pub shop: &'g Shop,
    /// What ids stand for.
    pub names: Names<'g>,
    /// The guide's pictures as published, by the address in the text.
    pub pictures: &'g BTreeMap<String, Published>,
    /// What the step says of places on its pictures.
    pub callouts: &'g [Callout],
    /// Whether a picture was shown already: the first one is loaded at once.
    pub shown: &'g Cell<bool>,
    /// Values printed already: the same spec is shown in many places, and converting exactly is not cheap.
    pub printed: &'g Printed,
}

/// Values printed already, by the spec or the text they stand in.
#[derive(Debug, Default)]
pub struct Printed(RefCell<HashMap<*const Quantity, Value>>);

impl Printed {
    /// The printed value of a quantity of the model.
    pub fn value(&self, quantity: &Quantity, shop: &Shop) -> Value {
        self.0.borrow_mut().entry(std::ptr::from_ref(quantity)).or_insert_with(|| value(quantity, shop)).clone()
    }
}

/// Text made safe to stand between tags or in an attribute.
pub fn escape(text: &str) -> String {
    let mut escaped = String::with_capacity(text.len() + 8);
    escape_into(&mut escaped, text);
    escaped
}

fn escape_into(out: &mut String, text: &str) {
    for c in text.chars() {
        match c {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\'' => out.push_str("&#39;"),
            c => out.push(c),
        }
    }
}

/// A value in both unit orders.
pub fn value(quantity: &Quantity, shop: &Shop) -> Value {
    let order = if shop.imperial_first { Order::ImperialFirst } else { Order::MetricFirst };
    let printed = quantity::print(quantity, order, shop.language == "de");
    // `m` marks the value in metric units and `u` the one in the others, so that a page can change their order.
    let (first, second) = if shop.imperial_first && printed.second.is_some() { ("u", "m") } else { ("m", "u") };
    // A page that shows both says once that they are a limit: the word stands apart, so that the style can leave it out of the second.
    let limit = |text: &str| match quantity::bound(text).filter(|bound| printed.first.starts_with(bound)) {
        Some(bound) => format!("<span class=\"lim\">{bound}</span>{}", escape(&text[bound.len()..])),
        None => escape(text),
    };
    let first_html = if printed.second.is_some() { limit(&printed.first) } else { escape(&printed.first) };
    let mut html = format!("<span class=\"val\"><b class=\"{first}\">{first_html}</b>");
    if let Some(other) = &printed.second {
        html.push_str(&format!(" <i class=\"{second}\">{}</i>", limit(other)));
    }
    html.push_str("</span>");
    Value { first: printed.first, second: printed.second, html }
}

/// A line of plain text; values in it are shown in both unit orders.
pub fn line(text: &str, shop: &Shop) -> String {
    let options = quantity::Options { decimal_comma: shop.language == "de", default_unit: None };
    let mut html = String::with_capacity(text.len() + 16);
    let mut at = 0;
    for found in quantity::scan(text, &options) {
        escape_into(&mut html, &text[at..found.range.start]);
        html.push_str(&value(&found.quantity, shop).html);
        at = found.range.end;
    }
    escape_into(&mut html, &text[at..]);
    html
}

/// Words with their structure.
pub fn prose(prose: &Prose<'_>, context: Context<'_, '_>) -> String {
    if prose.is_empty() {
        return String::new();
    }
    let mut writer = Writer {
        context,
        events: &prose.events,
        out: Vec::with_capacity(prose.events.len()),
        links: Vec::new(),
        table: None,
        listed: Vec::new(),
    };
    let mut at = 0;
    while at < writer.events.len() {
        at = writer.event(at);
    }
    // Callouts of a picture that stands in a line of words are listed behind all words.
    let mut left: Vec<&str> = Vec::new();
    for picture in &prose.pictures {
        let source = picture.source.as_str();
        if !writer.listed.contains(&source) && !left.contains(&source) {
            left.push(source);
        }
    }
    let mut html = String::with_capacity(512);
    html::push_html(&mut html, writer.out.into_iter());
    left.iter().for_each(|picture| html.push_str(&callout_list(picture, context)));
    html
}

/// A picture with the balloons of its callouts.
pub fn with_balloons(image: String, address: &str, picture: &Published, all: &[Callout]) -> String {
    let of = all.iter().filter(|callout| callout.picture.value == address);
    let places: Vec<Point> = of.map(|callout| Point::new(callout.at.value.0, callout.at.value.1)).collect();
    if places.is_empty() {
        return image;
    }
    let (_, width, height) = picture.largest();
    format!("<span class=\"pic\">{image}{}</span>", callouts::callouts(width, height, &places))
}

/// The words of a picture's callouts, numbered as its balloons.
pub fn callout_list(address: &str, context: Context<'_, '_>) -> String {
    let of = context.callouts.iter().filter(|callout| callout.picture.value == address);
    let lines: String = of.map(|callout| format!("<li>{}</li>", line(&callout.words.value, context.shop))).collect();
    if lines.is_empty() { lines } else { format!("<ol class=\"called\">{lines}</ol>") }
}

struct Table {
    aligned: Vec<Alignment>,
    column: usize,
    in_head: bool,
}

struct Writer<'w, 'g, 's> {
    context: Context<'g, 's>,
    events: &'w [(Event<'s>, crate::source::Span)],
    out: Vec<Event<'w>>,
    /// The markup that closes each open link.
    links: Vec<&'static str>,
    table: Option<Table>,
    /// Pictures whose callouts are listed below them.
    listed: Vec<&'w str>,
}

impl<'w> Writer<'w, '_, '_> {
    /// Writes the event at `at` and says where to go on.
    fn event(&mut self, at: usize) -> usize {
        let event: &'w Event<'_> = &self.events[at].0;
        match event {
            Event::Start(Tag::Paragraph) => {
                if let Some(end) = self.lone_picture(at) {
                    return end;
                }
                self.out.push(event.clone());
            }
            Event::Start(Tag::Image { dest_url, .. }) => {
                let end = self.end_of_picture(at);
                let markup = self.picture(dest_url, at, end);
                self.inline(markup);
                return end + 1;
            }
            Event::Start(Tag::Link { dest_url, .. }) => self.open_link(dest_url, at),
            Event::End(TagEnd::Link) => {
                let close = self.links.pop().unwrap_or_default();
                self.inline(close.to_owned());
            }
            // Headings in a step stand below the step's own, which is of level 3 on the page.
            Event::Start(Tag::Heading { level, .. }) => {
                let level = lower(*level);
                self.out.push(Event::Start(Tag::Heading { level, id: None, classes: Vec::new(), attrs: Vec::new() }));
            }
            Event::End(TagEnd::Heading(level)) => self.out.push(Event::End(TagEnd::Heading(lower(*level)))),
            Event::Html(text) | Event::InlineHtml(text) => self.out.push(Event::Text(CowStr::Borrowed(text))),
            // The block's lines come as text; without a paragraph they would stand loose.
            Event::Start(Tag::HtmlBlock) => self.out.push(Event::Start(Tag::Paragraph)),
            Event::End(TagEnd::HtmlBlock) => self.out.push(Event::End(TagEnd::Paragraph)),
            Event::FootnoteReference(label) => {
                let id = self.footnote_id(label);
                self.inline(format!("<sup><a href=\"#{id}\">{}</a></sup>", escape(label)));
            }
            Event::Start(Tag::FootnoteDefinition(label)) => {
                let id = self.footnote_id(label);
                self.block(format!("<div class=\"footnote\" id=\"{id}\"><sup>{}</sup>", escape(label)));
            }
            Event::End(TagEnd::FootnoteDefinition) => self.block("</div>\n".to_owned()),
            Event::Start(Tag::Table(aligned)) => {
                self.table = Some(Table { aligned: aligned.clone(), column: 0, in_head: true });
                self.block("<div class=\"scroll\" tabindex=\"0\"><table>".to_owned());
            }
            Event::End(TagEnd::Table) => {
                self.table = None;
                self.block("</tbody></table></div>\n".to_owned());
            }
            Event::Start(Tag::TableHead) => self.block("<thead><tr>".to_owned()),
            Event::End(TagEnd::TableHead) => {
                if let Some(table) = &mut self.table {
                    table.in_head = false;
                }
                self.block("</tr></thead><tbody>\n".to_owned());
            }
            Event::Start(Tag::TableRow) => {
                if let Some(table) = &mut self.table {
                    table.column = 0;
                }
                self.block("<tr>".to_owned());
            }
            Event::End(TagEnd::TableRow) => self.block("</tr>\n".to_owned()),
            Event::Start(Tag::TableCell) => {
                let Some(table) = &mut self.table else { return at + 1 };
                let class = match table.aligned.get(table.column) {
                    Some(Alignment::Right) => " class=\"right\"",
                    Some(Alignment::Center) => " class=\"center\"",
                    _ => "",
                };
                table.column += 1;
                let cell = if table.in_head { "th scope=\"col\"" } else { "td" };
                self.inline(format!("<{cell}{class}>"));
            }
            Event::End(TagEnd::TableCell) => {
                let cell = if self.table.as_ref().is_some_and(|table| table.in_head) { "</th>" } else { "</td>" };
                self.inline(cell.to_owned());
            }
            _ => self.out.push(event.clone()),
        }
        at + 1
    }

    fn inline(&mut self, markup: String) {
        self.out.push(Event::InlineHtml(markup.into()));
    }

    fn block(&mut self, markup: String) {
        self.out.push(Event::Html(markup.into()));
    }

    /// Footnotes of all steps stand on one page: the label alone names them.
    fn footnote_id(&self, label: &str) -> String {
        format!("note-{}", crate::guide::facts::slug_of(label))
    }

    /// The index of the event that closes the picture opened at `at`.
    fn end_of_picture(&self, at: usize) -> usize {
        let ends = self.events[at..].iter().position(|(event, _)| matches!(event, Event::End(TagEnd::Image)));
        at + ends.unwrap_or(0)
    }

    /// A paragraph that is nothing but one picture becomes a figure; gives the index after it.
    fn lone_picture(&mut self, at: usize) -> Option<usize> {
        let Event::Start(Tag::Image { dest_url, title, .. }) = &self.events.get(at + 1)?.0 else { return None };
        let end = self.end_of_picture(at + 1);
        if !matches!(self.events.get(end + 1)?.0, Event::End(TagEnd::Paragraph)) {
            return None;
        }
        let class = match self.context.pictures.get(dest_url.as_ref()) {
            Some(picture) if picture.is_drawing() => "drawing",
            _ => "photo",
        };
        let first = !self.listed.contains(&dest_url.as_ref());
        let markup = self.picture(dest_url, at + 1, end);
        // Without scripts the link leads to the picture at its largest; with them it is shown over the page.
        let markup = match self.context.pictures.get(dest_url.as_ref()) {
            Some(picture) => format!("<a class=\"zoom\" href=\"{}\">{markup}</a>", picture.largest().0),
            None => markup,
        };
        let list = if first { callout_list(dest_url, self.context) } else { String::new() };
        self.listed.push(dest_url);
        let caption = if title.is_empty() { String::new() } else { format!("<figcaption>{}</figcaption>", escape(title)) };
        self.block(format!("<figure class=\"{class}\">{markup}{list}{caption}</figure>\n"));
        Some(end + 2)
    }

    fn picture(&self, address: &str, start: usize, end: usize) -> String {
        let mut words = String::new();
        for (event, _) in &self.events[start..=end] {
            match event {
                Event::Text(text) | Event::Code(text) => words.push_str(text),
                Event::SoftBreak | Event::HardBreak => words.push(' '),
                _ => {}
            }
        }
        match self.context.pictures.get(address) {
            Some(picture) => {
                let lazy = self.context.shown.replace(true);
                with_balloons(picture.markup(&escape(&words), lazy), address, picture, self.context.callouts)
            }
            // A guide published as a draft may lack a picture; the words stand in its place.
            None => format!("<span class=\"no-picture\">{}</span>", escape(&words)),
        }
    }

    fn open_link(&mut self, address: &str, at: usize) {
        let wordless = matches!(self.events.get(at + 1), Some((Event::End(TagEnd::Link), _)));
        let (open, close) = match RefKind::parse(address) {
            Some((kind, id)) => self.reference(kind, id, wordless),
            None => self.address(address, wordless),
        };
        self.links.push(close);
        self.inline(open);
    }

    fn reference(&self, kind: RefKind, id: &str, wordless: bool) -> (String, &'static str) {
        let Context { guide, shop, names, .. } = self.context;
        let words = |name: Option<&str>| if wordless { escape(name.unwrap_or(id)) } else { String::new() };
        match kind {
            RefKind::Spec => {
                let shown = match names.spec(id) {
                    Some(spec) if wordless => match (spec.quantity(), &spec.designation, &spec.value) {
                        (Some(quantity), ..) => self.context.printed.value(quantity, shop).html,
                        (None, Some(designation), _) => {
                            format!("<span class=\"val\"><b class=\"m\">{}</b></span>", escape(&designation.value))
                        }
                        (None, None, Some(stated)) => escape(&stated.value.text),
                        (None, None, None) => escape(id),
                    },
                    _ => words(None),
                };
                (shown, "")
            }
            RefKind::Step => match step(guide, id) {
                Some((at, _)) if wordless => (format!("<a href=\"#{}\">step {}", escape(id), at + 1), "</a>"),
                Some(_) => (format!("<a href=\"#{}\">", escape(id)), "</a>"),
                None => (words(None), ""),
            },
            RefKind::Hardware | RefKind::Part | RefKind::Item | RefKind::Connector => {
                (format!("<span class=\"ref\">{}", words(names.thing(id).map(|thing| thing.name()))), "</span>")
            }
            RefKind::Tool => (format!("<span class=\"ref\">{}", words(names.tool(id).map(|tool| tool.name.as_str()))), "</span>"),
            RefKind::Caution => {
                (format!("<span class=\"ref\">{}", words(names.caution(id).map(|caution| caution.hazard.as_str()))), "</span>")
            }
        }
    }

    fn address(&self, address: &str, wordless: bool) -> (String, &'static str) {
        // A link that leads nowhere and has no words would leave a hole in the sentence.
        let plain = || (format!("<span class=\"ref\">{}", if wordless { escape(address) } else { String::new() }), "</span>");
        if !is_safe_address(address) {
            return plain();
        }
        let target = match Destination::of(address) {
            Destination::Guide(slug) => format!("../{slug}/index.html"),
            Destination::Unknown => return plain(),
            Destination::Step(_) | Destination::Web => address.to_owned(),
        };
        (format!("<a href=\"{}\">{}", escape(&target), if wordless { escape(address) } else { String::new() }), "</a>")
    }
}

fn lower(level: HeadingLevel) -> HeadingLevel {
    match level {
        HeadingLevel::H1 | HeadingLevel::H2 | HeadingLevel::H3 => HeadingLevel::H4,
        HeadingLevel::H4 => HeadingLevel::H5,
        HeadingLevel::H5 | HeadingLevel::H6 => HeadingLevel::H6,
    }
}
