//! The window outside which a torque is hard to believe, from thread, class and state of the thread, with the sum shown.
//! Whether a guide's torque is reported, and how heavily, is left to the review.
//!
//! This judges a stated torque and never proposes one: published tables for one bolt differ by half, so the value to use is the
//! maker's. Two sums are made. The plain one, torque = K · d · preload with the nut factor K, tells what friction usually makes of a
//! torque. The other, after VDI 2230, adds tension and torsion of the shank at the highest friction that is met; beyond it the shank
//! yields whatever the friction. Nuts are judged by the bolt class that they go with, thin ones by themselves. The thread that a bolt goes
//! into is not judged here: it may give way long before, and `engagement` asks for what is known of it.

use super::class::Standard;
pub use super::friction::{Condition, Friction, friction_of};
use super::{Class, Kind, Thread};
use crate::quantity::{Exact, Quantity};

/// What a torque is judged by.
#[derive(Clone, Copy, Debug)]
pub struct Case<'t> {
    /// The thread.
    pub thread: &'t Thread,
    /// Strength class, where one is stated.
    pub class: Option<&'static Class>,
    /// The state of the thread.
    pub condition: Condition,
    /// What sort of fastener it is.
    pub kind: Kind,
    /// What the thread goes into.
    pub into: Into,
}

/// What the thread goes into.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Into {
    /// Nothing is said: a steel nut or hole, as far as is known.
    #[default]
    NotStated,
    /// Aluminium: it holds a bolt with two diameters of thread, and less with fewer.
    Aluminium,
    /// Plastic.
    Plastic,
    /// A cage or weld nut of unknown class.
    CaptiveNut,
    /// A rivet nut.
    RivetNut,
    /// A threaded insert.
    Insert,
}

impl Into {
    /// What this word of a guide means: "steel", "aluminium", "plastic", "captive-nut", "rivet-nut", "insert".
    pub fn named(word: &str) -> Self {
        match word {
            "aluminium" => Self::Aluminium,
            "plastic" => Self::Plastic,
            "captive-nut" => Self::CaptiveNut,
            "rivet-nut" => Self::RivetNut,
            "insert" => Self::Insert,
            _ => Self::NotStated,
        }
    }

    /// Whether a low torque may be by design, because it may be weaker than a steel nut.
    pub fn may_be_weaker(self) -> bool {
        self != Self::NotStated
    }

    /// The thread in words, for a sentence: "a thread in plastic".
    pub fn words(self) -> &'static str {
        match self {
            Self::NotStated => "a steel thread",
            Self::Aluminium => "a thread in aluminium",
            Self::Plastic => "a thread in plastic",
            Self::CaptiveNut => "a captive nut",
            Self::RivetNut => "a rivet nut",
            Self::Insert => "a threaded insert",
        }
    }
}

/// A sum with everything that went into it, for a page or a report to show.
#[derive(Clone, Debug, PartialEq)]
pub struct Sum {
    /// The torque it comes to, in newton-metres.
    pub torque: f64,
    /// What that torque is: "reaches the load it carries without lasting stretch".
    pub meaning: &'static str,
    /// The formula in words and signs.
    pub formula: &'static str,
    /// What was put in: name and printed value.
    pub inputs: Vec<(&'static str, String)>,
    /// Where formula and figures come from.
    pub source: String,
    subject: String,
    into: Into,
    // The working in as many words as a sentence bears.
    working: String,
}

impl Sum {
    /// The sum in one sentence of a fitter's words, without a full stop.
    pub fn sentence(&self) -> String {
        let (torque, working) = (about(self.torque), &self.working);
        let weaker =
            if self.into.may_be_weaker() { format!(", and what {} bears is not judged", self.into.words()) } else { String::new() };
        format!("{} {} at {torque} ({working}); the value to use is the maker's{weaker}", self.subject, self.meaning)
    }
}

/// The window of a fastener. Torques in it are not called right: they are only not doubted.
#[derive(Clone, Debug, PartialEq)]
pub struct Window {
    /// Below this hardly any preload is left; none where a low torque may be by design.
    pub hardly_clamps: Option<Sum>,
    /// Above this the preload is beyond the proof load at usual friction.
    pub beyond_proof: Sum,
    /// Above this the shank yields even at the highest friction that is met.
    pub over_proof: Sum,
}

/// Why a torque is doubted.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Why {
    /// Certainly more than the fastener carries, at any friction that is met.
    OverProof,
    /// More than the fastener carries, at usual friction.
    High,
    /// So little that it hardly clamps.
    Low,
}

/// A doubt about a torque.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Doubt<'w> {
    /// Why.
    pub why: Why,
    /// The sum behind it.
    pub sum: &'w Sum,
}

