//! The site's own mark, drawn by this program: a balloon with a number and its leader, as on an engineering sheet.

use std::io::Cursor;

use image::{ImageFormat, Rgb, RgbImage};

const SHEET: [f32; 3] = [255.0, 254.0, 251.0];
const BLUE: [f32; 3] = [29.0, 79.0, 124.0];

/// The mark as PNG. One for a mask is smaller on its ground, because a system may cut anything off outside the middle
/// four fifths (W3C Web Application Manifest, safe zone of maskable icons).
pub fn png(size: u32, maskable: bool) -> Vec<u8> {
    let scale = if maskable { 0.72 } else { 1.0 };
    // Each pixel is the mean of sixteen points, so that edges are smooth.
    let points: Vec<f32> = (0..4).map(|at| (at as f32 + 0.5) / 4.0).collect();
    let picture = RgbImage::from_fn(size, size, |x, y| {
        let at = |pixel: u32, part: f32| ((pixel as f32 + part) / size as f32 - 0.5) / scale;
        let mut inside = 0.0;
        // No stroke is thinner than a pixel, so a pixel whose corners agree is all of one kind.
        let corners = [(0.0, 0.0), (0.0, 1.0), (1.0, 0.0), (1.0, 1.0)].map(|(dx, dy)| marked(at(x, dx), at(y, dy)));
        if corners.iter().all(|corner| *corner == corners[0]) {
            return Rgb(if corners[0] { BLUE } else { SHEET }.map(|channel| channel.round() as u8));
        }
        for dx in &points {
            for dy in &points {
                inside += f32::from(u8::from(marked(at(x, *dx), at(y, *dy)))) / 16.0;
            }
        }
        Rgb(std::array::from_fn(|channel| (SHEET[channel] + (BLUE[channel] - SHEET[channel]) * inside).round() as u8))
    });
    let mut bytes = Cursor::new(Vec::new());
    // Writing to memory fails only for sizes that no icon has.
    let written = picture.write_to(&mut bytes, ImageFormat::Png);
    written.map_or_else(|_| Vec::new(), |()| bytes.into_inner())
}

/// Whether a point belongs to the mark; the sheet reaches from -0.5 to 0.5.
fn marked(x: f32, y: f32) -> bool {
    const STROKE: f32 = 0.062;
    // The balloon stands left of the middle, since its leader goes to the right.
    let from_x = x + 0.08;
    let ring = (0.33 - STROKE..0.33).contains(&from_x.hypot(y));
    let leader = (0.32..0.55).contains(&from_x) && y.abs() < STROKE / 2.0;
    // The number 1: a stem with a flag and a foot.
    let stem = from_x.abs() < 0.036 && y.abs() < 0.17;
    let flag = (-0.125..0.0).contains(&from_x) && (y + 0.132 + from_x * 0.7).abs() < 0.042 && y > -0.17;
    let foot = from_x.abs() < 0.105 && (0.115..0.17).contains(&y);
    ring || leader || stem || flag || foot
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_mark_has_its_size_and_keeps_clear_of_the_mask() {
        let picture = image::load_from_memory(&png(192, false)).unwrap().into_rgb8();
        assert_eq!(picture.dimensions(), (192, 192));
        let masked = image::load_from_memory(&png(512, true)).unwrap().into_rgb8();
        let ground = Rgb(SHEET.map(|channel| channel as u8));
        for (x, y, pixel) in masked.enumerate_pixels() {
            let (x, y) = (x as f32 / 512.0 - 0.5, y as f32 / 512.0 - 0.5);
            assert!(x.hypot(y) < 0.4 || *pixel == ground, "{x} {y}");
        }
        assert!(masked.pixels().any(|pixel| pixel[0] < 40), "something is drawn");
    }
}
