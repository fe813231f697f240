//! Sheets to a PDF file: the only user of the PDF writer. Everything that is read is tagged in the order of reading, everything else is
//! marked as decoration; the writer holds the file to PDF/UA-1 and PDF/A-2a and refuses what breaks them.

use std::collections::VecDeque;
use std::error::Error;
use std::fmt;
use std::num::NonZeroU16;
use std::rc::Rc;

use krilla::action::LinkAction;
use krilla::annotation::{Annotation, LinkAnnotation, Target};
use krilla::color::{luma, rgb};
use krilla::configure::{Accessibility, Archival, ConfigurationBuilder, ConfigurationError};
use krilla::destination::XyzDestination;
use krilla::error::KrillaError;
use krilla::geom::{Path, PathBuilder, Point, Rect, Transform};
use krilla::graphic::Graphic;
use krilla::image::Image;
use krilla::metadata::{DateTime, Metadata};
use krilla::num::NormalizedF32;
use krilla::outline::{Outline, OutlineNode};
use krilla::page::PageSettings;
use krilla::paint::{Fill, FillRule, LineCap, LineJoin, Stroke, StrokeDash};
use krilla::surface::Surface;
use krilla::tagging::{
    Artifact, ArtifactType, BBox, ContentTag, Identifier, ListNumbering, SpanTag, TableHeaderScope, Tag, TagGroup, TagKind, TagTree,
};
use krilla::text::{Font, GlyphId, KrillaGlyph};
use krilla::{Document, SerializeSettings};

use super::drawing::{Drawing, Ink, Shape, Step};
use super::piece::{Mark, Node, Role, Spoken, Whole};
use super::typeset::{Face, Glyph, GlyphRun, Laid};

/// What the file says of itself.
#[derive(Clone, Debug)]
pub struct About {
    /// The title.
    pub title: String,
    /// The language, such as `en`.
    pub language: String,
    /// Who made it.
    pub author: String,
    /// Year, month and day of issue; none for what is not issued.
    pub date: Option<(u16, u8, u8)>,
    /// What tells it from all others: the same for the same content.
    pub identity: String,
}

/// A part of a page, at its place.
#[derive(Clone, Debug)]
pub struct Part {
    /// Which group it belongs to; parts of one group follow each other, on one page or several.
    pub group: usize,
    /// What the group is.
    pub whole: Whole,
    /// Its nodes, moved to their place.
    pub nodes: Vec<Node>,
    /// Its bookmark: level, words, and upper edge.
    pub bookmark: Option<(usize, String, f32)>,
}

/// A page.
#[derive(Clone, Debug, Default)]
pub struct Page {
    /// What is drawn first and not read.
    pub under: Vec<Node>,
    /// The parts in the order of reading.
    pub parts: Vec<Part>,
    /// What is drawn last and not read.
    pub over: Vec<Node>,
}

/// Why a PDF could not be written. Each is a fault of the program.
#[derive(Debug, PartialEq, Eq)]
pub enum PdfError {
    /// The standards that the file keeps to do not go together.
    Standards(ConfigurationError),
    /// A page has no size.
    NoSize,
    /// A font of the program cannot be read.
    Font,
    /// What was drawn cannot be put into the file, or breaks a standard that it keeps to.
    Writer(Box<KrillaError>),
}

impl fmt::Display for PdfError {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            PdfError::Standards(cause) => write!(out, "its standards do not go together: {cause:?}"),
            PdfError::NoSize => out.write_str("a page has no size"),
            PdfError::Font => out.write_str("a font cannot be read"),
            PdfError::Writer(cause) => cause.fmt(out),
        }
    }
}

impl Error for PdfError {
    fn source(&self) -> Option<&(dyn Error + 'static)> {
        match self {
            PdfError::Writer(cause) => Some(&**cause),
            PdfError::Standards(_) | PdfError::NoSize | PdfError::Font => None,
        }
    }
}

