//! Drawings that the program makes itself, as SVG: the only writer of SVG. Plain data in, text out; no guide is known here.
//! Where a drawing stands on a page, its caption and its size are left to the page.
//!
//! A drawing is black on white first: lines and letters take the colour of the text around them (`currentColor`), so it follows a dark
//! page and prints. It holds no script, no address outside itself and no style: only presentation attributes and classes, which a
//! strict content-security policy lets be. One unit of a drawing is a tenth of a millimetre at its natural size on paper.

pub mod callouts;
pub mod face;
pub mod order;
mod svg;
mod swatch;

/// A place in the unit square: x from left to right, y from top to bottom, each from 0 to 1.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Point {
    /// From the left edge.
    pub x: f64,
    /// From the top edge.
    pub y: f64,
}

impl Point {
    /// A place; what is no number, or lies outside the square, is moved to the nearest place in it.
    pub fn new(x: f64, y: f64) -> Self {
        let inside = |value: f64| if value.is_nan() { 0.5 } else { value.clamp(0.0, 1.0) };
        Self { x: inside(x), y: inside(y) }
    }

    /// `count` places on a circle that fills the square, clockwise from the top.
    pub fn ring(count: u32) -> Vec<Self> {
        (0..count)
            .map(|at| {
                let turn = std::f64::consts::TAU * f64::from(at) / f64::from(count.max(1));
                Self::new(0.5 + 0.5 * turn.sin(), 0.5 - 0.5 * turn.cos())
            })
            .collect()
    }

    /// The middle of a cell of a table of `rows` and `columns`, both counted from nought.
    pub fn cell(row: u32, column: u32, rows: u32, columns: u32) -> Self {
        let middle = |at: u32, of: u32| (f64::from(at) + 0.5) / f64::from(of.max(1));
        Self::new(middle(column, columns), middle(row, rows))
    }

    fn distance(self, other: Self) -> f64 {
        (self.x - other.x).hypot(self.y - other.y)
    }
}

/// A finished drawing.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Drawn {
    /// The drawing.
    pub svg: String,
    /// What it says to who does not see it.
    pub words: String,
}

/// The smallest distance between two of the points, if there are two at different places.
fn closest(points: &[Point]) -> Option<f64> {
    let pairs = points.iter().enumerate().flat_map(|(at, a)| points[at + 1..].iter().map(move |b| a.distance(*b)));
    pairs.filter(|distance| *distance > 1e-6).min_by(f64::total_cmp)
}
