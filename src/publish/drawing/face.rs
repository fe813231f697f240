//! The face of a connector: its cavities with number, wire colour and letters, the latch or key, and a legend of what each wire does.
//! Whether the numbers and colours are right is left to the guide and the review.

use super::svg::{Sheet, n, wrap};
use super::{Drawn, Point, closest, swatch};
use crate::wiring::WireColour;

/// From where the face is seen. One is the mirror image of the other, so it is always said.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Side {
    /// From where the wires go in.
    Wires,
    /// From where the other half is plugged in.
    Mating,
}

/// An edge of the connector.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Edge {
    /// The upper edge.
    Top,
    /// The right one.
    Right,
    /// The lower one.
    Bottom,
    /// The left one.
    Left,
}

/// The latch, key or rib by which the connector is turned the right way up.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Mark<'a> {
    /// On which edge it is, as the face is seen.
    pub edge: Edge,
    /// What it is, such as "latch" or "key".
    pub word: &'a str,
}

/// Where the cavities are.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Seats<'a> {
    /// In rows, each cavity by its row and column counted from nought. Half a column sets a row between the cavities of another.
    Rows(&'a [(u32, f64)]),
    /// Anywhere, in a round housing round the middle of the unit square.
    Round(&'a [Point]),
}

/// One cavity.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Cavity<'a> {
    /// Its number or letters as moulded in the housing.
    pub number: &'a str,
    /// The colour of its wire; none for an empty cavity.
    pub wire: Option<WireColour>,
    /// What the wire does.
    pub function: &'a str,
}

/// The words of a drawing that are not data.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Words<'a> {
    /// That the face is seen from the side of the wires.
    pub wires: &'a str,
    /// That the face is seen from the mating side.
    pub mating: &'a str,
    /// That a cavity is empty.
    pub empty: &'a str,
}

/// The words in English.
pub const ENGLISH: Words<'static> = Words { wires: "Seen from the wire side", mating: "Seen from the mating side", empty: "empty" };

/// A drawing of a connector's face.
#[derive(Clone, Debug, PartialEq)]
pub struct FaceDrawing<'a> {
    /// What every id of the drawing starts with; no two drawings of a page may share it.
    pub prefix: &'a str,
    /// The title, read aloud and shown by pointing.
    pub title: &'a str,
    /// From where it is seen.
    pub side: Side,
    /// The latch or key, if it has one.
    pub mark: Option<Mark<'a>>,
    /// The cavities, in the order of the legend.
    pub cavities: &'a [Cavity<'a>],
    /// The seat of each cavity, in the same order; a cavity without a seat stands in the legend only.
    pub seats: Seats<'a>,
    /// The words that are not data.
    pub words: Words<'a>,
}

/// Lengths in tenths of a millimetre. A legend narrower than this breaks into too many lines.
const NARROWEST: f64 = 600.0;
const CELL: (f64, f64) = (112.0, 134.0);
const BETWEEN: f64 = 8.0;
const ROUND: f64 = 68.0;
const WALL: f64 = 16.0;
const TAB: f64 = 42.0;
const EDGE: f64 = 4.0;
const LETTERS: f64 = 26.0;
const WORDS: f64 = 29.0;
const LINE: f64 = 37.0;
const FIELD: (f64, f64) = (88.0, 40.0);
/// Where the letters and the words of a line of the legend start.
const LETTERS_AT: f64 = 180.0;
const WORDS_AT: f64 = 302.0;
/// Rows and columns of a housing beyond which a number is a slip.
const MOST: f64 = 100.0;

