//! The voltage that a wire takes on its way out and back, with the sum shown.
//! How much is too much is the caller's limit.

use super::{Section, copper_resistivity, figures, plain};
use crate::quantity::Exact;

/// A wire with its load.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Run {
    /// Length one way, in metres.
    pub length: Exact,
    /// Current, in amperes.
    pub current: Exact,
    /// Section of the conductor, out and back alike.
    pub section: Section,
    /// Temperature of the conductor, in °C.
    pub celsius: Exact,
    /// Voltage of the system, in volts.
    pub system: Exact,
}

/// One figure of the sum: what it is, its value, its unit.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Term {
    /// What it is: "length one way".
    pub name: &'static str,
    /// Its value.
    pub value: Exact,
    /// Its unit, as printed after the value.
    pub unit: &'static str,
}

/// A voltage drop and how it came about.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct VoltageDrop {
    /// The wire and its load.
    pub run: Run,
    /// The resistivity it was computed with, in Ω·mm²/m.
    pub resistivity: Exact,
    /// The drop out and back, in volts.
    pub volts: Exact,
    /// The drop as a share of the voltage of the system: 0.03 for 3 %.
    pub share: Exact,
}

/// The drop of a copper wire out and back: V = 2 · L · I · ρ / A. A return through the body is shorter, so this is at most that.
///
/// `None` where length or current is below nought, the voltage is not above it, the temperature has no value of copper, or the result
/// would not fit.
pub fn voltage_drop(run: Run) -> Option<VoltageDrop> {
    if run.length.is_negative() || run.current.is_negative() || run.system <= Exact::ZERO {
        return None;
    }
    let resistivity = copper_resistivity(run.celsius)?;
    let both_ways = run.length.times(Exact::whole(2))?;
    let volts = both_ways.times(run.current)?.times(resistivity)?.over(run.section.area())?;
    let share = volts.over(run.system)?;
    Some(VoltageDrop { run, resistivity, volts, share })
}

impl VoltageDrop {
    /// The figures of the sum, in its order.
    pub fn terms(&self) -> Vec<Term> {
        let term = |name, value, unit| Term { name, value, unit };
        vec![
            term("length one way", self.run.length, "m"),
            term("current", self.run.current, "A"),
            term("resistivity of copper", self.resistivity, "Ω·mm²/m"),
            term("section", self.run.section.area(), "mm²"),
            term("drop", self.volts, "V"),
        ]
    }

    /// The sum as written on paper: "2 × 5 m × 10 A × 0.01724 Ω·mm²/m ÷ 2.5 mm² = 0.690 V".
    pub fn sum(&self) -> String {
        format!(
            "2 × {} m × {} A × {} Ω·mm²/m ÷ {} mm² = {} V",
            plain(self.run.length),
            plain(self.run.current),
            figures(self.resistivity, 4),
            plain(self.run.section.area()),
            figures(self.volts, 3),
        )
    }

    /// The drop as a share in per cent, with three figures: "5.75 %".
    pub fn per_cent(&self) -> String {
        let hundredfold = self.share.times(Exact::whole(100));
        hundredfold.map_or_else(|| self.share.to_string(), |share| format!("{} %", figures(share, 3)))
    }

    /// The result in one sentence, without a full stop.
    pub fn sentence(&self) -> String {
        format!(
            "{} A through {} m of {} copper wire and back at {} °C take {} V, which is {} of {} V",
            plain(self.run.current),
            plain(self.run.length),
            self.run.section,
            plain(self.run.celsius),
            figures(self.volts, 3),
            self.per_cent(),
            plain(self.run.system),
        )
    }

    /// Whether the drop is above a share of the voltage of the system, such as 0.03 for 3 %.
    pub fn is_above(&self, share: Exact) -> bool {
        self.share > share
    }
}

#[cfg(test)]
mod tests {
    use super::super::read_section;
    use super::*;
    use crate::quantity::Options;

    fn run(length: i64, current: i64, section: &str) -> Run {
        Run {
            length: Exact::whole(length),
            current: Exact::whole(current),
            section: read_section(section, &Options::default()).expect("a section"),
            celsius: Exact::whole(20),
            system: Exact::whole(12),
        }
    }

    #[test]
    fn neither_length_nor_current_nor_voltage_is_below_nought() {
        assert!(voltage_drop(run(5, 10, "2.5 mm²")).is_some());
        assert_eq!(voltage_drop(run(-5, 10, "2.5 mm²")), None);
        assert_eq!(voltage_drop(run(5, -10, "2.5 mm²")), None);
        for system in [0, -12] {
            assert_eq!(voltage_drop(Run { system: Exact::whole(system), ..run(5, 10, "2.5 mm²") }), None, "{system} V");
        }
    }

    #[test]
    fn the_sum_is_shown() {
        let drop = voltage_drop(run(5, 10, "2.5 mm²")).expect("a drop");
        assert_eq!(drop.sum(), "2 × 5 m × 10 A × 0.01724 Ω·mm²/m ÷ 2.5 mm² = 0.690 V");
        assert_eq!(drop.sentence(), "10 A through 5 m of 2.5 mm² copper wire and back at 20 °C take 0.690 V, which is 5.75 % of 12 V");
        let [length, current, resistivity, section, volts] = <[Term; 5]>::try_from(drop.terms()).expect("five terms");
        let product = length.value.times(current.value).and_then(|v| v.times(resistivity.value)).and_then(|v| v.over(section.value));
        assert_eq!(product.and_then(|one_way| one_way.times(Exact::whole(2))), Some(volts.value), "the terms are the sum");
    }

    #[test]
    fn a_limit_itself_is_not_above_it() {
        let drop = voltage_drop(run(29, 3, "1 mm²")).expect("a drop");
        assert_eq!(drop.share, Exact::ratio(1, 4));
        assert!(!drop.is_above(Exact::ratio(1, 4)) && drop.is_above(Exact::ratio(249, 1000)));
    }

    #[test]
    fn what_cannot_be_has_no_drop() {
        assert_eq!(voltage_drop(run(-1, 3, "1 mm²")), None);
        assert_eq!(voltage_drop(Run { system: Exact::ZERO, ..run(1, 3, "1 mm²") }), None);
        assert_eq!(voltage_drop(Run { celsius: Exact::whole(900), ..run(1, 3, "1 mm²") }), None);
        assert_eq!(voltage_drop(run(0, 3, "AWG 14")).map(|drop| drop.volts), Some(Exact::ZERO));
    }
}
