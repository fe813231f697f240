//! The order in which fasteners are tightened, drawn as numbered balloons at their places.
//! Which order is right, and whether the pattern is one, is left to the guide and the review.

use super::svg::Sheet;
use super::{Drawn, Point, closest};

/// The outline of the part around its fasteners.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Outline {
    /// None.
    None,
    /// A circle round the middle of the unit square, as of a wheel or a flange.
    Circle,
    /// A rectangle round the fasteners, as of a cover.
    Rectangle,
}

/// One fastener: where it is, and when its turn comes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Fastener {
    /// Its place.
    pub at: Point,
    /// Its number in the order, written at the place.
    pub order: u32,
}

/// A drawing of a tightening order.
#[derive(Clone, Debug, PartialEq)]
pub struct OrderDrawing<'a> {
    /// What every id of the drawing starts with; no two drawings of a page may share it.
    pub prefix: &'a str,
    /// The title, read aloud and shown by pointing.
    pub title: &'a str,
    /// What the numbers mean, in one sentence: that they are the order, not the places.
    pub convention: &'a str,
    /// The fasteners.
    pub fasteners: &'a [Fastener],
    /// The outline of the part.
    pub outline: Outline,
    /// How wide the part is for its height: 2 where it is twice as wide as high. It is held between a fifth and 5.
    pub aspect: f64,
    /// The word at the mark of the upper side, such as "top"; empty for no mark.
    pub top: &'a str,
}

const WIDTH: f64 = 600.0;
/// The largest balloon; 9 mm wide at 60 mm.
const LARGEST: f64 = 45.0;
/// Of two neighbours, what each balloon takes of the way between them; the rest stays free.
const SHARE: f64 = 0.455;
/// Between the balloons and the outline.
const GAP: f64 = 14.0;
const EDGE: f64 = 4.0;
/// Up to so many fasteners arrows lead from one to the next. With more they cover each other, and the numbers alone read faster.
const MOST_ARROWS: usize = 6;

/// Draws a tightening order; 60 mm wide at its natural size.
///
/// Balloons are as large as their places allow. Only fasteners less than about a thousandth of the part apart are drawn over each other.
pub fn order(drawing: &OrderDrawing<'_>) -> Drawn {
    let layout = Layout::new(drawing);
    let mut sheet = Sheet::new(drawing.prefix, WIDTH, layout.height);
    if !drawing.top.is_empty() {
        top(&mut sheet, drawing.top, layout.top);
    }
    outline(&mut sheet, drawing.outline, &layout);
    let mut turns: Vec<(u32, Point)> = drawing.fasteners.iter().zip(&layout.places).map(|(fastener, at)| (fastener.order, *at)).collect();
    turns.sort_by_key(|turn| turn.0);
    let places: Vec<Point> = turns.iter().map(|turn| turn.1).collect();
    if places.len() <= MOST_ARROWS && clear(&places, layout.radius) {
        for pair in places.windows(2) {
            arrow(&mut sheet, pair[0], pair[1], layout.radius);
        }
    }
    let digits = turns.last().map_or(1, |turn| turn.0.to_string().len());
    for (turn, (number, at)) in turns.iter().enumerate() {
        balloon(&mut sheet, *at, layout.radius, &number.to_string(), digits, turn == 0);
    }
    let described: Vec<String> = turns.iter().map(|(number, at)| format!("{number} {}", layout.place_in_words(*at))).collect();
    let description = format!("{} {}", drawing.convention.trim(), described.join(", "));
    sheet.finish("drawing order", drawing.title, description.trim())
}

/// Where everything lies, in units of the drawing.
struct Layout {
    places: Vec<Point>,
    radius: f64,
    middle: Point,
    // Half the width and height of the places and, for a circle, the distance of the farthest.
    half: (f64, f64),
    reach: f64,
    top: f64,
    height: f64,
}