/// Draws the face of a connector with its legend. It is 60 mm wide at its natural size, and wider only where the cavities need it.
pub fn face(drawing: &FaceDrawing<'_>) -> Drawn {
    let body = Body::new(drawing.seats);
    let tab = drawing.mark.map(|mark| (mark, 22.0 + 15.0 * mark.word.chars().count() as f64));
    let side = |edge: Edge| tab.filter(|(mark, _)| mark.edge == edge);
    let beside = side(Edge::Left).or(side(Edge::Right)).map_or(0.0, |(_, width)| width);
    let width = (body.size.0 + 2.0 * (EDGE + beside)).max(NARROWEST);
    let above = 46.0 + if side(Edge::Top).is_some() { TAB } else { 0.0 };
    let below = above + body.size.1 + if side(Edge::Bottom).is_some() { TAB } else { 0.0 } + 26.0;
    let legend = Legend::new(drawing, width);

    let mut sheet = Sheet::new(drawing.prefix, width, below + legend.height + EDGE);
    swatch::define(&mut sheet, drawing.cavities.iter().filter_map(|cavity| cavity.wire));
    let seen = if drawing.side == Side::Wires { drawing.words.wires } else { drawing.words.mating };
    sheet.text(
        seen,
        width / 2.0,
        18.0,
        WORDS,
        &[("class", "side"), ("text-anchor", "middle"), ("font-weight", "700"), ("fill", "currentColor")],
    );
    let origin = Point { x: (width - body.size.0) / 2.0, y: above };
    if let Some((mark, length)) = tab {
        draw_mark(&mut sheet, mark, length, origin, body.size);
    }
    body.draw(&mut sheet, origin);
    for (cavity, seat) in drawing.cavities.iter().zip(&body.seats) {
        let at = Point { x: origin.x + seat.x, y: origin.y + seat.y };
        draw_cavity(&mut sheet, cavity, at, body.round);
    }
    legend.draw(&mut sheet, below);

    let told: Vec<String> = drawing.cavities.iter().map(|cavity| tell(cavity, drawing.words.empty)).collect();
    let mark = drawing.mark.map_or_else(String::new, |mark| format!(" {}: {}.", mark.word, edge_word(mark.edge)));
    sheet.finish("drawing face", drawing.title, &format!("{seen}.{mark} {}", told.join("; ")))
}

fn tell(cavity: &Cavity<'_>, empty: &str) -> String {
    let wire = cavity.wire.map_or_else(|| empty.to_owned(), |wire| format!("{wire} {}", wire.words()));
    if cavity.function.is_empty() {
        format!("{}: {wire}", cavity.number)
    } else {
        format!("{}: {wire}, {}", cavity.number, cavity.function)
    }
}

fn edge_word(edge: Edge) -> &'static str {
    match edge {
        Edge::Top => "top",
        Edge::Right => "right",
        Edge::Bottom => "bottom",
        Edge::Left => "left",
    }
}

/// The housing: its size, and the middles of its cavities from its upper left corner.
struct Body {
    size: (f64, f64),
    seats: Vec<Point>,
    round: bool,
}

impl Body {
    fn new(seats: Seats<'_>) -> Self {
        match seats {
            Seats::Rows(cells) => {
                let column = |column: f64| if column.is_nan() { 0.0 } else { column.clamp(0.0, MOST) };
                let row = |row: u32| f64::from(row).min(MOST);
                let pitch = (CELL.0 + BETWEEN, CELL.1 + BETWEEN);
                let middle = |at: f64, pitch: f64| WALL + pitch * (at + 0.5) - BETWEEN / 2.0;
                let places: Vec<Point> =
                    cells.iter().map(|(r, c)| Point { x: middle(column(*c), pitch.0), y: middle(row(*r), pitch.1) }).collect();
                let last = |value: fn(&Point) -> f64, least: f64| places.iter().map(value).fold(least, f64::max);
                let size = (
                    last(|at| at.x, WALL + CELL.0 / 2.0) + CELL.0 / 2.0 + WALL,
                    last(|at| at.y, WALL + CELL.1 / 2.0) + CELL.1 / 2.0 + WALL,
                );
                Self { size, seats: places, round: false }
            }
            Seats::Round(points) => {
                let points: Vec<Point> = points.iter().map(|at| Point::new(at.x, at.y)).collect();
                let middle = Point { x: 0.5, y: 0.5 };
                let reach = points.iter().map(|at| at.distance(middle)).fold(0.0, f64::max);
                let scale = closest(&points).map_or(0.0, |distance| (2.0 * ROUND + BETWEEN) / distance).min(20_000.0);
                let radius = reach * scale + ROUND + WALL;
                let placed = |at: &Point| Point { x: radius + (at.x - 0.5) * scale, y: radius + (at.y - 0.5) * scale };
                Self { size: (2.0 * radius, 2.0 * radius), seats: points.iter().map(placed).collect(), round: true }
            }
        }
    }

