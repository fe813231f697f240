//! Drawings to plain shapes: the only user of the SVG reader. A drawing of a guide and one that the program makes itself come the same
//! way. What cannot be drawn is named, never dropped in silence.

use std::collections::BTreeSet;
use std::sync::Arc;

use usvg::tiny_skia_path::{PathSegment, Transform};
use usvg::{FontResolver, ImageHrefResolver, Node, Options, Paint, Tree, fontdb};

use super::typeset::{Face, Glyph};

/// Beyond so many tiles a hatch would be finer than anybody sees.
const MOST_TILES: usize = 2_000;

/// Units of the faces in the height of a letter.
const UNITS: f32 = 2048.0;

/// A step along an outline.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Step {
    /// Starts a part.
    Move((f32, f32)),
    /// A straight line.
    Line((f32, f32)),
    /// A curve with two control points.
    Curve((f32, f32), (f32, f32), (f32, f32)),
    /// Closes the part.
    Close,
}

/// A colour with how much it covers.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Ink {
    /// Red, green and blue.
    pub rgb: [u8; 3],
    /// From 0 to 1.
    pub opacity: f32,
}

/// A line along an outline.
#[derive(Clone, Debug, PartialEq)]
pub struct Pen {
    /// Its colour.
    pub ink: Ink,
    /// How thick it is.
    pub width: f32,
    /// Whether its ends are round.
    pub round: bool,
    /// Lengths of strokes and gaps.
    pub dashes: Vec<f32>,
}

/// What a drawing is made of.
#[derive(Clone, Debug, PartialEq)]
pub enum Shape {
    /// An outline, filled, drawn or both.
    Path {
        /// The outline.
        steps: Vec<Step>,
        /// What fills it, and whether parts that cross leave holes.
        fill: Option<(Ink, bool)>,
        /// What draws it.
        pen: Option<Pen>,
    },
    /// Letters of one face and size on one line.
    Letters {
        /// The face.
        face: Face,
        /// The size.
        size: f32,
        /// Where they start and how they are turned, as the six numbers of a transform.
        transform: [f32; 6],
        /// The glyphs.
        glyphs: Vec<Glyph>,
        /// The text that they stand for.
        text: String,
        /// Their colour.
        ink: Ink,
    },
    /// From here on only what lies inside the outline is seen.
    Clip(Vec<Step>),
    /// Ends the last clip.
    Unclip,
}

/// A drawing.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Drawing {
    /// Its width in units of its own.
    pub width: f32,
    /// Its height.
    pub height: f32,
    /// What it is made of, from the back to the front.
    pub shapes: Vec<Shape>,
    /// Kinds of things in it that a sheet does not show.
    pub left_out: BTreeSet<&'static str>,
    /// Which font of the reader is the bold one.
    bold: Option<fontdb::ID>,
}

/// Reads drawings with the fonts of the sheets.
pub struct Reader {
    fonts: Arc<fontdb::Database>,
    faces: [Option<fontdb::ID>; 2],
}

impl Default for Reader {
    fn default() -> Self {
        let mut fonts = fontdb::Database::new();
        let mut faces = [None; 2];
        for (face, id) in Face::ALL.into_iter().zip(&mut faces) {
            *id = fonts.load_font_source(fontdb::Source::Binary(Arc::new(face.bytes()))).first().copied();
        }
        Reader { fonts: Arc::new(fonts), faces }
    }
}

impl Reader {
    /// Reads a drawing; the error says why it cannot be.
    pub fn read(&self, svg: &str) -> Result<Drawing, usvg::Error> {
        let [regular, bold] = self.faces;
        let options = Options {
            font_family: "DejaVu Sans".to_owned(),
            fontdb: Arc::clone(&self.fonts),
            // Whatever family a drawing asks for, it gets the one of the sheets.
            font_resolver: FontResolver {
                select_font: Box::new(move |font, _| if font.weight() >= 600 { bold } else { regular }),
                select_fallback: Box::new(|_, _, _| None),
            },
            // A drawing reads no file and fetches nothing.
            image_href_resolver: ImageHrefResolver { resolve_data: Box::new(|_, _, _| None), resolve_string: Box::new(|_, _| None) },
            ..Options::default()
        };
        // Inside a page a drawing need not say that it is one.
        let named = (!svg.contains("xmlns=")).then(|| svg.replacen("<svg", "<svg xmlns=\"http://www.w3.org/2000/svg\"", 1));
        let tree = Tree::from_str(named.as_deref().unwrap_or(svg), &options)?;
        let mut drawing = Drawing { width: tree.size().width(), height: tree.size().height(), ..Drawing::default() };
        if svg.contains("<image") {
            drawing.left_out.insert("a picture inside the drawing");
        }
        drawing.bold = bold;
        // Nothing of a drawing shows outside its frame, as in a browser.
        let (w, h) = (drawing.width, drawing.height);
        let frame = vec![Step::Move((0.0, 0.0)), Step::Line((w, 0.0)), Step::Line((w, h)), Step::Line((0.0, h)), Step::Close];
        drawing.shapes.push(Shape::Clip(frame));
        drawing.group(tree.root(), Transform::identity(), 1.0);
        drawing.shapes.push(Shape::Unclip);
        Ok(drawing)
    }
}