/// Writes the file.
pub fn write(about: &About, size: (f32, f32), pages: Vec<Page>) -> Result<Vec<u8>, PdfError> {
    let configuration = ConfigurationBuilder::new()
        .with_archival_validator(Archival::A2_A)
        .with_accessibility_validator(Accessibility::UA1)
        .finish()
        .map_err(PdfError::Standards)?;
    let mut document = Document::new_with(SerializeSettings { configuration, enable_tagging: true, ..SerializeSettings::default() });
    // A file has to have a date. One that is not issued has the first day of computers' time, never today's: the same input, the same bytes.
    let (year, month, day) = about.date.unwrap_or((1970, 1, 1));
    let date = DateTime::new(year).month(month).day(day).hour(0).minute(0).second(0).utc_offset_hour(0).utc_offset_minute(0);
    document.set_metadata(
        Metadata::new()
            .title(about.title.clone())
            .language(about.language.clone())
            .authors(vec![about.author.clone()])
            .creator("bayleaf".to_owned())
            .creation_date(date)
            .document_id(about.identity.clone()),
    );
    let mut painter = Painter { fonts: fonts()?, photos: Vec::new(), codes: Vec::new(), links: VecDeque::new(), page: 0 };
    let mut tree = Tree { tree: TagTree::new().with_lang(Some(about.language.clone())), open: None };
    let mut bookmarks: Vec<(usize, String, XyzDestination)> = Vec::new();
    for (number, page) in pages.into_iter().enumerate() {
        painter.page = number;
        let settings = PageSettings::from_wh(size.0, size.1).ok_or(PdfError::NoSize)?;
        let mut sheet = document.start_page_with(settings);
        // Links are laid on the page before anything is drawn; their tags are taken where they are read.
        for (address, rect) in page.parts.iter().flat_map(|part| &part.nodes).flat_map(links_of) {
            let target = Target::Action(LinkAction::new(address.clone()).into());
            let annotation = Annotation::new_link(LinkAnnotation::new(rect, target), Some(address));
            painter.links.push_back(sheet.add_tagged_annotation(annotation));
        }
        let mut surface = sheet.surface();
        painter.silent(&mut surface, page.under, ArtifactType::Header);
        for part in page.parts {
            if let Some((level, words, y)) = part.bookmark {
                bookmarks.push((level, words, XyzDestination::new(number, Point::from_xy(0.0, (y - 6.0).max(0.0)))));
            }
            let group = tree.group(part.group, &part.whole);
            for node in part.nodes {
                painter.node(&mut surface, node, group);
            }
        }
        painter.silent(&mut surface, page.over, ArtifactType::Footer);
        surface.finish();
        sheet.finish();
    }
    document.set_tag_tree(tree.finish());
    document.set_outline(outline(bookmarks));
    document.finish().map_err(|cause| PdfError::Writer(Box::new(cause)))
}

thread_local! {
    /// The fonts as the writer takes them, read once for all sheets of a thread.
    static FONTS: Option<[Font; 2]> = {
        let font = |face: Face| Font::new(face.bytes().into(), 0);
        font(Face::Regular).zip(font(Face::Bold)).map(|(regular, bold)| [regular, bold])
    };
}

fn fonts() -> Result<[Font; 2], PdfError> {
    FONTS.with(|fonts| fonts.clone().ok_or(PdfError::Font))
}

/// Bookmarks nested by their level.
fn outline(bookmarks: Vec<(usize, String, XyzDestination)>) -> Outline {
    fn take(rest: &mut std::iter::Peekable<std::vec::IntoIter<(usize, String, XyzDestination)>>, level: usize) -> Vec<OutlineNode> {
        let mut nodes: Vec<OutlineNode> = Vec::new();
        while let Some((own, words, place)) = rest.next_if(|(own, ..)| *own >= level) {
            let mut node = OutlineNode::new(words, place);
            for child in take(rest, own + 1) {
                node.push_child(child);
            }
            nodes.push(node);
        }
        nodes
    }
    let mut outline = Outline::new();
    for node in take(&mut bookmarks.into_iter().peekable(), 1) {
        outline.push_child(node);
    }
    outline
}

