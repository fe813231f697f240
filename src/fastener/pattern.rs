//! The order in which the bolts of a circle, a cover or a head are tightened.
//! How many passes are made is left to `stage`; drawing the order is left to the pages.
//!
//! Positions are numbered clockwise from the top of a circle, and row by row from the top left of a rectangle. An [`Order`] lists
//! those position numbers in the order of tightening. Some sheets print the other way round, the order number at each position: that
//! is the inverse permutation, [`Order::numbers`].

use super::Objection;

/// The largest circle with a known order.
pub const LARGEST_CIRCLE: usize = 24;
/// The largest rectangle that is ordered.
pub const LARGEST_RECTANGLE: usize = 100;

/// A tightening order with the places of its positions.
#[derive(Clone, Debug, PartialEq)]
pub struct Order {
    positions: Vec<usize>,
    places: Vec<(f64, f64)>,
}

impl std::hash::Hash for Order {
    fn hash<H: std::hash::Hasher>(&self, state: &mut H) {
        self.positions.hash(state);
        self.places.iter().for_each(|(x, y)| (x.to_bits(), y.to_bits()).hash(state));
    }
}

impl Order {
    /// A circle of 4 to 24 bolts: opposite pairs, each next pair as square to the last as can be (common practice; ASME PCC-1 and makers'
    /// figures print the same rows). Odd counts go round as a star, each step nearly across.
    pub fn circle(count: usize) -> Result<Self, Objection> {
        if count < 4 {
            return Err(Objection::new(
                format!(
                    "{} on a circle {} no crosswise order",
                    if count == 1 { "1 bolt".to_owned() } else { format!("{count} bolts") },
                    if count == 1 { "needs" } else { "need" }
                ),
                "tighten them in turn, in more than one pass",
            ));
        }
        if count > LARGEST_CIRCLE {
            return Err(Objection::new(
                format!("no crosswise order is kept for {count} bolts on a circle, only for 4 to {LARGEST_CIRCLE}"),
                "write the order of the maker's sheet as a list of positions",
            ));
        }
        Ok(Self { positions: star(count), places: circle_places(count) })
    }

    /// A rectangle or cylinder head: from the middle outward, each bolt followed by the one point-opposite to it (workshop practice).
    pub fn rectangle(columns: usize, rows: usize) -> Result<Self, Objection> {
        let count = columns.saturating_mul(rows);
        if !(4..=LARGEST_RECTANGLE).contains(&count) {
            return Err(Objection::new(
                format!("no order from the middle outward is kept for {columns} by {rows} bolts, only for 4 to {LARGEST_RECTANGLE}"),
                "write the order of the maker's sheet as a list of positions",
            ));
        }
        let mut inward: Vec<usize> = (1..=count).collect();
        inward.sort_by(|a, b| off_centre(*a, columns, rows).total_cmp(&off_centre(*b, columns, rows)).then(a.cmp(b)));
        let mut positions = Vec::with_capacity(count);
        for position in inward {
            // Half a turn about the middle takes position p to the one that counts as far from the end.
            for next in [position, count + 1 - position] {
                if !positions.contains(&next) {
                    positions.push(next);
                }
            }
        }
        Ok(Self { positions, places: rectangle_places(columns, rows) })
    }

    /// Up to 100 in the order of their positions, placed side by side.
    pub fn in_order(count: usize) -> Result<Self, Objection> {
        if !(1..=LARGEST_RECTANGLE).contains(&count) {
            return Err(Objection::new(
                format!("{count} fasteners are not put in an order, only 1 to {LARGEST_RECTANGLE}"),
                "say the order in words",
            ));
        }
        Ok(Self { positions: (1..=count).collect(), places: rectangle_places(count, 1) })
    }

    /// Position numbers in the order of tightening.
    pub fn positions(&self) -> &[usize] {
        &self.positions
    }

    /// The order number at each position, from position 1 on: the inverse permutation.
    pub fn numbers(&self) -> Vec<usize> {
        inverse(&self.positions)
    }

    /// The same places taken in an order of one's own; none unless it names each position once.
    pub fn reordered(&self, positions: &[usize]) -> Option<Self> {
        not_a_permutation(positions, self.positions.len())
            .is_empty()
            .then(|| Self { positions: positions.to_vec(), places: self.places.clone() })
    }

    /// Position numbers in the order of loosening: the reverse, so that a head is let go from its ends inward.
    pub fn loosening(&self) -> Vec<usize> {
        self.positions.iter().rev().copied().collect()
    }