impl Drawing {
    fn group(&mut self, group: &usvg::Group, within: Transform, opacity: f32) {
        let transform = within.pre_concat(group.transform());
        let opacity = opacity * group.opacity().get();
        if group.mask().is_some() {
            self.left_out.insert("a mask");
        }
        if !group.filters().is_empty() {
            self.left_out.insert("a filter");
        }
        let mut clips = 0;
        if let Some(clip) = group.clip_path() {
            let mut steps = Vec::new();
            outlines(clip.root(), transform.pre_concat(clip.transform()), &mut steps);
            self.shapes.push(Shape::Clip(steps));
            clips += 1;
        }
        for node in group.children() {
            match node {
                Node::Group(inner) => self.group(inner, transform, opacity),
                Node::Path(path) if path.is_visible() => self.path(path, transform, opacity),
                Node::Text(text) => self.text(text, transform, opacity),
                Node::Image(_) => {
                    self.left_out.insert("a picture inside the drawing");
                }
                Node::Path(_) => {}
            }
        }
        (0..clips).for_each(|_| self.shapes.push(Shape::Unclip));
    }

    fn path(&mut self, path: &usvg::Path, transform: Transform, opacity: f32) {
        let steps = steps(path.data(), transform);
        let fill = path.fill().and_then(|fill| {
            let even_odd = fill.rule() == usvg::FillRule::EvenOdd;
            match fill.paint() {
                Paint::Pattern(pattern) => {
                    self.hatch(pattern, &steps, transform, opacity);
                    None
                }
                paint => Some((self.ink(paint, fill.opacity().get() * opacity)?, even_odd)),
            }
        });
        let pen = path.stroke().and_then(|stroke| {
            let scale = (transform.sx * transform.sy - transform.kx * transform.ky).abs().sqrt();
            Some(Pen {
                ink: self.ink(stroke.paint(), stroke.opacity().get() * opacity)?,
                width: stroke.width().get() * scale,
                round: stroke.linecap() == usvg::LineCap::Round,
                dashes: stroke.dasharray().unwrap_or_default().iter().map(|length| length * scale).collect(),
            })
        });
        if fill.is_some() || pen.is_some() {
            self.shapes.push(Shape::Path { steps, fill, pen });
        }
    }

    /// Text as letters; text with an edge or a line is drawn as outlines.
    fn text(&mut self, text: &usvg::Text, transform: Transform, opacity: f32) {
        let spans = text.layouted();
        let lined = |span: &usvg::layout::Span| span.underline.is_some() || span.overline.is_some() || span.line_through.is_some();
        if spans.iter().any(|span| {
            span.stroke.is_some() || lined(span) || matches!(span.fill.as_ref().map(usvg::Fill::paint), Some(Paint::Pattern(_)))
        }) {
            return self.group(text.flattened(), transform, opacity);
        }
        for span in spans.iter().filter(|span| span.visible) {
            let Some(ink) = span.fill.as_ref().and_then(|fill| self.ink(fill.paint(), fill.opacity().get() * opacity)) else { continue };
            let size = span.font_size.get();
            let mut run: Option<(Transform, f32)> = None;
            for glyph in &span.positioned_glyphs {
                let face = if Some(glyph.font) == self.bold { Face::Bold } else { Face::Regular };
                // The transform of a glyph holds its size as a share of the font's own units.
                let units = UNITS / size;
                let own = transform.pre_concat(glyph.transform()).pre_concat(Transform::from_scale(units, units));
                let along = run.and_then(|(start, last)| {
                    let (x, y) = mapped(start.invert()?, (own.tx, own.ty));
                    let turned = [own.sx - start.sx, own.kx - start.kx, own.ky - start.ky, own.sy - start.sy];
                    (y.abs() < 0.01 * size && x >= last && turned.iter().all(|part| part.abs() < 1e-4)).then_some(x)
                });
                match (along, self.shapes.last_mut()) {
                    (Some(x), Some(Shape::Letters { glyphs, text, face: known, .. })) if *known == face => {
                        if let (Some(before), Some((_, last))) = (glyphs.last_mut(), &mut run) {
                            before.advance = (x - *last) / size;
                            *last = x;
                        }
                        let start = text.len();
                        text.push_str(&glyph.text);
                        glyphs.push(Glyph { id: glyph.id.0, advance: 0.5, offset: (0.0, 0.0), text: start..text.len() });
                    }
                    _ => {
                        run = Some((own, 0.0));
                        let glyphs = vec![Glyph { id: glyph.id.0, advance: 0.5, offset: (0.0, 0.0), text: 0..glyph.text.len() }];
                        let transform = [own.sx, own.ky, own.kx, own.sy, own.tx, own.ty];
                        self.shapes.push(Shape::Letters { face, size, transform, glyphs, text: glyph.text.clone(), ink });
                    }
                }
            }
        }
    }