impl Window {
    /// The doubt about a stated torque; none inside the window. The highest value it allows is held against the upper ends and the lowest
    /// against the lower one. Of a torque with an angle the lower end is not asked: the angle makes the preload.
    pub fn doubt(&self, torque: &Quantity) -> Option<Doubt<'_>> {
        let (low, high) = torque.base_bounds();
        let (low, high) = (low.or(high).map(Exact::estimate)?, high.or(low).map(Exact::estimate)?);
        if high > self.over_proof.torque {
            return Some(Doubt { why: Why::OverProof, sum: &self.over_proof });
        }
        if high > self.beyond_proof.torque {
            return Some(Doubt { why: Why::High, sum: &self.beyond_proof });
        }
        let hardly = self.hardly_clamps.as_ref().filter(|_| torque.angle.is_none())?;
        (low < hardly.torque).then_some(Doubt { why: Why::Low, sum: hardly })
    }
}

/// The share of the proof load below which a joint hardly clamps.
const HARDLY: f64 = 0.10;

/// The mean bearing diameter of a flange head as a multiple of the thread: the widest usual head, so that nothing is called certain
/// that a wide head explains.
const FLANGE: f64 = 1.55;

const PROOF: &str = "reaches the load it carries without lasting stretch";
const YIELDS: &str = "is stretched and twisted beyond its yield even with the highest friction that is met";
const NUT_PROOF: &str = "reaches the load that its thread carries";
const NUT_STRIPS: &str = "is loaded beyond what its thread carries even with the highest friction that is met";
const SLACK: &str = "has a tenth of that load left if friction is high";

/// The window of a fastener; none for band clamps and fittings, whose torque stretches no bolt.
///
/// Without a class the window is as wide as the classes in use: the lower end by the weakest, the upper ends by the strongest.
pub fn window(case: &Case<'_>) -> Option<Window> {
    if matches!(case.kind, Kind::Clamp | Kind::Fitting) {
        return None;
    }
    let thread = case.thread;
    let diameter = thread.nominal_mm();
    let stainless = case.class.is_some_and(|class| class.standard == Standard::Iso3506);
    let friction = friction_of(case.condition, stainless);
    let (weakest, strongest) = Class::unknown(thread);
    let strong = case.class.map_or(strongest, Class::bolt);
    // A nut says which bolt it can take, not which one it sits on.
    let weak = if stainless || case.kind != Kind::Nut { case.class.map_or(weakest, |class| class.bolt().weakest()) } else { weakest };
    let thin = case.class.is_some_and(Class::is_thin_nut);
    let subject = |class: &Class| match (case.class, case.kind) {
        (Some(stated), Kind::Nut) if stated.name != class.name => {
            format!("a bolt {thread} of {}, as belongs to a nut of {},", called(class), called(stated))
        }
        (Some(_), _) => format!("{thread} of {}", called(class)),
        (None, _) => format!("{thread} of unknown class, taken as {},", called(class)),
    };
    let by_factor = |class: &'static Class, factor: f64, share: f64, meaning| {
        let preload = class.proof_load(thread) * share;
        let load = if share < 1.0 { "a tenth of the proof load" } else { "proof load" };
        let (diameter_mm, kilonewtons) = (format!("{} mm", hundredths(diameter)), format!("{} kN", two_digits(preload / 1000.0)));
        let state = case.condition.words();
        Sum {
            torque: nut_factor_torque(factor, diameter, preload),
            meaning,
            formula: "torque = nut factor × diameter × preload",
            working: format!("{factor:.2} × {diameter_mm} × {kilonewtons}, with a nut factor of {factor:.2} for {state}"),
            inputs: vec![("nut factor", format!("{factor:.2} for {state}")), ("diameter", diameter_mm), (load, kilonewtons)],
            source: format!("nut factor {}; proof load by {}", friction.source, class.source),
            subject: subject(class),
            into: case.into,
        }
    };
    let yields = strong.strength(diameter).yields;
    let preload = preload_at_yield(thread, yields, friction.coefficient);
    let over_proof = Sum {
        torque: friction_torque(thread, preload, friction.coefficient, friction.coefficient, FLANGE * diameter),
        meaning: if thin { NUT_STRIPS } else { YIELDS },
        formula: "torque = preload × (0.16 × pitch + 0.58 × pitch diameter × friction + half the bearing diameter × friction)",
        working: format!(
            "after VDI 2230, with a preload of {} kN at yield, a friction of {:.2} for {} and a flange head",
            two_digits(preload / 1000.0),
            friction.coefficient,
            case.condition.words()
        ),
        inputs: vec![
            ("preload at yield", format!("{} kN", two_digits(preload / 1000.0))),
            ("pitch", format!("{} mm", hundredths(thread.pitch_mm()))),
            ("friction", format!("{:.2} for {}", friction.coefficient, case.condition.words())),
            ("pitch diameter", format!("{} mm", hundredths(thread.pitch_diameter_mm()))),
            ("bearing diameter", format!("{} mm of a flange head", hundredths(FLANGE * diameter))),
        ],
        source: format!("VDI 2230, tension with torsion at yield; yield by {}; friction {}", strong.source, friction.source),
        subject: subject(strong),
        into: case.into,
    };
    let hardly_clamps = (!case.into.may_be_weaker()).then(|| by_factor(weak, friction.high, HARDLY, SLACK));
    Some(Window { hardly_clamps, beyond_proof: by_factor(strong, friction.usual, 1.0, if thin { NUT_PROOF } else { PROOF }), over_proof })
}