impl Layout {
    fn new(drawing: &OrderDrawing<'_>) -> Self {
        let aspect = if drawing.aspect.is_finite() { drawing.aspect.clamp(0.2, 5.0) } else { 1.0 };
        let places: Vec<Point> = drawing
            .fasteners
            .iter()
            .map(|fastener| Point::new(fastener.at.x, fastener.at.y))
            .map(|at| Point { x: at.x, y: at.y / aspect })
            .collect();
        let round = drawing.outline == Outline::Circle;
        let bounds = |value: fn(&Point) -> f64| {
            let low = places.iter().map(value).min_by(f64::total_cmp).unwrap_or(0.5);
            (low, places.iter().map(value).max_by(f64::total_cmp).unwrap_or(0.5))
        };
        let ((left, right), (upper, lower)) = (bounds(|at| at.x), bounds(|at| at.y));
        let middle = if round { Point { x: 0.5, y: 0.5 / aspect } } else { Point { x: (left + right) / 2.0, y: (upper + lower) / 2.0 } };
        let reach = places.iter().map(|at| at.distance(middle)).max_by(f64::total_cmp).unwrap_or(0.0);
        let half = if round { (reach, reach) } else { ((right - left) / 2.0, (lower - upper) / 2.0) };
        // The sheet is wide enough for places, balloons and gap: (width of places) · scale + radius + gap = half the sheet. A tall
        // part is drawn smaller, so that no drawing is more than half as high again as wide.
        let (across, down) = (WIDTH / 2.0 - EDGE - GAP, WIDTH * 0.75 - EDGE - GAP);
        let apart = closest(&places).map_or(f64::INFINITY, |distance| distance * SHARE);
        let fit = |room: f64, half: f64| {
            let shared = room / (half + apart);
            if shared * apart <= LARGEST { shared } else { (room - LARGEST) / half.max(1e-9) }
        };
        let scale = fit(across, half.0).min(fit(down, half.1)).min(4000.0);
        let radius = (apart * scale).min(LARGEST);
        let top = if drawing.top.is_empty() { 0.0 } else { 44.0 };
        let above = top + EDGE + GAP + radius + half.1 * scale;
        let placed = |at: &Point| Point { x: WIDTH / 2.0 + (at.x - middle.x) * scale, y: above + (at.y - middle.y) * scale };
        Self {
            places: places.iter().map(placed).collect(),
            radius,
            middle: Point { x: WIDTH / 2.0, y: above },
            half: (half.0 * scale, half.1 * scale),
            reach: reach * scale,
            top,
            height: above + half.1 * scale + radius + GAP + EDGE,
        }
    }

    /// Where a place lies, for those who hear the drawing.
    fn place_in_words(&self, at: Point) -> &'static str {
        let (x, y) = (at.x - self.middle.x, at.y - self.middle.y);
        let third = |value: f64, half: f64| if value < -half / 3.0 { 0 } else { 1 + usize::from(value > half / 3.0) };
        const WORDS: [[&str; 3]; 3] =
            [["upper left", "top", "upper right"], ["left", "middle", "right"], ["lower left", "bottom", "lower right"]];
        WORDS[third(y, self.half.1)][third(x, self.half.0)]
    }
}

fn top(sheet: &mut Sheet, word: &str, below: f64) {
    let x = WIDTH / 2.0;
    sheet.raw("<g class=\"top\" fill=\"currentColor\">");
    let points =
        format!("{},{} {},{} {},{}", super::svg::n(x), 6, super::svg::n(x - 15.0), below - 10.0, super::svg::n(x + 15.0), below - 10.0);
    sheet.element("polygon", &[], &[("points", &points)]);
    sheet.text(word, x + 26.0, below / 2.0 - 2.0, 28.0, &[]);
    sheet.raw("</g>");
}

fn outline(sheet: &mut Sheet, outline: Outline, layout: &Layout) {
    let words = [("class", "outline"), ("stroke", "currentColor"), ("stroke-width", "3")];
    let Layout { middle, half, reach, radius, .. } = *layout;
    let beyond = radius + GAP;
    match outline {
        Outline::None => {}
        Outline::Circle => sheet.element("circle", &[("cx", middle.x), ("cy", middle.y), ("r", reach + beyond)], &words),
        Outline::Rectangle => sheet.element(
            "rect",
            &[
                ("x", middle.x - half.0 - beyond),
                ("y", middle.y - half.1 - beyond),
                ("width", 2.0 * (half.0 + beyond)),
                ("height", 2.0 * (half.1 + beyond)),
                ("rx", beyond),
            ],
            &words,
        ),
    }
}

