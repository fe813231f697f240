//! The drawings that a guide's facts ask for: the order of a tightening, the face of a connector. Facts in, SVG out; how it is drawn
//! is left to `drawing`, where it stands to the templates.

use crate::fastener::pattern::Order;
use crate::guide::model::{Item, Spec};
use crate::publish::drawing::Point;
use crate::publish::drawing::face::{Cavity, ENGLISH, FaceDrawing, Seats, Side, face};
use crate::publish::drawing::order::{Fastener, OrderDrawing, Outline, order};
use crate::wiring::{WireColour, read_colour};

/// The order of a tightening. `prefix` keeps the ids of several drawings of a page apart.
pub fn tightening(spec: &Spec, drawn: &Order, title: &str, prefix: &str) -> String {
    numbered(spec, drawn, title, "The numbers are the order of tightening. Positions are seen from the side of the heads.", prefix)
}

/// The order of undoing, turned round already.
pub fn loosening(spec: &Spec, drawn: &Order, title: &str, prefix: &str) -> String {
    let convention = "The numbers are the order of undoing, the reverse of tightening. Positions are seen from the side of the heads.";
    numbered(spec, drawn, title, convention, prefix)
}

fn numbered(spec: &Spec, drawn: &Order, title: &str, convention: &str, prefix: &str) -> String {
    let numbers = drawn.numbers();
    let places = drawn.places().iter();
    let fasteners: Vec<Fastener> =
        places.zip(&numbers).map(|(&(x, y), &number)| Fastener { at: Point::new(x, y), order: number as u32 }).collect();
    let circle = spec.pattern.as_ref().is_some_and(|pattern| pattern.value == "circle");
    let rows = if circle { 1 } else { spec.rows.map_or(2, |rows| rows.value.max(1)) };
    let columns = (fasteners.len() as f64 / f64::from(rows)).max(1.0);
    order(&OrderDrawing {
        prefix,
        title,
        convention,
        fasteners: &fasteners,
        outline: if circle { Outline::Circle } else { Outline::Rectangle },
        aspect: if circle { 1.0 } else { columns / f64::from(rows) },
        top: "top",
    })
}

/// The face of a connector with its cavities; none if it says nothing of them.
pub fn connector(item: &Item, prefix: &str) -> Option<String> {
    if item.pins.is_empty() {
        return None;
    }
    let wires: Vec<Option<WireColour>> =
        item.pins.iter().map(|pin| pin.colour.as_ref().and_then(|colour| read_colour(&colour.value).ok())).collect();
    let functions: Vec<String> = item
        .pins
        .iter()
        .map(|pin| {
            let words = [&pin.what, &pin.wire].into_iter().flatten().map(|text| text.value.clone());
            words.collect::<Vec<_>>().join(", ")
        })
        .collect();
    let cavities: Vec<Cavity<'_>> = item
        .pins
        .iter()
        .zip(&wires)
        .zip(&functions)
        .map(|((pin, wire), function)| Cavity { number: &pin.at.value, wire: *wire, function })
        .collect();
    let (rows, round) = seats(item);
    Some(face(&FaceDrawing {
        prefix,
        title: item.name.as_str(),
        side: if item.seen_from.as_ref().is_some_and(|side| side.value == "mating-side") { Side::Mating } else { Side::Wires },
        mark: None,
        cavities: &cavities,
        seats: if item.layout.iter().any(|row| row.value == "ring") { Seats::Round(&round) } else { Seats::Rows(&rows) },
        words: ENGLISH,
    }))
}

/// The seat of each cavity, in the order of the pins: by the layout, else side by side in the order of the list.
fn seats(item: &Item) -> (Vec<(u32, f64)>, Vec<Point>) {
    /// More cavities side by side than this go into two rows.
    const ONE_ROW: usize = 6;
    // With points between them, places are half as wide, so that rows can stand in the gaps of others.
    let staggered = item.layout.iter().any(|row| row.value.split_whitespace().any(|cavity| cavity == "."));
    let count = item.pins.len();
    let per_row = if count > ONE_ROW { count.div_ceil(2) } else { count.max(1) };
    let rows = item.pins.iter().enumerate().map(|(at, pin)| {
        let found = item.layout.iter().enumerate().find_map(|(row, cavities)| {
            let column = cavities.value.split_whitespace().position(|cavity| cavity == pin.at.value)?;
            Some((row as u32, column as f64 * if staggered { 0.5 } else { 1.0 }))
        });
        found.unwrap_or(((at / per_row) as u32, (at % per_row) as f64))
    });
    (rows.collect(), Point::ring(count as u32))
}
