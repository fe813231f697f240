//! Numbered balloons over a picture, each with a leader to the place it speaks of. Balloons stand beside their places, so
//! that they hide nothing, and keep clear of each other and of other places wherever there is room.

use std::fmt::Write;

use super::Point;
use super::svg::n;

/// The picture's width in the units of the drawing.
const WIDTH: f64 = 1000.0;
/// The radius of a balloon.
const RADIUS: f64 = 33.0;
/// How far from its place a balloon may stand, nearest first.
const REACH: [f64; 4] = [85.0, 120.0, 165.0, 225.0];
/// In how many directions it is tried.
const DIRECTIONS: u32 = 16;

/// A spot of the drawing, in its units.
#[derive(Clone, Copy)]
struct Spot {
    x: f64,
    y: f64,
}

/// The drawing to lay over a picture of this size. Places are shares of width and height, from the top left; they are kept
/// on the picture. The drawing says nothing to a reader of the page's text: the words stand in a list beside it.
pub fn callouts(width: u32, height: u32, shares: &[Point]) -> String {
    let tall = WIDTH * f64::from(height.max(1)) / f64::from(width.max(1));
    let places: Vec<Spot> = shares.iter().map(|share| Spot { x: share.x * WIDTH, y: share.y * tall }).collect();
    let balloons = balloons(&places, tall);
    let mut body = String::new();
    // The leaders come first, so that no line crosses a number.
    for (place, balloon) in places.iter().zip(&balloons) {
        let away = distance(place, balloon).max(1.0);
        let edge = Spot { x: balloon.x + (place.x - balloon.x) * RADIUS / away, y: balloon.y + (place.y - balloon.y) * RADIUS / away };
        let line = format!("M{} {} {} {}", n(edge.x), n(edge.y), n(place.x), n(place.y));
        // White under black can be seen on any picture.
        let _ = write!(
            body,
            "<path d=\"{line}\" stroke=\"#fff\" stroke-width=\"10\"/><path d=\"{line}\" stroke=\"#000\" stroke-width=\"4\"/>\
             <circle cx=\"{0}\" cy=\"{1}\" r=\"9\" fill=\"#000\" stroke=\"#fff\" stroke-width=\"3\"/>",
            n(place.x),
            n(place.y),
        );
    }
    for (at, balloon) in balloons.iter().enumerate() {
        let _ = write!(
            body,
            "<circle cx=\"{0}\" cy=\"{1}\" r=\"{2}\" fill=\"#fff\" stroke=\"#000\" stroke-width=\"5\"/><text x=\"{0}\" y=\"{3}\">{4}</text>",
            n(balloon.x),
            n(balloon.y),
            n(RADIUS),
            n(balloon.y + 14.5),
            at + 1,
        );
    }
    format!(
        "<svg class=\"pins\" viewBox=\"0 0 {} {}\" aria-hidden=\"true\" focusable=\"false\" font-family=\"sans-serif\" font-weight=\"700\" \
         font-size=\"41\" text-anchor=\"middle\">{body}</svg>",
        n(WIDTH),
        n(tall),
    )
}

fn distance(a: &Spot, b: &Spot) -> f64 {
    (a.x - b.x).hypot(a.y - b.y)
}

/// The middle of each balloon, found one after the other: of all seats tried, the one that costs least.
fn balloons(places: &[Spot], tall: f64) -> Vec<Spot> {
    let mut found: Vec<Spot> = Vec::with_capacity(places.len());
    // Away from the middle of all places there is most room.
    let count = places.len().max(1) as f64;
    let middle = Spot { x: places.iter().map(|at| at.x).sum::<f64>() / count, y: places.iter().map(|at| at.y).sum::<f64>() / count };
    for place in places {
        let seats = REACH.iter().flat_map(|reach| (0..DIRECTIONS).map(move |direction| (reach, direction)));
        let seats = seats.map(|(reach, direction)| {
            let angle = f64::from(direction) * std::f64::consts::TAU / f64::from(DIRECTIONS);
            Spot { x: place.x + reach * angle.cos(), y: place.y + reach * angle.sin() }
        });
        let cost = |seat: &Spot| {
            let edge = RADIUS + 4.0;
            let over = (edge - seat.x).max(seat.x - (WIDTH - edge)).max(edge - seat.y).max(seat.y - (tall - edge)).max(0.0);
            let clear = |other: &Spot, wanted: f64| (wanted - distance(seat, other)).max(0.0);
            let balloons: f64 = found.iter().map(|other| clear(other, 2.0 * RADIUS + 8.0)).sum();
            let hidden: f64 = places.iter().map(|other| clear(other, RADIUS + 14.0)).sum();
            let towards = distance(seat, &middle) - distance(place, &middle);
            1000.0 * over + 100.0 * balloons + 60.0 * hidden + distance(seat, place) - 0.5 * towards
        };
        let best = seats.map(|seat| (cost(&seat), seat)).min_by(|(a, _), (b, _)| a.total_cmp(b));
        found.extend(best.map(|(_, seat)| seat));
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;

    fn on(tall: f64, places: &[(f64, f64)]) -> Vec<Spot> {
        balloons(&places.iter().map(|(x, y)| Spot { x: x * WIDTH, y: y * tall }).collect::<Vec<_>>(), tall)
    }

    #[test]
    fn balloons_stay_on_the_picture_apart_and_off_the_places() {
        let crowded: Vec<(f64, f64)> = (0..9).map(|at| (0.4 + 0.06 * f64::from(at % 3), 0.4 + 0.06 * f64::from(at / 3))).collect();
        let corners = vec![(0.0, 0.0), (1.0, 0.0), (0.0, 1.0), (1.0, 1.0)];
        for (places, tall) in [(crowded, 667.0), (corners.clone(), 667.0), (corners, 400.0), (vec![(0.5, 0.5), (0.5, 0.52)], 1500.0)] {
            let found = on(tall, &places);
            assert_eq!(found.len(), places.len());
            for (at, balloon) in found.iter().enumerate() {
                assert!(balloon.x >= RADIUS && balloon.x <= WIDTH - RADIUS && balloon.y >= RADIUS && balloon.y <= tall - RADIUS);
                for other in &found[..at] {
                    assert!(distance(balloon, other) >= 2.0 * RADIUS, "{places:?}: balloon {at} overlaps another");
                }
                for (x, y) in &places {
                    assert!(distance(balloon, &Spot { x: x * WIDTH, y: y * tall }) > RADIUS, "{places:?}: balloon {at} hides a place");
                }
            }
        }
    }

    #[test]
    fn the_drawing_is_plain_and_fits_the_picture() {
        let svg = callouts(1600, 1067, &[Point::new(0.5, 0.5), Point::new(7.0, -3.0)]);
        let read = roxmltree::Document::parse(&svg).unwrap();
        assert_eq!(read.root_element().attribute("viewBox"), Some("0 0 1000 666.9"));
        let numbers: Vec<&str> = read.descendants().filter(|node| node.has_tag_name("text")).filter_map(|node| node.text()).collect();
        assert_eq!(numbers, ["1", "2"]);
        assert!(!svg.contains("style=") && !svg.contains("<script") && !svg.contains("NaN"));
    }
}