    /// Where each position lies in a square of side 1, from position 1 on: x to the right, y downward.
    pub fn places(&self) -> &[(f64, f64)] {
        &self.places
    }
}

/// What is wrong with an author's own order of `count` bolts on a circle; empty if nothing is.
pub fn check_circle(order: &[usize], count: usize) -> Vec<Objection> {
    let wrong = not_a_permutation(order, count);
    if !wrong.is_empty() || count < 4 {
        return wrong;
    }
    let fault = |order: &[usize]| {
        if count.is_multiple_of(2) {
            order.chunks(2).find(|pair| pair[0].abs_diff(pair[1]) != count / 2).map(|pair| (pair[0], pair[1]))
        } else {
            let near = |pair: &&[usize]| matches!(pair[0].abs_diff(pair[1]), 1) || pair[0].abs_diff(pair[1]) == count - 1;
            order.windows(2).find(near).map(|pair| (pair[0], pair[1]))
        }
    };
    let Some((first, second)) = fault(order) else { return Vec::new() };
    let remedy = if fault(&inverse(order)).is_none() {
        "the list looks like the order numbers at the positions; write the positions in the order of tightening".to_owned()
    } else {
        format!("after {first} goes {}, across the circle", (first - 1 + count / 2) % count + 1)
    };
    vec![Objection::new(format!("{first} and {second} follow each other but do not lie opposite on a circle of {count}"), remedy)]
}

/// What is wrong with an author's own order of `columns` by `rows` bolts; empty if nothing is.
pub fn check_rectangle(order: &[usize], columns: usize, rows: usize) -> Vec<Objection> {
    let count = columns.saturating_mul(rows);
    let wrong = not_a_permutation(order, count);
    if !wrong.is_empty() || count < 4 {
        return wrong;
    }
    // In a field of more than two rows a spiral steps in and out a little; along a head it does not.
    let room = if columns.min(rows) <= 2 { 1e-9 } else { 1.0 };
    let fault = |order: &[usize]| {
        let mut farthest = order[0];
        for &position in order {
            let distance = off_centre(position, columns, rows);
            if distance + room < off_centre(farthest, columns, rows) {
                return Some((farthest, position));
            }
            if distance > off_centre(farthest, columns, rows) {
                farthest = position;
            }
        }
        None
    };
    let Some((outer, inner)) = fault(order) else { return Vec::new() };
    let remedy = if fault(&inverse(order)).is_none() {
        "the list looks like the order numbers at the positions; write the positions in the order of tightening"
    } else {
        "go from the middle outward"
    };
    vec![Objection::new(format!("{inner} lies nearer to the middle than {outer} and comes after it"), remedy)]
}

/// Halving splits a circle into opposite pairs whose directions are ordered by the same rule; an odd rest goes round as a star.
fn star(count: usize) -> Vec<usize> {
    if count.is_multiple_of(2) {
        return star(count / 2).into_iter().flat_map(|first| [first, first + count / 2]).collect();
    }
    let step = ((count - 1) / 2).max(1);
    (0..count).map(|turn| turn * step % count + 1).collect()
}

fn inverse(order: &[usize]) -> Vec<usize> {
    let mut numbers = vec![0; order.len()];
    for (index, position) in order.iter().enumerate() {
        numbers[position - 1] = index + 1;
    }
    numbers
}

fn not_a_permutation(order: &[usize], count: usize) -> Vec<Objection> {
    let remedy = format!("name each of the positions 1 to {count} once");
    let mut wrong = Vec::new();
    for (index, position) in order.iter().enumerate() {
        if !(1..=count).contains(position) {
            wrong.push(Objection::new(format!("there is no position {position} among {count}"), remedy.clone()));
        } else if order[..index].contains(position) {
            wrong.push(Objection::new(format!("position {position} stands twice in the order"), remedy.clone()));
        }
    }
    let missing: Vec<String> =
        (1..=count.min(LARGEST_RECTANGLE)).filter(|position| !order.contains(position)).map(|position| position.to_string()).collect();
    if !missing.is_empty() {
        let are = if missing.len() == 1 { "position {} is" } else { "positions {} are" }.replace("{}", &missing.join(", "));
        wrong.push(Objection::new(format!("{are} missing from the order"), remedy));
    }
    wrong
}

/// The distance of a position from the middle, in steps of the grid.
fn off_centre(position: usize, columns: usize, rows: usize) -> f64 {
    let index = position - 1;
    let from = |at: usize, count: usize| at as f64 - (count - 1) as f64 / 2.0;
    from(index % columns, columns).hypot(from(index / columns, rows))
}