    fn ink(&mut self, paint: &Paint, opacity: f32) -> Option<Ink> {
        let of = |stops: &[usvg::Stop]| stops.get(stops.len() / 2).map(|stop| (stop.color(), stop.opacity().get()));
        let (colour, own) = match paint {
            Paint::Color(colour) => (*colour, 1.0),
            Paint::LinearGradient(gradient) => of(gradient.stops())?,
            Paint::RadialGradient(gradient) => of(gradient.stops())?,
            Paint::Pattern(_) => {
                self.left_out.insert("a line drawn with a pattern");
                (usvg::Color::black(), 1.0)
            }
        };
        if matches!(paint, Paint::LinearGradient(_) | Paint::RadialGradient(_)) {
            self.left_out.insert("a gradient, shown in one colour");
        }
        Some(Ink { rgb: [colour.red, colour.green, colour.blue], opacity: (own * opacity).clamp(0.0, 1.0) })
    }

    /// Fills an outline with tiles.
    fn hatch(&mut self, pattern: &usvg::Pattern, outline: &[Step], transform: Transform, opacity: f32) {
        let tile = pattern.rect();
        let Some(back) = transform.pre_concat(pattern.transform()).invert() else { return };
        let mut corners: Vec<(f32, f32)> = Vec::new();
        for step in outline {
            match *step {
                Step::Move(at) | Step::Line(at) => corners.push(at),
                Step::Curve(a, b, c) => corners.extend([a, b, c]),
                Step::Close => {}
            }
        }
        let corners: Vec<(f32, f32)> = corners.into_iter().map(|at| mapped(back, at)).collect();
        let low = |value: fn(&(f32, f32)) -> f32| corners.iter().map(value).fold(f32::INFINITY, f32::min);
        let high = |value: fn(&(f32, f32)) -> f32| corners.iter().map(value).fold(f32::NEG_INFINITY, f32::max);
        let range = |low: f32, high: f32, start: f32, side: f32| {
            let (first, last) = (((low - start) / side).floor(), ((high - start) / side).ceil());
            (first as i32, if (last - first) > MOST_TILES as f32 { first as i32 } else { last as i32 })
        };
        let (left, right) = range(low(|at| at.0), high(|at| at.0), tile.x(), tile.width());
        let (top, bottom) = range(low(|at| at.1), high(|at| at.1), tile.y(), tile.height());
        let count = (right - left).max(0) as usize * (bottom - top).max(0) as usize;
        if count > MOST_TILES {
            self.left_out.insert("a hatch of very many tiles");
            return;
        }
        self.shapes.push(Shape::Clip(outline.to_vec()));
        for row in top..bottom {
            for column in left..right {
                let moved = Transform::from_translate(tile.x() + column as f32 * tile.width(), tile.y() + row as f32 * tile.height());
                self.group(pattern.root(), transform.pre_concat(pattern.transform()).pre_concat(moved), opacity);
            }
        }
        self.shapes.push(Shape::Unclip);
    }
}

/// The outlines of everything in a group, for a clip.
fn outlines(group: &usvg::Group, within: Transform, out: &mut Vec<Step>) {
    let transform = within.pre_concat(group.transform());
    for node in group.children() {
        match node {
            Node::Group(inner) => outlines(inner, transform, out),
            Node::Path(path) => out.extend(steps(path.data(), transform)),
            Node::Text(text) => outlines(text.flattened(), transform, out),
            Node::Image(_) => {}
        }
    }
}

