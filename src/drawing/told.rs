//! The drawings that a guide's facts ask for: the order of a tightening, the face of a connector. Facts in, SVG out; how it is drawn
//! is left to `drawing`, where it stands to the templates.

use crate::document::{Connector, Ordered};
use crate::drawing::face::{Cavity, ENGLISH, FaceDrawing, Seats, Side, face};
use crate::drawing::order as orders;
use crate::drawing::order::{Fastener, OrderDrawing, Outline};
use crate::drawing::{Drawn, Point};
use crate::wiring::{WireColour, read_colour};

/// An order of tightening or undoing. `prefix` keeps the ids of several drawings of a page apart.
pub fn order(order: &Ordered, prefix: &str) -> Drawn {
    let Ordered { order: drawn, circle, rows, count, undoing } = order;
    let numbers = drawn.numbers();
    let places = drawn.places().iter();
    let fasteners: Vec<Fastener> =
        places.zip(&numbers).map(|(&(x, y), &number)| Fastener { at: Point::new(x, y), order: number as u32 }).collect();
    let columns = (fasteners.len() as f64 / f64::from(*rows)).max(1.0);
    let of = if *undoing { "undoing" } else { "tightening" };
    orders::order(&OrderDrawing {
        prefix,
        title: &format!("Order of {of}, {count} fasteners"),
        convention: convention(*undoing),
        fasteners: &fasteners,
        outline: if *circle { Outline::Circle } else { Outline::Rectangle },
        aspect: if *circle { 1.0 } else { columns / f64::from(*rows) },
        top: "top",
    })
}

fn convention(undoing: bool) -> &'static str {
    if undoing {
        "The numbers are the order of undoing, the reverse of tightening. Positions are seen from the side of the heads."
    } else {
        "The numbers are the order of tightening. Positions are seen from the side of the heads."
    }
}

/// The face of a connector with its cavities; none where their places or the side are not told.
pub fn connector(connector: &Connector, prefix: &str) -> Option<Drawn> {
    if connector.not_drawn().is_some() {
        return None;
    }
    let Connector { name, pins, layout, mating_side } = connector;
    let wires: Vec<Option<WireColour>> = pins.iter().map(|pin| read_colour(pin.colour.as_deref()?).ok()).collect();
    let functions: Vec<String> =
        pins.iter().map(|pin| [&pin.what, &pin.wire].into_iter().flatten().map(String::as_str).collect::<Vec<_>>().join(", ")).collect();
    let cavities: Vec<Cavity<'_>> =
        pins.iter().zip(&wires).zip(&functions).map(|((pin, wire), function)| Cavity { number: &pin.at, wire: *wire, function }).collect();
    let (rows, round) = seats(connector);
    Some(face(&FaceDrawing {
        prefix,
        title: name,
        side: if *mating_side == Some(true) { Side::Mating } else { Side::Wires },
        mark: None,
        cavities: &cavities,
        seats: if layout.iter().any(|row| row == "ring") { Seats::Round(&round) } else { Seats::Rows(&rows) },
        words: ENGLISH,
    }))
}

/// The seat of each cavity, in the order of the pins, by the layout.
fn seats(connector: &Connector) -> (Vec<(u32, f64)>, Vec<Point>) {
    let Connector { pins, layout, .. } = connector;
    // With points between them, places are half as wide, so that rows can stand in the gaps of others.
    let staggered = layout.iter().any(|row| row.split_whitespace().any(|cavity| cavity == "."));
    let rows = pins.iter().filter_map(|pin| {
        layout.iter().enumerate().find_map(|(row, cavities)| {
            let column = cavities.split_whitespace().position(|cavity| cavity == pin.at)?;
            Some((row as u32, column as f64 * if staggered { 0.5 } else { 1.0 }))
        })
    });
    (rows.collect(), Point::ring(pins.len() as u32))
}
