//! A wire colour as a small field: its colour, and a hatch that tells it in black and white.
//! Which hatch belongs to which colour is said in `wiring`; the letters beside the field are left to the drawing.

use std::collections::BTreeSet;
use std::fmt::Write;

use super::svg::{Sheet, n};
use crate::wiring::{Colour, Hatch, WireColour};

/// The side of a hatch's tile, in tenths of a millimetre.
const TILE: f64 = 16.0;

/// Writes the hatches that the colours need; the fields refer to them.
pub(super) fn define(sheet: &mut Sheet, wires: impl Iterator<Item = WireColour>) {
    let used: BTreeSet<Colour> = wires.flat_map(|wire| std::iter::once(wire.base()).chain(wire.stripe())).collect();
    if used.is_empty() {
        return;
    }
    let mut defs = String::from("<defs>");
    for colour in used {
        let _ = write!(
            defs,
            "<pattern id=\"{}-{}\" width=\"{tile}\" height=\"{tile}\" patternUnits=\"userSpaceOnUse\"><rect width=\"{tile}\" height=\"{tile}\" \
             fill=\"{}\"/>{}</pattern>",
            sheet.prefix,
            colour.code(),
            colour.display(),
            marks(colour),
            tile = n(TILE),
        );
    }
    defs.push_str("</defs>");
    sheet.raw(&defs);
}

/// Draws the field of a wire with its upper left corner at a place: the base, and the stripe along its middle.
///
/// Each field has its own origin, because a hatch starts from there and all fields of a colour are to look alike.
pub(super) fn draw(sheet: &mut Sheet, wire: WireColour, (x, y): (f64, f64), (width, height): (f64, f64)) {
    let base = fill(&sheet.prefix, wire.base());
    sheet.raw(&format!("<g class=\"wire\" transform=\"translate({} {})\">", n(x), n(y)));
    sheet.element("rect", &[("width", width), ("height", height)], &[("fill", &base)]);
    if let Some(stripe) = wire.stripe() {
        // The base has to stay the larger part, or BU/WH and WH/BU look alike. The first row of marks lies a quarter of a tile down, so
        // the stripe shows that row in its middle.
        let band = height * 0.42;
        let edges = if wire.base() == Colour::Black { "#ffffff" } else { "#000000" };
        let stripe = fill(&sheet.prefix, stripe);
        let shift = format!("translate(0 {})", n(height / 2.0 - TILE / 4.0));
        sheet.element(
            "rect",
            &[("y", TILE / 4.0 - band / 2.0), ("width", width), ("height", band), ("stroke-width", 1.5)],
            &[("class", "stripe"), ("fill", &stripe), ("stroke", edges), ("transform", &shift)],
        );
    }
    sheet.raw("</g>");
    frame(sheet, (x, y), (width, height), &[]);
}

fn fill(prefix: &str, colour: Colour) -> String {
    format!("url(#{prefix}-{})", colour.code())
}

/// The edge of a field.
pub(super) fn frame(sheet: &mut Sheet, (x, y): (f64, f64), (width, height): (f64, f64), more: &[(&str, &str)]) {
    let words = [&[("stroke", "currentColor"), ("stroke-width", "2.4")], more].concat();
    sheet.element("rect", &[("x", x), ("y", y), ("width", width), ("height", height), ("rx", 3.0)], &words);
}

/// Black or white, whichever stands out more from the colour.
fn ink(colour: Colour) -> &'static str {
    let channel = |at: usize| {
        let value = colour.display().get(at..at + 2).and_then(|hex| u8::from_str_radix(hex, 16).ok()).unwrap_or(0);
        let value = f64::from(value) / 255.0;
        // Relative luminance as WCAG 2.2 defines it.
        if value <= 0.04045 { value / 12.92 } else { ((value + 0.055) / 1.055).powf(2.4) }
    };
    let luminance = 0.2126 * channel(1) + 0.7152 * channel(3) + 0.0722 * channel(5);
    // Contrast with black is (L + 0.05) / 0.05, with white 1.05 / (L + 0.05); they are the same at 0.179.
    if luminance > 0.179 { "#000000" } else { "#ffffff" }
}

fn marks(colour: Colour) -> String {
    let lines = |path: &str| format!("<path d=\"{path}\" stroke=\"{}\" stroke-width=\"1.8\" stroke-linecap=\"butt\"/>", ink(colour));
    let dots = |places: &[(f64, f64)], radius: f64, filled: bool| {
        let paint = if filled { "fill" } else { "stroke-width=\"1.5\" stroke" };
        places
            .iter()
            .map(|(x, y)| format!("<circle cx=\"{}\" cy=\"{}\" r=\"{}\" {paint}=\"{}\"/>", n(*x), n(*y), n(radius), ink(colour)))
            .collect::<String>()
    };
    match colour.hatch() {
        Hatch::Solid | Hatch::Plain => String::new(),
        // Slanting lines go beyond the tile at its corners, so that they meet those of the next one.
        Hatch::Falling => lines("M-2 -2L18 18M-2 14L2 18M14 -2L18 2"),
        Hatch::Rising => lines("M-2 18L18 -2M-2 2L2 -2M14 18L18 14"),
        Hatch::DiagonalCross => lines("M0 0L16 16M0 16L16 0"),
        Hatch::Vertical => lines("M4 0V16M12 0V16"),
        Hatch::Horizontal => lines("M0 4H16M0 12H16"),
        Hatch::Grid => lines("M4 0V16M0 4H16"),
        Hatch::VerticalBroken => lines("M4 0V9M12 8V16M12 0V1"),
        Hatch::HorizontalBroken => lines("M0 4H9M8 12H16M0 12H1"),
        Hatch::Chevrons => lines("M0 7L8 1L16 7M0 15L8 9L16 15"),
        Hatch::Crosses => lines("M4 1V7M1 4H7M12 9V15M9 12H15"),
        Hatch::Dots => dots(&[(4.0, 4.0), (12.0, 12.0)], 1.6, true),
        Hatch::Rings => dots(&[(4.0, 4.0), (12.0, 12.0)], 2.4, false),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_colour_has_a_mark_that_can_be_seen() {
        assert_eq!(ink(Colour::Black), "#ffffff");
        assert_eq!(ink(Colour::Yellow), "#000000");
        let mut all: Vec<String> = Colour::ALL.map(marks).to_vec();
        all.retain(|marks| !marks.is_empty());
        assert_eq!(all.len(), 12, "only black and white have none");
    }
}