    fn draw(&self, sheet: &mut Sheet, origin: Point) {
        let words = [("class", "housing"), ("stroke", "currentColor"), ("stroke-width", "4")];
        let (width, height) = self.size;
        if self.round {
            sheet.element("circle", &[("cx", origin.x + width / 2.0), ("cy", origin.y + height / 2.0), ("r", width / 2.0)], &words);
        } else {
            sheet.element("rect", &[("x", origin.x), ("y", origin.y), ("width", width), ("height", height), ("rx", 18.0)], &words);
        }
    }
}

fn draw_mark(sheet: &mut Sheet, mark: Mark<'_>, length: f64, origin: Point, (width, height): (f64, f64)) {
    let middle = (origin.x + width / 2.0, origin.y + height / 2.0);
    let (x, y) = match mark.edge {
        Edge::Top => (middle.0, origin.y - TAB / 2.0),
        Edge::Bottom => (middle.0, origin.y + height + TAB / 2.0),
        Edge::Left => (origin.x - length / 2.0, middle.1),
        Edge::Right => (origin.x + width + length / 2.0, middle.1),
    };
    sheet.element(
        "rect",
        &[("x", x - length / 2.0), ("y", y - TAB / 2.0), ("width", length), ("height", TAB), ("rx", 5.0)],
        &[("class", "mark"), ("stroke", "currentColor"), ("stroke-width", "3")],
    );
    sheet.text(mark.word, x, y, LETTERS, &[("class", "mark"), ("text-anchor", "middle"), ("fill", "currentColor")]);
}

fn draw_cavity(sheet: &mut Sheet, cavity: &Cavity<'_>, at: Point, round: bool) {
    let words = [("class", "cavity"), ("stroke", "currentColor"), ("stroke-width", "2")];
    if round {
        sheet.element("circle", &[("cx", at.x), ("cy", at.y), ("r", ROUND)], &words);
    } else {
        let corner = (at.x - CELL.0 / 2.0, at.y - CELL.1 / 2.0);
        sheet.element("rect", &[("x", corner.0), ("y", corner.1), ("width", CELL.0), ("height", CELL.1), ("rx", 9.0)], &words);
    }
    let away = if round { 0.86 } else { 1.0 };
    let middle = [("text-anchor", "middle"), ("fill", "currentColor")];
    let size = 44.0 * away * (3.0 / cavity.number.chars().count().max(3) as f64);
    sheet.text(cavity.number, at.x, at.y - 40.0 * away, size, &[&[("class", "number"), ("font-weight", "700")], &middle[..]].concat());
    let corner = (at.x - FIELD.0 / 2.0, at.y - FIELD.1 / 2.0 + 4.0);
    match cavity.wire {
        Some(wire) => {
            swatch::draw(sheet, wire, corner, FIELD);
            sheet.text(&wire.to_string(), at.x, at.y + 46.0 * away, LETTERS * away, &[&[("class", "letters")], &middle[..]].concat());
        }
        None => empty(sheet, corner, FIELD),
    }
}

/// A field without a wire: crossed out, so that it is no forgotten white one.
fn empty(sheet: &mut Sheet, corner: (f64, f64), (width, height): (f64, f64)) {
    swatch::frame(sheet, corner, (width, height), &[("class", "empty"), ("stroke-dasharray", "6 5")]);
    let path = format!("M{} {}l{} {}m0 {}l{} {}", n(corner.0), n(corner.1), n(width), n(height), n(-height), n(-width), n(height));
    sheet.element("path", &[], &[("class", "empty"), ("d", &path), ("stroke", "currentColor"), ("stroke-width", "1.6")]);
}