/// Whether every way from one place to the next passes clear of the other balloons.
fn clear(places: &[Point], radius: f64) -> bool {
    places.windows(2).enumerate().all(|(at, pair)| {
        let (from, to) = (pair[0], pair[1]);
        let length = from.distance(to);
        places.iter().enumerate().filter(|(other, _)| *other != at && *other != at + 1).all(|(_, place)| {
            let along = ((place.x - from.x) * (to.x - from.x) + (place.y - from.y) * (to.y - from.y)) / (length * length).max(1e-9);
            let foot = Point { x: from.x + (to.x - from.x) * along.clamp(0.0, 1.0), y: from.y + (to.y - from.y) * along.clamp(0.0, 1.0) };
            foot.distance(*place) > radius + 6.0
        })
    })
}

fn arrow(sheet: &mut Sheet, from: Point, to: Point, radius: f64) {
    let length = from.distance(to);
    let free = length - 2.0 * (radius + 7.0);
    if free < 24.0 {
        return;
    }
    let (dx, dy) = ((to.x - from.x) / length, (to.y - from.y) / length);
    let along = |distance: f64, aside: f64| (from.x + dx * distance - dy * aside, from.y + dy * distance + dx * aside);
    let (start, tip) = (along(radius + 7.0, 0.0), along(length - radius - 7.0, 0.0));
    let foot = length - radius - 7.0 - 18.0;
    let (neck, left, right) = (along(foot, 0.0), along(foot, 6.5), along(foot, -6.5));
    sheet.element(
        "line",
        &[("x1", start.0), ("y1", start.1), ("x2", neck.0), ("y2", neck.1)],
        &[("class", "way"), ("stroke", "currentColor"), ("stroke-width", "2.2")],
    );
    let n = super::svg::n;
    let points = [tip, left, right].map(|(x, y)| format!("{},{}", n(x), n(y))).join(" ");
    sheet.element("polygon", &[], &[("class", "way"), ("points", &points), ("fill", "currentColor")]);
}

fn balloon(sheet: &mut Sheet, at: Point, radius: f64, number: &str, digits: usize, first: bool) {
    // A heavy ring shows at one look where to start.
    let width = if first { (radius * 0.16).max(3.0) } else { (radius * 0.07).max(2.2) };
    sheet.element(
        "circle",
        &[("cx", at.x), ("cy", at.y), ("r", radius - width / 2.0), ("stroke-width", width)],
        &[("class", if first { "balloon first" } else { "balloon" }), ("stroke", "currentColor")],
    );
    let size = radius * [1.25, 1.05, 0.8, 0.62][digits.clamp(1, 4) - 1];
    sheet.text(
        number,
        at.x,
        at.y,
        size,
        &[("class", "number"), ("text-anchor", "middle"), ("font-weight", "700"), ("fill", "currentColor")],
    );
}

#[cfg(test)]
mod tests {
    use super::*;

    const CONVENTION: &str = "The numbers are the order of tightening.";

    fn ring(count: u32) -> Vec<Fastener> {
        Point::ring(count).into_iter().enumerate().map(|(at, place)| Fastener { at: place, order: at as u32 + 1 }).collect()
    }

    fn drawn(fasteners: &[Fastener], outline: Outline) -> String {
        order(&OrderDrawing { prefix: "a", title: "Order", convention: CONVENTION, fasteners, outline, aspect: 1.0, top: "top" }).svg
    }

    fn number(node: roxmltree::Node<'_, '_>, name: &str) -> f64 {
        node.attribute(name).and_then(|value| value.parse().ok()).unwrap_or_else(|| panic!("{name} of {node:?}"))
    }

    /// The outer edge of every balloon: middle and radius.
    fn balloons(svg: &str) -> Vec<(Point, f64)> {
        let document = roxmltree::Document::parse(svg).expect("well-formed");
        let circles = document.descendants().filter(|node| node.attribute("class").is_some_and(|class| class.starts_with("balloon")));
        circles
            .map(|node| {
                let at = Point { x: number(node, "cx"), y: number(node, "cy") };
                (at, number(node, "r") + number(node, "stroke-width") / 2.0)
            })
            .collect()
    }