fn circle_places(count: usize) -> Vec<(f64, f64)> {
    let turn = |index: usize| index as f64 / count as f64 * std::f64::consts::TAU;
    (0..count).map(|index| (0.5 + turn(index).sin() / 2.0, 0.5 - turn(index).cos() / 2.0)).collect()
}

fn rectangle_places(columns: usize, rows: usize) -> Vec<(f64, f64)> {
    let along = |at: usize, count: usize| if count > 1 { at as f64 / (count - 1) as f64 } else { 0.5 };
    (0..columns.saturating_mul(rows)).map(|index| (along(index % columns, columns), along(index / columns, rows))).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_head_goes_from_the_middle_outward_and_comes_off_the_other_way() {
        let head = Order::rectangle(5, 2).expect("ten bolts");
        assert_eq!(head.positions(), [3, 8, 2, 9, 4, 7, 1, 10, 5, 6]);
        assert_eq!(head.loosening(), [6, 5, 10, 1, 7, 4, 9, 2, 8, 3]);
        for (columns, rows) in [(2, 2), (4, 2), (2, 5), (5, 2), (7, 2), (4, 3), (5, 5), (9, 4)] {
            let order = Order::rectangle(columns, rows).expect("it is in the range");
            assert_eq!(check_rectangle(order.positions(), columns, rows), [], "{columns} by {rows}");
            assert_eq!(order.places().len(), columns * rows);
        }
        let objections = check_rectangle(&[1, 2, 3, 4, 5, 6, 7, 8, 9, 10], 5, 2);
        assert_eq!(objections[0].message, "2 lies nearer to the middle than 1 and comes after it");
    }

    #[test]
    fn too_few_and_too_many_are_refused() {
        for count in [0, 3, 25, 1000] {
            assert!(Order::circle(count).is_err(), "{count}");
        }
        for (columns, rows) in [(0, 2), (3, 1), (60, 2), (usize::MAX, 2)] {
            assert!(Order::rectangle(columns, rows).is_err(), "{columns} by {rows}");
        }
    }

    #[test]
    fn an_own_order_is_checked() {
        let messages = |order: &[usize], count| check_circle(order, count).into_iter().map(|o| o.message).collect::<Vec<_>>();
        assert_eq!(messages(&[1, 4, 2, 5, 3, 6], 6), [""; 0]);
        assert_eq!(messages(&[1, 4, 6, 3, 5, 2], 6), [""; 0]);
        assert_eq!(messages(&[1, 2, 3, 4], 4), ["1 and 2 follow each other but do not lie opposite on a circle of 4"]);
        assert_eq!(
            messages(&[1, 3, 3, 5], 4),
            ["position 3 stands twice in the order", "there is no position 5 among 4", "positions 2, 4 are missing from the order"]
        );
        assert_eq!(messages(&[1, 2, 3, 4, 5], 5), ["1 and 2 follow each other but do not lie opposite on a circle of 5"]);
        let numbers = Order::circle(12).expect("twelve").numbers();
        assert!(check_circle(&numbers, 12)[0].remedy.starts_with("the list looks like the order numbers"));
    }

    /// The rows that common practice prints, held so that a change of the rule shows; `outside::fastener` has the looked-up ones.
    #[test]
    fn circles_have_their_usual_rows() {
        for row in [
            "1-3-2-4",
            "1-3-5-2-4",
            "1-4-2-5-3-6",
            "1-5-3-7-2-6-4-8",
            "1-6-3-8-5-10-2-7-4-9",
            "1-7-4-10-2-8-5-11-3-9-6-12",
            "1-9-5-13-3-11-7-15-2-10-6-14-4-12-8-16",
            "1-11-6-16-3-13-8-18-5-15-10-20-2-12-7-17-4-14-9-19",
            "1-13-7-19-4-16-10-22-2-14-8-20-5-17-11-23-3-15-9-21-6-18-12-24",
        ] {
            let order: Vec<usize> = row.split('-').map(|position| position.parse().expect("a number")).collect();
            assert_eq!(Order::circle(order.len()).expect("a circle").positions(), order, "{row}");
        }
    }

    #[test]
    fn a_circle_starts_at_the_top_and_goes_clockwise() {
        let order = Order::circle(4).expect("four");
        let expected = [(0.5, 0.0), (1.0, 0.5), (0.5, 1.0), (0.0, 0.5)];
        for (place, expected) in order.places().iter().zip(expected) {
            assert!((place.0 - expected.0).abs() < 1e-9 && (place.1 - expected.1).abs() < 1e-9, "{place:?}");
        }
    }
}