/// The tree of tags while pages are painted: groups may go on over several pages.
struct Tree {
    tree: TagTree,
    open: Option<(usize, Whole, Nodes)>,
}

impl Tree {
    fn group(&mut self, group: usize, whole: &Whole) -> &mut Nodes {
        if self.open.as_ref().is_some_and(|(known, ..)| *known != group) {
            self.close();
        }
        let (.., nodes) = self.open.get_or_insert_with(|| (group, whole.clone(), Nodes::default()));
        nodes
    }

    fn close(&mut self) {
        let Some((_, whole, nodes)) = self.open.take() else { return };
        let tag: TagKind = match whole {
            Whole::Nothing => {
                nodes.into_tags().into_iter().for_each(|child| self.tree.push(child));
                return;
            }
            Whole::Section => Tag::Section.into(),
            Whole::Table(summary) => Tag::Table.with_summary(Some(summary)).into(),
        };
        let mut group = TagGroup::new(tag);
        nodes.into_tags().into_iter().for_each(|child| group.push(child));
        self.tree.push(group);
    }

    fn finish(mut self) -> TagTree {
        self.close();
        self.tree
    }
}

/// Tags side by side; rows of a list that follow each other become one list.
#[derive(Default)]
struct Nodes(Vec<(bool, krilla::tagging::Node)>);

impl Nodes {
    fn push(&mut self, item: bool, node: impl Into<krilla::tagging::Node>) {
        self.0.push((item, node.into()));
    }

    fn into_tags(self) -> Vec<krilla::tagging::Node> {
        let mut tags = Vec::new();
        let mut list: Option<TagGroup> = None;
        for (item, node) in self.0 {
            if item {
                list.get_or_insert_with(|| TagGroup::new(Tag::L(ListNumbering::None))).push(node);
            } else {
                tags.extend(list.take().map(Into::into));
                tags.push(node);
            }
        }
        tags.extend(list.map(Into::into));
        tags
    }
}

struct Painter {
    fonts: [Font; 2],
    /// Photos that are in the file already.
    photos: Vec<(Rc<Vec<u8>>, Image)>,
    /// Codes that are in the file already.
    codes: Vec<(Rc<Vec<Vec<bool>>>, Graphic)>,
    /// Links that lie on the page and are not tagged yet.
    links: VecDeque<Identifier>,
    page: usize,
}

impl Painter {
    fn node(&mut self, surface: &mut Surface<'_>, node: Node, into: &mut Nodes) {
        match node {
            Node::Group(role, children) => {
                let title = if let Role::Heading(_) = role { Some(text_of(&children)) } else { None };
                let mut inner = Nodes::default();
                if let Role::Figure(..) = role {
                    // A figure is one thing to who hears it.
                    let marks: Vec<Mark> = children.into_iter().flat_map(marks_of).collect();
                    self.tagged(surface, ContentTag::Other, marks, &mut inner);
                } else {
                    for child in children {
                        self.node(surface, child, &mut inner);
                    }
                }
                if let Role::Link(..) = role {
                    inner.0.extend(self.links.pop_front().map(|link| (false, link.into())));
                }
                let item = role == Role::Item;
                let mut group = TagGroup::new(self.tag(role, title));
                inner.into_tags().into_iter().for_each(|child| group.push(child));
                into.push(item, group);
            }
            Node::Content(marks) => self.tagged(surface, ContentTag::Span(SpanTag::empty()), marks, into),
            Node::Spoken(words, marks) => self.tagged(surface, ContentTag::Span(spoken(&words)), marks, into),
            Node::Plain(marks) => self.decoration(surface, &marks, ArtifactType::Layout),
        }
    }