    #[track_caller]
    fn sound(svg: &str, count: usize) {
        let document = roxmltree::Document::parse(svg).expect("well-formed");
        let height: f64 =
            document.root_element().attribute("viewBox").and_then(|size| size.split(' ').nth(3)?.parse().ok()).expect("a size");
        let balloons = balloons(svg);
        assert_eq!(balloons.len(), count);
        for (place, (at, radius)) in balloons.iter().enumerate() {
            assert!(at.x - radius >= 0.0 && at.x + radius <= WIDTH && at.y - radius >= 0.0 && at.y + radius <= height, "{at:?} is inside");
            for (other, across) in &balloons[place + 1..] {
                assert!(at.distance(*other) > radius + across, "{at:?} and {other:?} overlap");
            }
        }
        let numbers: Vec<String> = document
            .descendants()
            .filter(|node| node.attribute("class") == Some("number"))
            .filter_map(|node| node.text().map(str::to_owned))
            .collect();
        assert_eq!(numbers, (1..=count).map(|number| number.to_string()).collect::<Vec<_>>());
    }

    #[test]
    fn no_two_balloons_overlap_and_every_number_is_there() {
        for count in 1..=24 {
            for outline in [Outline::None, Outline::Circle, Outline::Rectangle] {
                sound(&drawn(&ring(count), outline), count as usize);
            }
        }
        for (rows, columns) in [(1, 24), (24, 1), (2, 12), (4, 6), (3, 3)] {
            let cells =
                (0..rows * columns).map(|at| Fastener { at: Point::cell(at / columns, at % columns, rows, columns), order: at + 1 });
            sound(&drawn(&cells.collect::<Vec<_>>(), Outline::Rectangle), (rows * columns) as usize);
        }
    }

    #[test]
    fn balloons_are_readable_at_sixty_millimetres() {
        // Twenty-four on a circle are the closest usual pattern: digits of 2 mm and more.
        let svg = drawn(&ring(24), Outline::Circle);
        let document = roxmltree::Document::parse(&svg).expect("well-formed");
        let size = document.descendants().find(|node| node.attribute("class") == Some("number")).map(|node| number(node, "font-size"));
        assert!(size.is_some_and(|size| size * 0.71 >= 20.0), "{size:?}");
    }

    #[test]
    fn arrows_are_drawn_where_they_help() {
        assert_eq!(drawn(&ring(5), Outline::Circle).matches("<line").count(), 4);
        assert_eq!(drawn(&ring(8), Outline::Circle).matches("<line").count(), 0);
        // In a row the way from 1 to 3 leads over 2.
        let row = [(0.0, 1), (0.5, 3), (1.0, 2)].map(|(x, order)| Fastener { at: Point::new(x, 0.5), order });
        assert_eq!(drawn(&row, Outline::None).matches("<line").count(), 0);
    }

    #[test]
    fn what_is_given_is_safe_and_the_same_every_time() {
        let odd =
            [Fastener { at: Point { x: f64::NAN, y: 9.0 }, order: 1 }, Fastener { at: Point { x: f64::INFINITY, y: -1.0 }, order: 700 }];
        let drawing = OrderDrawing {
            prefix: "x\" onload=\"y",
            title: "<script>&\"",
            convention: "a < b",
            fasteners: &odd,
            outline: Outline::Rectangle,
            aspect: f64::NAN,
            top: "<b>",
        };
        let svg = order(&drawing).svg;
        assert_eq!(svg, order(&drawing).svg);
        let document = roxmltree::Document::parse(&svg).expect("well-formed");
        assert!(document.descendants().all(|node| !matches!(node.tag_name().name(), "script" | "style" | "b")));
        assert!(document.descendants().flat_map(|node| node.attributes()).all(|a| a.name() != "style" && !a.name().starts_with("on")));
        assert_eq!(document.root_element().attribute("role"), Some("img"));
        assert!(!svg.contains("NaN") && !svg.contains("inf"));
        let none = drawn(&[], Outline::Circle);
        roxmltree::Document::parse(&none).expect("well-formed");
    }

    #[test]
    fn the_description_says_where_the_numbers_are() {
        let svg = drawn(&ring(4), Outline::None);
        assert!(svg.contains(&format!("{CONVENTION} 1 top, 2 right, 3 bottom, 4 left</desc>")), "{svg}");
    }
}