/// Torque in newton-metres by the plain formula T = K·d·F (Shigley equation 8-27): diameter in millimetres, preload in newtons.
pub fn nut_factor_torque(factor: f64, diameter_mm: f64, preload_n: f64) -> f64 {
    factor * diameter_mm * preload_n / 1000.0
}

/// Torque in newton-metres by VDI 2230: F·(0.16·P + 0.58·d2·µ of the thread + half the mean bearing diameter·µ of the head).
pub fn friction_torque(thread: &Thread, preload_n: f64, in_thread: f64, under_head: f64, bearing_mm: f64) -> f64 {
    let arm = 0.16 * thread.pitch_mm() + 0.58 * thread.pitch_diameter_mm() * in_thread + bearing_mm / 2.0 * under_head;
    preload_n * arm / 1000.0
}

/// The preload in newtons at which tension and torsion of tightening together reach a stress in MPa (VDI 2230).
pub fn preload_at_yield(thread: &Thread, stress_mpa: f64, in_thread: f64) -> f64 {
    let pitch_diameter = thread.pitch_diameter_mm();
    let lead = thread.pitch_mm() / (std::f64::consts::PI * pitch_diameter);
    let twist = 1.5 * pitch_diameter / thread.stress_diameter_mm() * (lead + 1.155 * in_thread);
    thread.stress_area_mm2() * stress_mpa / (1.0 + 3.0 * twist * twist).sqrt()
}

/// An estimated torque as a message prints it: "about 34 N·m (25 lb·ft)".
pub fn about(newton_metres: f64) -> String {
    const POUND_FOOT: f64 = 1.3558179483;
    let pound_feet = newton_metres / POUND_FOOT;
    // Small fasteners are tightened with a wrench marked in lb·in.
    let (imperial, unit) = if newton_metres < 15.0 { (pound_feet * 12.0, "lb·in") } else { (pound_feet, "lb·ft") };
    format!("about {} N·m ({} {unit})", two_digits(newton_metres), two_digits(imperial))
}

fn called(class: &Class) -> String {
    if class.name.starts_with("grade") { class.name.to_owned() } else { format!("class {}", class.name) }
}

/// Rounded to two digits that count: more would claim what no estimate knows.
fn two_digits(value: f64) -> String {
    if value <= 0.0 || !value.is_finite() {
        return "0".to_owned();
    }
    // Rounding can carry into another digit, so the place is taken from the rounded value.
    let digits = format!("{value:.1e}");
    let rounded: f64 = digits.parse().unwrap_or(value);
    let place = rounded.log10().floor() as i32;
    let decimals = usize::try_from(1 - place).unwrap_or(0);
    let text = format!("{rounded:.decimals$}");
    if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.').to_owned() } else { text }
}