    fn tag(&self, role: Role, title: Option<String>) -> TagKind {
        match role {
            Role::Heading(level) => Tag::Hn(NonZeroU16::new(level).unwrap_or(NonZeroU16::MIN), title).into(),
            Role::Paragraph => Tag::P.into(),
            Role::Item => Tag::LI.into(),
            Role::Label => Tag::Lbl.into(),
            Role::Body => Tag::LBody.into(),
            Role::Row => Tag::TR.into(),
            Role::Head => Tag::TH(TableHeaderScope::Column).into(),
            Role::Cell => Tag::TD.into(),
            Role::Figure(words, [x, y, w, h]) => {
                let bbox = Rect::from_xywh(x, y, w, h).map(|rect| BBox::new(self.page, rect));
                Tag::Figure(Some(words)).with_bbox(bbox).into()
            }
            Role::Link(..) => Tag::Link.into(),
            Role::Division => Tag::Div.into(),
        }
    }

    fn tagged(&mut self, surface: &mut Surface<'_>, tag: ContentTag<'_>, marks: Vec<Mark>, into: &mut Nodes) {
        let identifier = surface.start_tagged(tag);
        marks.iter().for_each(|mark| self.mark(surface, mark));
        surface.end_tagged();
        into.push(false, identifier);
    }

    fn decoration(&mut self, surface: &mut Surface<'_>, marks: &[Mark], kind: ArtifactType) {
        let _ = surface.start_tagged(ContentTag::Artifact(Artifact::with_kind(kind)));
        marks.iter().for_each(|mark| self.mark(surface, mark));
        surface.end_tagged();
    }

    fn silent(&mut self, surface: &mut Surface<'_>, nodes: Vec<Node>, kind: ArtifactType) {
        let marks: Vec<Mark> = nodes.into_iter().flat_map(marks_of).collect();
        if !marks.is_empty() {
            self.decoration(surface, &marks, kind);
        }
    }

    fn mark(&mut self, surface: &mut Surface<'_>, mark: &Mark) {
        match mark {
            Mark::Text { laid, at, white } => self.text(surface, laid, *at, if *white { 255 } else { 0 }),
            Mark::Stamp { laid, middle, turn } => {
                surface.push_transform(&Transform::from_rotate_at(*turn, middle.0, middle.1));
                self.text(surface, laid, (middle.0 - laid.width() / 2.0, middle.1 - laid.height() / 2.0), 222);
                surface.pop();
            }
            Mark::Line { from, to, width } => {
                let mut path = PathBuilder::new();
                path.move_to(from.0, from.1);
                path.line_to(to.0, to.1);
                paint(surface, path, None, Some(black_pen(*width)));
            }
            Mark::Rect { rect: [x, y, w, h], edge, ground } => {
                let mut path = PathBuilder::new();
                if let Some(rect) = Rect::from_xywh(*x, *y, *w, *h) {
                    path.push_rect(rect);
                }
                paint(surface, path, ground.map(grey), (*edge > 0.0).then(|| black_pen(*edge)));
            }
            Mark::Shape { corners, ground, edge } => {
                let mut path = PathBuilder::new();
                for (at, corner) in corners.iter().enumerate() {
                    if at == 0 { path.move_to(corner.0, corner.1) } else { path.line_to(corner.0, corner.1) }
                }
                path.close();
                paint(surface, path, Some(grey(*ground)), (*edge > 0.0).then(|| black_pen(*edge)));
            }
            Mark::Circle { at: (x, y), radius, edge } => {
                // Four curves come within a three-thousandth of a circle.
                let (r, k) = (*radius, radius * 0.552_285);
                let mut path = PathBuilder::new();
                path.move_to(x + r, *y);
                path.cubic_to(x + r, y + k, x + k, y + r, *x, y + r);
                path.cubic_to(x - k, y + r, x - r, y + k, x - r, *y);
                path.cubic_to(x - r, y - k, x - k, y - r, *x, y - r);
                path.cubic_to(x + k, y - r, x + r, y - k, x + r, *y);
                path.close();
                paint(surface, path, None, Some(black_pen(*edge)));
            }
            Mark::Squares { at, side, rows } => {
                let code = self.code(surface, rows);
                surface.push_transform(&Transform::from_row(*side, 0.0, 0.0, *side, at.0, at.1));
                surface.draw_graphic(code);
                surface.pop();
            }
            Mark::Photo { jpeg, rect: [x, y, w, h] } => {
                if let (Some(image), Some(size)) = (self.photo(jpeg), krilla::geom::Size::from_wh(*w, *h)) {
                    surface.push_transform(&Transform::from_translate(*x, *y));
                    surface.draw_image(image, size);
                    surface.pop();
                }
            }
            Mark::Drawing { drawing, at, scale } => draw(surface, &self.fonts, drawing, *at, *scale),
        }
    }