fn mapped(transform: Transform, (x, y): (f32, f32)) -> (f32, f32) {
    (transform.sx * x + transform.kx * y + transform.tx, transform.ky * x + transform.sy * y + transform.ty)
}

fn steps(path: &usvg::tiny_skia_path::Path, transform: Transform) -> Vec<Step> {
    let mut last = (0.0, 0.0);
    let mut steps = Vec::new();
    for segment in path.segments() {
        let at = |point: usvg::tiny_skia_path::Point| (point.x, point.y);
        let to = |point| mapped(transform, point);
        match segment {
            PathSegment::MoveTo(point) => {
                last = at(point);
                steps.push(Step::Move(to(last)));
            }
            PathSegment::LineTo(point) => {
                last = at(point);
                steps.push(Step::Line(to(last)));
            }
            PathSegment::QuadTo(control, point) => {
                // The same curve with two control points.
                let (control, end) = (at(control), at(point));
                let between = |from: (f32, f32)| (from.0 + (control.0 - from.0) * 2.0 / 3.0, from.1 + (control.1 - from.1) * 2.0 / 3.0);
                steps.push(Step::Curve(to(between(last)), to(between(end)), to(end)));
                last = end;
            }
            PathSegment::CubicTo(first, second, point) => {
                last = at(point);
                steps.push(Step::Curve(to(at(first)), to(at(second)), to(last)));
            }
            PathSegment::Close => steps.push(Step::Close),
        }
    }
    steps
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn shapes_come_out_where_they_are() {
        let svg = "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 40 20\"><g transform=\"translate(10 5) scale(2)\">\
                   <path d=\"M0 0L5 0\" stroke=\"#000\" stroke-width=\"1\" fill=\"none\"/></g></svg>";
        let drawing = Reader::default().read(svg).unwrap();
        assert_eq!((drawing.width, drawing.height), (40.0, 20.0));
        let [Shape::Clip(_), Shape::Path { steps, pen: Some(pen), fill: None }, Shape::Unclip] = drawing.shapes.as_slice() else {
            panic!("{drawing:?}")
        };
        assert_eq!(*steps, [Step::Move((10.0, 5.0)), Step::Line((20.0, 5.0))]);
        assert_eq!((pen.width, pen.ink.rgb), (2.0, [0, 0, 0]));
    }

    #[test]
    fn letters_are_drawn_and_files_are_not_read() {
        let svg = "<svg xmlns=\"http://www.w3.org/2000/svg\" xmlns:xlink=\"http://www.w3.org/1999/xlink\" width=\"40\" height=\"20\">\
                   <text x=\"1\" y=\"10\" font-family=\"Nowhere\" font-size=\"8\">Nm</text><image xlink:href=\"/etc/hostname\" width=\"4\" height=\"4\"/></svg>";
        let drawing = Reader::default().read(svg).unwrap();
        let [Shape::Clip(_), Shape::Letters { text, glyphs, transform, .. }, Shape::Unclip] = drawing.shapes.as_slice() else {
            panic!("{drawing:?}")
        };
        assert_eq!((text.as_str(), glyphs.len(), transform[4], transform[5]), ("Nm", 2, 1.0, 10.0));
        assert_eq!(drawing.left_out.into_iter().collect::<Vec<_>>(), ["a picture inside the drawing"]);
        assert!(Reader::default().read("<svg").is_err());
    }

    /// As deep as a drawing may be, on a stack of the size that a worker has.
    #[test]
    fn the_deepest_drawing_is_read_on_a_worker_s_stack() {
        let deep = crate::guide::drawing::DEEPEST - 2;
        let inner = "<g transform='scale(1)' opacity='.9' clip-path='url(#c)'>".repeat(deep) + "<text>x</text>" + &"</g>".repeat(deep);
        let svg = format!(
            "<svg xmlns='http://www.w3.org/2000/svg' width='10' height='10'><clipPath id='c'><rect width='9' height='9'/></clipPath>{inner}</svg>"
        );
        assert!(crate::guide::picture::examine(svg.as_bytes()).is_ok());
        let read = std::thread::Builder::new().stack_size(2 << 20).spawn(move || Reader::default().read(&svg).is_ok());
        assert!(read.unwrap().join().unwrap());
    }
}
