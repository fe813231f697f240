//! Which row of a table a doubted torque looks taken from: the next class, the next size, or the same figure in another unit.
//! It names the slip and never a torque; that a torque is doubted at all is left to `limit`.

use super::class::Standard;
use super::limit::{Case, Why, window};
use super::thread::{Series, Size, Thread};
use super::{Class, one_of};
use crate::quantity::{Dimension, Exact, Quantity, unit};

/// The part of the torque at proof that usual torques lie in, from the lowest published table to the highest (22 to 82 % of the torque at
/// proof are met; below a third a figure fits nearly every row, and says nothing).
const BAND: (f64, f64) = (0.35, 1.0);

const METRIC: &[u32] = &[3, 4, 5, 6, 8, 10, 12, 14, 16, 18, 20, 22, 24];
const INCH: &[u32] = &[16, 20, 24, 28, 32, 36, 40, 48];
const NUMBERS: &[u32] = &[4, 6, 8, 10];
const BOLT: &[&str] = &["4.6", "5.8", "8.8", "10.9", "12.9"];
const NUT: &[&str] = &["5", "6", "8", "10", "12"];
const SAE: &[&str] = &["grade 2", "grade 5", "grade 8"];
const STAINLESS: &[&str] = &["A2-50", "A2-70", "A2-80"];
const UNITS: &[&str] = &["lb·in", "lb·ft", "N·m", "kgf·m", "N·cm"];

/// What a doubted torque fits instead, as a phrase: "lb·in, class 10.9 or M10x1.5"; none where it fits none of the neighbours.
pub fn fits(case: &Case<'_>, torque: &Quantity, why: Why) -> Option<String> {
    let (low, high) = torque.base_bounds();
    let (low, high) = (low.or(high).map(Exact::estimate)?, high.or(low).map(Exact::estimate)?);
    let up = why != Why::Low;
    let mut names: Vec<String> = Vec::new();
    if let [only] = &torque.statements[..] {
        // Where a second unit agrees, somebody has converted the figure, and it was not typed before the wrong one.
        let in_other = |symbol: &&str| {
            let other = unit(Dimension::Torque, symbol).filter(|other| *other != only.unit)?;
            let factor = other.factor.estimate() / only.unit.factor.estimate();
            holds(case, low * factor, high * factor).then(|| (*symbol).to_owned())
        };
        names.extend(UNITS.iter().find_map(in_other));
    }
    if let Some(class) = case.class.and_then(|class| next_class(class, up))
        && holds(&Case { class: Some(class), ..*case }, low, high)
    {
        names.push(class.titled());
    }
    if let Some(thread) = next_size(case.thread, up)
        && holds(&Case { thread: &thread, ..*case }, low, high)
    {
        names.push(thread.to_string());
    }
    (!names.is_empty()).then(|| one_of(&names))
}

/// Whether both ends of a torque in newton-metres are usual for a fastener.
fn holds(case: &Case<'_>, low: f64, high: f64) -> bool {
    window(case).is_some_and(|window| {
        let proof = window.beyond_proof.torque;
        BAND.0 * proof <= low && high <= BAND.1 * proof
    })
}

fn next_class(class: &'static Class, up: bool) -> Option<&'static Class> {
    let ladder = match class.standard {
        Standard::Iso898Bolt => BOLT,
        Standard::Iso898Nut => NUT,
        Standard::SaeJ429 => SAE,
        Standard::Iso3506 => STAINLESS,
    };
    let at = ladder.iter().position(|name| *name == class.name)?;
    let name = if up { ladder.get(at + 1)? } else { ladder.get(at.checked_sub(1)?)? };
    Class::all().iter().find(|class| class.name == *name)
}

fn next_size(thread: &Thread, up: bool) -> Option<Thread> {
    let next = |ladder: &[u32], size: u32| {
        if up { ladder.iter().copied().find(|other| *other > size) } else { ladder.iter().rev().copied().find(|other| *other < size) }
    };
    let size = match thread.size() {
        Size::Metric(thousandths) => Size::Metric(next(METRIC, thousandths / 1000)? * 1000),
        Size::Inch(size) => match next(INCH, size) {
            Some(size) => Size::Inch(size),
            None => (!up && size == INCH[0]).then_some(Size::Number(10))?,
        },
        Size::Number(size) => match next(NUMBERS, size) {
            Some(size) => Size::Number(size),
            None => (up && size == 10).then_some(Size::Inch(INCH[0]))?,
        },
    };
    let series = if thread.series() == Series::Other { Series::Coarse } else { thread.series() };
    let same = |other: &Thread| other.size() == size && (other.series() == series);
    Thread::standard().find(same).or_else(|| Thread::standard().find(|other| other.size() == size))
}

#[cfg(test)]
mod tests {
    use super::super::limit::{Condition, Into};
    use super::*;
    use crate::fastener::Kind;
    use crate::quantity::{Options, read};

    fn fit(thread: &str, class: &str, kind: Kind, text: &str) -> Option<String> {
        let thread = Thread::read(thread).expect("a thread").value;
        let class = Class::read(class, kind, Some(&thread)).ok();
        let case = Case { thread: &thread, class, condition: Condition::NotStated, kind, into: Into::NotStated };
        let torque = read(text, Dimension::Torque, &Options::default()).quantity.expect("a torque");
        let why = window(&case)?.doubt(&torque)?.why;
        fits(&case, &torque, why)
    }

    #[test]
    fn the_row_that_a_figure_was_taken_from_is_named() {
        for (thread, class, kind, text, expected) in [
            ("M8", "8.8", Kind::Bolt, "45 N·m", Some("class 10.9 or M10x1.5")),
            ("M8", "8.8", Kind::Bolt, "30 lb·ft", Some("N·m, class 10.9 or M10x1.5")),
            ("M8", "8.8", Kind::Bolt, "200 lb·ft", Some("lb·in")),
            // With the second unit beside it, it was converted and not mistyped.
            ("M8", "8.8", Kind::Bolt, "40 N·m (30 lb·ft)", Some("class 10.9 or M10x1.5")),
            ("M8", "8.8", Kind::Bolt, "2 N·m", Some("kgf·m")),
            ("M8", "8.8", Kind::Bolt, "95 N·m", None),
            ("M8x1", "8.8", Kind::Bolt, "45 N·m", Some("class 10.9 or M10x1.25")),
            ("M10", "8", Kind::Nut, "80 N·m", Some("class 10 or M12x1.75")),
            ("3/8-16", "grade 5", Kind::Bolt, "50 lb·ft", Some("N·m, grade 8 or 7/16-14 UNC")),
            ("1/4-20", "grade 5", Kind::Bolt, "100 lb·ft", Some("lb·in")),
            ("M8", "A2-70", Kind::Bolt, "40 N·m", Some("class A2-80 or M10x1.5")),
        ] {
            assert_eq!(fit(thread, class, kind, text).as_deref(), expected, "{thread} {class} {text}");
        }
    }
}