    /// A code with squares of one point; it is in the file once, however many sheets show it.
    fn code(&mut self, surface: &mut Surface<'_>, rows: &Rc<Vec<Vec<bool>>>) -> Graphic {
        if let Some((_, code)) = self.codes.iter().find(|(known, _)| Rc::ptr_eq(known, rows)) {
            return code.clone();
        }
        // One path for the whole code: neighbours in a row are one rectangle, so that no hair line shows between them.
        let mut path = PathBuilder::new();
        for (y, row) in rows.iter().enumerate() {
            let mut x = 0;
            while x < row.len() {
                let length = row[x..].iter().take_while(|dark| **dark).count();
                if let Some(rect) = Rect::from_xywh(x as f32, y as f32, length as f32, 1.0).filter(|_| length > 0) {
                    path.push_rect(rect);
                }
                x += length.max(1);
            }
        }
        let mut stream = surface.stream_builder();
        let mut inner = stream.surface();
        paint(&mut inner, path, Some(grey(0)), None);
        inner.finish();
        let code = Graphic::new(stream.finish(), false);
        self.codes.push((Rc::clone(rows), code.clone()));
        code
    }

    fn photo(&mut self, jpeg: &Rc<Vec<u8>>) -> Option<Image> {
        if let Some((_, image)) = self.photos.iter().find(|(known, _)| Rc::ptr_eq(known, jpeg)) {
            return Some(image.clone());
        }
        let image = Image::from_jpeg(jpeg.as_ref().clone().into(), false).ok()?;
        self.photos.push((Rc::clone(jpeg), image.clone()));
        Some(image)
    }

    fn text(&self, surface: &mut Surface<'_>, laid: &Laid, at: (f32, f32), light: u8) {
        surface.set_fill(Some(grey(light)));
        surface.set_stroke(None);
        for line in laid.lines.iter() {
            for GlyphRun { face, size, x, glyphs } in &line.runs {
                let font = self.fonts[*face as usize].clone();
                surface.draw_glyphs(Point::from_xy(at.0 + x, at.1 + line.baseline), &written(glyphs), font, &laid.text, *size, false);
            }
        }
    }
}

/// Glyphs as the writer takes them.
fn written(glyphs: &[Glyph]) -> Vec<KrillaGlyph> {
    let glyph = |glyph: &Glyph| {
        let (x, y) = glyph.offset;
        KrillaGlyph::new(GlyphId::new(glyph.id), glyph.advance, x, y, 0.0, glyph.text.clone(), None)
    };
    glyphs.iter().map(glyph).collect()
}

/// The links in a part, in the order of reading.
fn links_of(node: &Node) -> Vec<(String, Rect)> {
    let Node::Group(role, nodes) = node else { return Vec::new() };
    let own = match role {
        Role::Link(address, [x, y, w, h]) => Rect::from_xywh(*x, *y, *w, *h).map(|rect| (address.clone(), rect)),
        _ => None,
    };
    own.into_iter().chain(nodes.iter().flat_map(links_of)).collect()
}

fn marks_of(node: Node) -> Vec<Mark> {
    match node {
        Node::Group(_, nodes) => nodes.into_iter().flat_map(marks_of).collect(),
        Node::Content(marks) | Node::Spoken(_, marks) | Node::Plain(marks) => marks,
    }
}

/// What a mark without letters says.
fn spoken(words: &Spoken) -> SpanTag<'_> {
    match words {
        Spoken::Instead(words) => SpanTag::empty().with_alt_text(Some(words)),
        Spoken::AsText(words) => SpanTag::empty().with_alt_text(Some(words)).with_actual_text(Some(words)),
    }
}