/// A dimension as a drawing has it: at most two decimals.
fn hundredths(value: f64) -> String {
    let text = format!("{value:.2}");
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::{Dimension, Options, read};

    fn thread(text: &str) -> Thread {
        Thread::read(text).expect("a thread").value
    }

    const CONDITIONS: [Condition; 6] =
        [Condition::NotStated, Condition::Dry, Condition::Oiled, Condition::ThreadLocker, Condition::AntiSeize, Condition::AsSupplied];

    #[test]
    fn every_window_stands_in_order() {
        let mut tried = 0;
        for thread in Thread::standard() {
            for class in Class::all().iter().map(Some).chain([None]) {
                let kind = if class.is_some_and(|class| class.standard == Standard::Iso898Nut) { Kind::Nut } else { Kind::Bolt };
                for condition in CONDITIONS {
                    let case = Case { thread: &thread, class, condition, kind, into: Into::NotStated };
                    let window = window(&case).expect("no clamp");
                    let low = window.hardly_clamps.as_ref().expect("into steel").torque;
                    let (proof, over) = (window.beyond_proof.torque, window.over_proof.torque);
                    assert!(0.0 < low && low * 3.0 < proof && proof < over, "{case:?}: {low} {proof} {over}");
                    tried += 1;
                }
            }
        }
        assert!(tried > 10_000);
    }

    /// What an author states about a thread may sharpen the upper ends and never loosens them.
    #[test]
    fn no_stated_condition_loosens_the_doubt() {
        for thread in Thread::standard() {
            for class in Class::all().iter().map(Some).chain([None]) {
                let kind = if class.is_some_and(|class| class.standard == Standard::Iso898Nut) { Kind::Nut } else { Kind::Bolt };
                let ends = |condition| {
                    let window = window(&Case { thread: &thread, class, condition, kind, into: Into::NotStated }).expect("no clamp");
                    (window.beyond_proof.torque, window.over_proof.torque)
                };
                let (proof, over) = ends(Condition::NotStated);
                for condition in CONDITIONS {
                    let stated = ends(condition);
                    assert!(stated.0 <= proof + 1e-9 && stated.1 <= over + 1e-9, "{thread} {class:?} {condition:?}: {stated:?}");
                }
            }
        }
    }

    #[test]
    fn a_weaker_thread_is_said_not_to_be_judged() {
        let thread = thread("M8");
        let class = Class::read("8.8", Kind::Bolt, Some(&thread)).ok();
        let case = Case { thread: &thread, class, condition: Condition::NotStated, kind: Kind::Bolt, into: Into::Plastic };
        let sentence = window(&case).expect("no clamp").beyond_proof.sentence();
        assert!(sentence.ends_with("the value to use is the maker's, and what a thread in plastic bears is not judged"), "{sentence}");
    }

    #[test]
    fn the_sum_is_shown_in_a_fitter_s_words() {
        let thread = thread("M8");
        let class = Class::read("8.8", Kind::Bolt, Some(&thread)).ok();
        let case = Case { thread: &thread, class, condition: Condition::Dry, kind: Kind::Bolt, into: Into::NotStated };
        let window = window(&case).expect("no clamp");
        assert_eq!(
            window.beyond_proof.sentence(),
            "M8x1.25 of class 8.8 reaches the load it carries without lasting stretch at about 34 N·m (25 lb·ft) (0.20 × 8 mm × 21 kN, \
             with a nut factor of 0.20 for a dry thread); the value to use is the maker's"
        );
        assert!(
            window.over_proof.sentence().contains("even with the highest friction that is met at about 54 N·m (40 lb·ft)"),
            "{}",
            window.over_proof.sentence()
        );
        let low = window.hardly_clamps.expect("into steel").sentence();
        assert!(
            low.starts_with("M8x1.25 of class 8.8 has a tenth of that load left if friction is high at about 6.8 N·m (60 lb·in)"),
            "{low}"
        );
    }

    #[test]
    fn a_torque_is_judged_by_the_ends_it_allows() {
        let thread = thread("M8");
        let class = Class::read("8.8", Kind::Bolt, Some(&thread)).ok();
        let case = Case { thread: &thread, class, condition: Condition::NotStated, kind: Kind::Bolt, into: Into::NotStated };
        let why = |case: &Case<'_>, text: &str| {
            let torque = read(text, Dimension::Torque, &Options::default()).quantity.expect("a torque");
            window(case).and_then(|window| window.doubt(&torque).map(|doubt| doubt.why))
        };
        for (text, expected) in [
            ("25 N·m", None),
            ("18 lb·ft", None),
            ("30..40 N·m", Some(Why::High)),
            ("40 N·m", Some(Why::High)),
            ("90 N·m", Some(Why::OverProof)),
            ("2 N·m", Some(Why::Low)),
            ("2 N·m + 90°", None),
            ("max 2 N·m", Some(Why::Low)),
        ] {
            assert_eq!(why(&case, text), expected, "{text}");
        }
        for into in [Into::Aluminium, Into::Plastic, Into::CaptiveNut, Into::RivetNut, Into::Insert] {
            assert_eq!(why(&Case { into, ..case }, "2 N·m"), None);
            assert_eq!(why(&Case { into, ..case }, "90 N·m"), Some(Why::OverProof));
        }
        assert_eq!(why(&Case { kind: Kind::Clamp, ..case }, "2 N·m"), None);
        assert_eq!(why(&Case { kind: Kind::Fitting, ..case }, "2 N·m"), None);
        // Without a class the window reaches from the weakest to the strongest class.
        assert_eq!(why(&Case { class: None, ..case }, "40 N·m"), None);
        assert_eq!(why(&Case { class: None, ..case }, "200 N·m"), Some(Why::OverProof));
    }

    #[test]
    fn estimates_are_printed_to_two_digits() {
        for (value, printed) in [(33.97, "34"), (117.3, "120"), (9.96, "10"), (0.812, "0.81"), (3.04, "3"), (1234.0, "1200"), (99.6, "100")]
        {
            assert_eq!(two_digits(value), printed);
        }
        assert_eq!(about(8.0), "about 8 N·m (71 lb·in)");
    }
}