/// What each wire does, in as many columns as are 60 mm wide.
struct Legend<'a> {
    rows: Vec<(&'a Cavity<'a>, Vec<String>, f64, f64)>,
    height: f64,
}

impl<'a> Legend<'a> {
    fn new(drawing: &FaceDrawing<'a>, width: f64) -> Self {
        let columns = (width / NARROWEST).floor().max(1.0);
        let column = width / columns;
        // A letter of a sans-serif type is a little more than half as wide as its size.
        let most = ((column - WORDS_AT - EDGE) / (WORDS * 0.54)) as usize;
        let texts = drawing.cavities.iter().map(|cavity| {
            let text = if cavity.function.is_empty() && cavity.wire.is_none() { drawing.words.empty } else { cavity.function };
            (cavity, wrap(text, most))
        });
        let high = |lines: &[String]| LINE * lines.len() as f64 + 17.0;
        let texts: Vec<(&Cavity<'_>, Vec<String>)> = texts.collect();
        let whole: f64 = texts.iter().map(|(_, lines)| high(lines)).sum();
        let mut rows = Vec::new();
        let (mut x, mut y, mut height) = (0.0, 0.0, 0.0_f64);
        for (cavity, lines) in texts {
            // A column ends once it holds its share.
            if y >= whole / columns - 0.5 && x + column < width - 0.5 {
                (x, y) = (x + column, 0.0);
            }
            let tall = high(&lines);
            rows.push((cavity, lines, x, y));
            y += tall;
            height = height.max(y);
        }
        Self { rows, height }
    }

    fn draw(&self, sheet: &mut Sheet, below: f64) {
        for (cavity, lines, x, y) in &self.rows {
            let middle = below + y + LINE / 2.0;
            let ink = ("fill", "currentColor");
            let size = 32.0 * (4.0 / cavity.number.chars().count().max(4) as f64);
            sheet.text(cavity.number, x + 64.0, middle, size, &[("class", "key"), ("text-anchor", "end"), ("font-weight", "700"), ink]);
            let corner = (x + 80.0, middle - FIELD.1 / 2.0);
            match cavity.wire {
                Some(wire) => {
                    swatch::draw(sheet, wire, corner, FIELD);
                    sheet.text(&wire.to_string(), x + LETTERS_AT, middle, LETTERS, &[("class", "letters"), ink]);
                }
                None => empty(sheet, corner, FIELD),
            }
            for (at, line) in lines.iter().enumerate() {
                sheet.text(line, x + WORDS_AT, middle + LINE * at as f64, WORDS, &[("class", "function"), ink]);
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::wiring::{Colour, read_colour};

    fn cavities<'a>(numbers: &'a [String]) -> Vec<Cavity<'a>> {
        let wire = |at: usize| {
            let base = Colour::ALL[at % 14];
            (at % 5 != 4).then(|| WireColour::striped(base, Colour::ALL[(at * 5 + 3) % 14]))
        };
        numbers.iter().enumerate().map(|(at, number)| Cavity { number, wire: wire(at), function: "feed <from> fuse & relay" }).collect()
    }

    fn numbers(count: u32) -> Vec<String> {
        (1..=count).map(|number| number.to_string()).collect()
    }

    fn drawing<'a>(cavities: &'a [Cavity<'a>], seats: Seats<'a>) -> FaceDrawing<'a> {
        let mark = Some(Mark { edge: Edge::Top, word: "latch" });
        FaceDrawing { prefix: "c1", title: "Seat connector", side: Side::Wires, mark, cavities, seats, words: ENGLISH }
    }

    fn texts<'d>(document: &'d roxmltree::Document<'_>, class: &str) -> Vec<&'d str> {
        document.descendants().filter(|node| node.attribute("class") == Some(class)).filter_map(|node| node.text()).collect()
    }

    #[track_caller]
    fn sound(svg: &str, count: u32) {
        let document = roxmltree::Document::parse(svg).expect("well-formed");
        assert_eq!(texts(&document, "number"), numbers(count));
        assert_eq!(texts(&document, "key"), numbers(count));
        let ids: Vec<&str> = document.descendants().filter_map(|node| node.attribute("id")).collect();
        assert!(ids.iter().all(|id| id.starts_with("c1-")));
        for node in document.descendants().filter_map(|node| node.attribute("fill")).filter_map(|fill| fill.strip_prefix("url(#")) {
            assert!(ids.contains(&node.trim_end_matches(')')), "{node} is defined");
        }
        assert!(document.descendants().flat_map(|node| node.attributes()).all(|a| a.name() != "style" && !a.name().starts_with("on")));
        assert!(!svg.contains("http") || svg.matches("http").count() == 1, "only the name of the format");
    }

    #[test]
    fn round_cavities_do_not_overlap() {
        for count in 1..=24 {
            let (numbers, ring) = (numbers(count), Point::ring(count));
            let cavities = cavities(&numbers);
            let svg = face(&drawing(&cavities, Seats::Round(&ring))).svg;
            sound(&svg, count);
            let document = roxmltree::Document::parse(&svg).expect("well-formed");
            let circles: Vec<Point> = document
                .descendants()
                .filter(|node| node.attribute("class") == Some("cavity"))
                .map(|node| ["cx", "cy"].map(|name| node.attribute(name).and_then(|v| v.parse().ok()).expect("a number")))
                .map(|[x, y]| Point { x, y })
                .collect();
            assert!(closest(&circles).is_none_or(|distance| distance > 2.0 * ROUND), "{count}");
        }
    }

    #[test]
    fn every_cavity_has_number_colour_letters_and_function() {
        let numbers = numbers(12);
        let cavities = cavities(&numbers);
        let cells: Vec<(u32, f64)> = (0..12).map(|at| (at / 6, f64::from(at % 6))).collect();
        let svg = face(&drawing(&cavities, Seats::Rows(&cells))).svg;
        sound(&svg, 12);
        let document = roxmltree::Document::parse(&svg).expect("well-formed");
        // Ten of the twelve have a wire; its letters stand in the cavity and in the legend.
        let letters = texts(&document, "letters");
        let expected: Vec<String> = cavities.iter().filter_map(|cavity| cavity.wire).map(|wire| wire.to_string()).collect();
        assert_eq!(letters, [expected.clone(), expected].concat());
        assert_eq!(texts(&document, "function").join(" "), ["feed <from> fuse & relay"; 12].join(" "));
        assert_eq!(texts(&document, "side"), ["Seen from the wire side"]);
        assert_eq!(texts(&document, "mark"), ["latch"]);
        assert!(svg.contains("Seen from the wire side. latch: top. 1: BK/OG black with orange stripe, feed &lt;from&gt;"), "{svg}");
        assert_eq!(svg, face(&drawing(&cavities, Seats::Rows(&cells))).svg);
    }

    #[test]
    fn text_and_odd_places_are_safe() {
        let wire = read_colour("BU/WH").ok();
        let cavities = [Cavity { number: "<A>", wire, function: "\u{0}\"'" }, Cavity { number: "", wire: None, function: "" }];
        let cells = [(u32::MAX, f64::NAN), (0, f64::NEG_INFINITY)];
        let mut odd = drawing(&cavities, Seats::Rows(&cells));
        odd.title = "</title><script>alert(1)</script>";
        odd.side = Side::Mating;
        odd.mark = Some(Mark { edge: Edge::Left, word: "<key>" });
        let svg = face(&odd).svg;
        let document = roxmltree::Document::parse(&svg).expect("well-formed");
        assert!(document.descendants().all(|node| node.tag_name().name() != "script"));
        assert_eq!(texts(&document, "side"), ["Seen from the mating side"]);
        assert!(!svg.contains("NaN"));
        odd.cavities = &[];
        odd.seats = Seats::Round(&[]);
        roxmltree::Document::parse(&face(&odd).svg).expect("well-formed");
    }
}