/// The words of a heading.
fn text_of(nodes: &[Node]) -> String {
    let mut words: Vec<String> = Vec::new();
    for node in nodes {
        match node {
            Node::Group(_, nodes) => words.push(text_of(nodes)),
            Node::Content(marks) => words.extend(marks.iter().filter_map(|mark| match mark {
                Mark::Text { laid, .. } => Some(laid.text.trim().to_owned()),
                _ => None,
            })),
            Node::Spoken(..) | Node::Plain(_) => {}
        }
    }
    words.join(" ")
}

fn grey(light: u8) -> Fill {
    Fill { paint: luma::Color::new(light).into(), ..Fill::default() }
}

fn black_pen(width: f32) -> Stroke {
    Stroke { width, ..Stroke::default() }
}

fn paint(surface: &mut Surface<'_>, path: PathBuilder, fill: Option<Fill>, stroke: Option<Stroke>) {
    if let Some(path) = path.finish() {
        surface.set_fill(fill);
        surface.set_stroke(stroke);
        surface.draw_path(&path);
    }
}

fn draw(surface: &mut Surface<'_>, fonts: &[Font; 2], drawing: &Drawing, at: (f32, f32), scale: f32) {
    surface.push_transform(&Transform::from_row(scale, 0.0, 0.0, scale, at.0, at.1));
    let colour = |ink: Ink| rgb::Color::new(ink.rgb[0], ink.rgb[1], ink.rgb[2]);
    let opacity = |ink: Ink| NormalizedF32::new(ink.opacity).unwrap_or(NormalizedF32::ONE);
    for shape in &drawing.shapes {
        match shape {
            Shape::Clip(steps) => {
                if let Some(path) = outlined(steps).or_else(nowhere) {
                    surface.push_clip_path(&path, &FillRule::NonZero);
                }
            }
            Shape::Unclip => surface.pop(),
            Shape::Letters { face, size, transform: [sx, ky, kx, sy, tx, ty], glyphs, text, ink } => {
                surface.push_transform(&Transform::from_row(*sx, *ky, *kx, *sy, *tx, *ty));
                surface.set_fill(Some(Fill { paint: colour(*ink).into(), opacity: opacity(*ink), ..Fill::default() }));
                surface.set_stroke(None);
                surface.draw_glyphs(Point::from_xy(0.0, 0.0), &written(glyphs), fonts[*face as usize].clone(), text, *size, false);
                surface.pop();
            }
            Shape::Path { steps, fill, pen } => {
                let fill = fill.map(|(ink, even_odd)| Fill {
                    paint: colour(ink).into(),
                    opacity: opacity(ink),
                    rule: if even_odd { FillRule::EvenOdd } else { FillRule::NonZero },
                });
                let stroke = pen.as_ref().map(|pen| Stroke {
                    paint: colour(pen.ink).into(),
                    opacity: opacity(pen.ink),
                    width: pen.width,
                    line_cap: if pen.round { LineCap::Round } else { LineCap::Butt },
                    line_join: if pen.round { LineJoin::Round } else { LineJoin::Miter },
                    dash: (!pen.dashes.is_empty()).then(|| StrokeDash { array: pen.dashes.clone(), offset: 0.0 }),
                    ..Stroke::default()
                });
                if let Some(path) = outlined(steps) {
                    surface.set_fill(fill);
                    surface.set_stroke(stroke);
                    surface.draw_path(&path);
                }
            }
        }
    }
    surface.pop();
}

/// An outline in which nothing lies.
fn nowhere() -> Option<Path> {
    let mut path = PathBuilder::new();
    path.push_rect(Rect::from_xywh(-1.0, -1.0, 0.001, 0.001)?);
    path.finish()
}

fn outlined(steps: &[Step]) -> Option<Path> {
    let mut path = PathBuilder::new();
    for step in steps {
        match *step {
            Step::Move(at) => path.move_to(at.0, at.1),
            Step::Line(at) => path.line_to(at.0, at.1),
            Step::Curve(a, b, c) => path.cubic_to(a.0, a.1, b.0, b.1, c.0, c.1),
            Step::Close => path.close(),
        }
    }
    path.finish()
}
