//! Strength classes and grades: what a bolt or nut of a class carries, read from what is stamped on its head.
//! What torque that means is left to `limit`.

use super::thread::{INCH_MM, Thread};
use super::{Cursor, Kind, Objection, plain, shortened};
use crate::near::nearest;

/// Stresses in MPa that the standard asks of a class, as lowest values.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Strength {
    /// Stress it carries without lasting stretch; for stainless classes the 0.2 % yield, since ISO 3506-1 states no other.
    pub proof: f64,
    /// Yield, or 0.2 % yield. Of a nut: its proof stress, as a nut is not rated by yield.
    pub yields: f64,
    /// Tensile strength. Of a nut: its proof stress.
    pub tensile: f64,
}

/// The standard a class belongs to.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Standard {
    /// Steel bolts, screws and studs: ISO 898-1.
    Iso898Bolt,
    /// Steel nuts: ISO 898-2.
    Iso898Nut,
    /// Inch bolts: SAE J429.
    SaeJ429,
    /// Stainless bolts and nuts: ISO 3506-1 and -2.
    Iso3506,
}

/// A class or grade of the table.
#[derive(Debug, PartialEq)]
pub struct Class {
    /// The one printed name: "8.8", "8", "grade 5", "A2-70".
    pub name: &'static str,
    /// The standard that names it.
    pub standard: Standard,
    /// Each row up to and including a nominal diameter in millimetres, ascending.
    rows: &'static [(f64, Strength)],
    /// Smallest nominal diameter in millimetres that the standard gives it for.
    from: f64,
    /// Where the figures come from.
    pub source: &'static str,
}

const fn mpa(proof: f64, yields: f64, tensile: f64) -> Strength {
    Strength { proof, yields, tensile }
}

const fn nut(stress: f64) -> Strength {
    mpa(stress, stress, stress)
}

/// One ksi in MPa.
const KSI: f64 = 6.894757293;

const fn ksi(proof: f64, yields: f64, tensile: f64) -> Strength {
    mpa(proof * KSI, yields * KSI, tensile * KSI)
}

const fn class(name: &'static str, standard: Standard, from: f64, rows: &'static [(f64, Strength)], source: &'static str) -> Class {
    Class { name, standard, rows, from, source }
}

const BOLT: &str = "ISO 898-1";
// The soft classes are rarely torqued: their yield and tensile strength are those that the class's own figures say.
const BY_NAME: &str = "ISO 898-1; yield and tensile strength nominal, by the name of the class";
const NUT: &str = "ISO 898-2, proof loads divided by the stress area";
const NUT_STRESS: &str = "ISO 898-2, stress under proof load of thin nuts";
const NUT_MEMORY: &str = "ISO 898-2, from memory; held against the ratio of classes in ISO 10684";
const SAE: &str = "SAE J429";
const STAINLESS: &str = "ISO 3506-1";
const STEEL_ONLY: &str = "austenitic steel of unstated strength: from soft (A2-50) to cold worked (A2-70), ISO 3506-1";
const STAINLESS_MEMORY: &str = "ISO 3506-1, from memory";

use Standard::{Iso898Bolt, Iso898Nut, Iso3506, SaeJ429};

#[rustfmt::skip]
static CLASSES: &[Class] = &[
    class("4.6", Iso898Bolt, 1.6, &[(39.0, mpa(225.0, 240.0, 400.0))], BY_NAME),
    class("4.8", Iso898Bolt, 1.6, &[(39.0, mpa(310.0, 320.0, 400.0))], BY_NAME),
    class("5.6", Iso898Bolt, 1.6, &[(39.0, mpa(280.0, 300.0, 500.0))], "ISO 898-1; proof stress from memory"),
    class("5.8", Iso898Bolt, 1.6, &[(39.0, mpa(380.0, 400.0, 500.0))], BY_NAME),
    class("6.8", Iso898Bolt, 1.6, &[(39.0, mpa(440.0, 480.0, 600.0))], BY_NAME),
    class("8.8", Iso898Bolt, 1.6, &[(16.0, mpa(580.0, 640.0, 800.0)), (39.0, mpa(600.0, 660.0, 830.0))], BOLT),
    class("9.8", Iso898Bolt, 1.6, &[(16.0, mpa(650.0, 720.0, 900.0))], BY_NAME),
    class("10.9", Iso898Bolt, 1.6, &[(39.0, mpa(830.0, 940.0, 1040.0))], BOLT),
    class("12.9", Iso898Bolt, 1.6, &[(39.0, mpa(970.0, 1100.0, 1220.0))], BOLT),
    class("04", Iso898Nut, 5.0, &[(39.0, nut(380.0))], NUT_STRESS),
    class("05", Iso898Nut, 5.0, &[(39.0, nut(500.0))], NUT_STRESS),
    class("5", Iso898Nut, 5.0, &[(7.0, nut(580.0)), (10.0, nut(590.0)), (16.0, nut(610.0)), (39.0, nut(630.0))], NUT),
    class("6", Iso898Nut, 5.0, &[(7.0, nut(670.0)), (10.0, nut(680.0)), (16.0, nut(700.0)), (39.0, nut(720.0))], NUT),
    class("8", Iso898Nut, 5.0, &[(7.0, nut(855.0)), (10.0, nut(870.0)), (16.0, nut(880.0)), (39.0, nut(920.0))], NUT),
    class("10", Iso898Nut, 5.0, &[(10.0, nut(1040.0)), (16.0, nut(1050.0)), (39.0, nut(1060.0))], NUT),
    class("9", Iso898Nut, 5.0, &[(7.0, nut(915.0)), (10.0, nut(940.0)), (16.0, nut(950.0)), (39.0, nut(920.0))], NUT_MEMORY),
    class("12", Iso898Nut, 5.0, &[(7.0, nut(1150.0)), (10.0, nut(1160.0)), (16.0, nut(1190.0)), (39.0, nut(1200.0))], NUT),
    class("grade 2", SaeJ429, 6.35, &[(0.75 * INCH_MM, ksi(55.0, 57.0, 74.0)), (1.5 * INCH_MM, ksi(33.0, 36.0, 60.0))], SAE),
    class("grade 5", SaeJ429, 6.35, &[(INCH_MM, ksi(85.0, 92.0, 120.0)), (1.5 * INCH_MM, ksi(74.0, 81.0, 105.0))], SAE),
    class("grade 8", SaeJ429, 6.35, &[(1.5 * INCH_MM, ksi(120.0, 130.0, 150.0))], SAE),
    class("A2-50", Iso3506, 1.6, &[(39.0, mpa(210.0, 210.0, 500.0))], STAINLESS_MEMORY),
    class("A2-70", Iso3506, 1.6, &[(24.0, mpa(450.0, 450.0, 700.0))], STAINLESS),
    class("A2-80", Iso3506, 1.6, &[(24.0, mpa(600.0, 600.0, 800.0))], STAINLESS_MEMORY),
    class("18-8", Iso3506, 1.6, &[(39.0, mpa(450.0, 450.0, 700.0))], STEEL_ONLY),
    class("A4-50", Iso3506, 1.6, &[(39.0, mpa(210.0, 210.0, 500.0))], STAINLESS_MEMORY),
    class("A4-70", Iso3506, 1.6, &[(24.0, mpa(450.0, 450.0, 700.0))], STAINLESS_MEMORY),
    class("A4-80", Iso3506, 1.6, &[(24.0, mpa(600.0, 600.0, 800.0))], STAINLESS),
];

impl Class {
    /// The class as a sentence names it: "class 8.8", "grade 5".
    pub fn titled(&self) -> String {
        if self.name.starts_with("grade") { self.name.to_owned() } else { format!("class {}", self.name) }
    }

    /// Every class of the table.
    pub fn all() -> &'static [Self] {
        CLASSES
    }

    /// Reads a class as it is written or stamped: "8.8", "10.9", "grade 5", "gr 8", "A2-70"; "8" on a nut, "5" beside an inch thread.
    pub fn read(text: &str, kind: Kind, thread: Option<&Thread>) -> Result<&'static Self, Objection> {
        let plain = plain(text);
        let mut cursor = Cursor::new(&plain);
        let inch = thread.is_some_and(Thread::is_inch);
        let sae = cursor.take_any(&["sae j429", "sae"]);
        let graded = cursor.take_any(&["grade", "gr.", "gr", "g"]) || sae;
        if !graded {
            cursor.take_any(&["iso 898-1", "iso 898-2"]);
            cursor.take_any(&["property class", "class", "cl.", "cl"]);
        }
        let figure = cursor.rest.trim().to_ascii_uppercase();
        // Some makers stamp a plus behind the class.
        let figure = figure.strip_suffix('+').unwrap_or(&figure);
        // The steel's names of the trade for one and the same composition, without a strength.
        let steel = figure.trim_end_matches(" STAINLESS").trim_end_matches(" SS");
        let figure = if matches!(steel, "18-8" | "18/8" | "304" | "AISI 304") { "18-8" } else { figure };
        let known: Vec<&'static Self> = CLASSES.iter().filter(|class| class.suits(kind, inch, graded)).collect();
        let stainless = figure.replace([' ', '/'], "-");
        let found = known.iter().find(|class| class.figure() == figure || class.figure() == stainless);
        found.copied().ok_or_else(|| class_unknown(&plain, figure, kind, &known))
    }

    /// Whether the standard gives the class for this nominal diameter in millimetres.
    pub fn holds_for(&self, diameter: f64) -> bool {
        // A hair of room, as inch sizes are converted.
        (self.from - 0.01..=self.rows[self.rows.len() - 1].0 + 0.01).contains(&diameter)
    }

    /// The strength at a nominal diameter in millimetres; outside the standard's sizes that of the nearest size.
    pub fn strength(&self, diameter: f64) -> Strength {
        let row = self.rows.iter().find(|(up_to, _)| diameter <= up_to + 0.01);
        row.unwrap_or(&self.rows[self.rows.len() - 1]).1
    }

    /// The load in newtons that a fastener with this thread carries without lasting stretch: stress area times proof stress.
    ///
    /// The standards print it rounded to three figures.
    pub fn proof_load(&self, thread: &Thread) -> f64 {
        thread.stress_area_mm2() * self.strength(thread.nominal_mm()).proof
    }

    /// Whether it is a class of thin nuts (ISO 898-2: 04 and 05): such a nut gives way before its bolt, and goes with no class of bolt.
    pub fn is_thin_nut(&self) -> bool {
        self.standard == Iso898Nut && self.name.starts_with('0')
    }

    /// The weakest class that may be meant: of 18-8, which names the steel alone, the soft one; the class itself for all others.
    pub fn weakest(&'static self) -> &'static Self {
        if self.name == "18-8" { named("A2-50") } else { self }
    }

    /// The bolt class that a nut class goes with (ISO 898-2); the class itself for all others.
    pub fn bolt(&'static self) -> &'static Self {
        let name = match (self.standard, self.name) {
            (Iso898Nut, "5") => "5.8",
            (Iso898Nut, "6") => "6.8",
            (Iso898Nut, "8") => "8.8",
            (Iso898Nut, "9") => "9.8",
            (Iso898Nut, "10") => "10.9",
            (Iso898Nut, "12") => "12.9",
            (_, name) => name,
        };
        named(name)
    }

    /// The weakest and the strongest bolt class that is in use where none is stated.
    pub fn unknown(thread: &Thread) -> (&'static Self, &'static Self) {
        if thread.is_inch() { (named("grade 2"), named("grade 8")) } else { (named("4.6"), named("12.9")) }
    }

    fn figure(&self) -> &'static str {
        self.name.trim_start_matches("grade ")
    }

    fn suits(&self, kind: Kind, inch: bool, graded: bool) -> bool {
        match self.standard {
            Iso898Bolt => kind != Kind::Nut && !graded,
            Iso898Nut => kind == Kind::Nut && !inch && !graded,
            SaeJ429 => graded || inch,
            Iso3506 => !graded,
        }
    }
}

fn named(name: &str) -> &'static Class {
    // Every name asked for here stands in the table; a test asks for each.
    CLASSES.iter().find(|class| class.name == name).unwrap_or(&CLASSES[0])
}

fn class_unknown(text: &str, figure: &str, kind: Kind, known: &[&'static Class]) -> Objection {
    let text = shortened(text);
    if figure.starts_with('A') && figure[1..].chars().all(|c| c.is_ascii_digit()) && figure.len() == 2 {
        return Objection::new(
            format!("{text} names the steel but not the strength"),
            format!("write {text}-70 or whatever is stamped on the head"),
        );
    }
    // A bolt's class on a nut, or a nut's on a bolt, is a slip of its own.
    if let Some(other) = CLASSES.iter().find(|class| class.name == figure) {
        let (is, of) = match other.standard {
            Iso898Nut => ("a nut", "a bolt"),
            _ => ("a bolt", "a nut"),
        };
        let pair = CLASSES.iter().find(|class| match kind {
            Kind::Nut => class.standard == Iso898Nut && class.bolt().name == figure,
            _ => other.standard == Iso898Nut && class.name == other.bolt().name,
        });
        let remedy = pair.map_or_else(|| "look at the stamp".to_owned(), |pair| format!("look at the stamp: is it {}?", pair.name));
        return Objection::new(format!("{text} is the class of {is}, not of {of}"), remedy);
    }
    let number = |text: &str| text.parse::<f64>().ok().filter(|value| value.is_finite());
    let by_value = number(figure).and_then(|value| {
        let off = |class: &&&'static Class| number(class.figure()).map_or(f64::INFINITY, |figure| (figure - value).abs());
        known.iter().min_by(|a, b| off(a).total_cmp(&off(b))).filter(|class| off(class) <= 2.0).map(|class| class.name)
    });
    let near = by_value.or_else(|| {
        nearest(figure, known.iter().map(|class| class.figure()))
            .and_then(|near| known.iter().find(|class| class.figure() == near))
            .map(|class| class.name)
    });
    let remedy = "look at the stamp on the head, or leave the class out";
    match near {
        Some(near) => Objection::new(format!("{text} is no class: {near}?"), remedy),
        None => Objection::new(format!("\"{text}\" is no class that is known"), remedy),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read(text: &str, kind: Kind, thread: &str) -> Result<&'static str, String> {
        let thread = Thread::read(thread).expect("the thread is right").value;
        Class::read(text, kind, Some(&thread)).map(|class| class.name).map_err(|objection| objection.message)
    }

    #[test]
    fn usual_spellings_are_read() {
        for (texts, kind, thread, name) in [
            (&["8.8", "class 8.8", "Class 8.8", "8,8", "cl. 8.8", "ISO 898-1 8.8", "property class 8.8"][..], Kind::Bolt, "M8", "8.8"),
            (&["8", "class 8"], Kind::Nut, "M8", "8"),
            (
                &["grade 5", "gr 5", "gr.5", "gr5", "G5", "Grade 5", "SAE 5", "SAE grade 5", "5", "SAE J429 grade 5"],
                Kind::Bolt,
                "3/8-16",
                "grade 5",
            ),
            (&["grade 8", "gr 8", "8"], Kind::Nut, "3/8-16", "grade 8"),
            (&["A2-70", "a2-70", "A2 70", "A2/70"], Kind::Nut, "M8", "A2-70"),
            (&["18-8", "18/8", "18-8 stainless", "304 stainless"], Kind::Bolt, "1/4-20", "18-8"),
            (&["18-8"], Kind::Screw, "M6", "18-8"),
            (&["04", "class 04"], Kind::Nut, "M8", "04"),
            (&["05"], Kind::Nut, "M10", "05"),
            (&["5"], Kind::Nut, "M8", "5"),
            (&["6"], Kind::Nut, "M8", "6"),
            (&["9"], Kind::Nut, "M8", "9"),
            (&["5"], Kind::Nut, "3/8-16", "grade 5"),
            (&["10.9"], Kind::Screw, "M8", "10.9"),
        ] {
            for text in texts {
                assert_eq!(read(text, kind, thread), Ok(name), "{text}");
            }
        }
    }

    #[test]
    fn a_class_that_is_none_is_answered_with_the_near_one() {
        for (text, kind, message) in [
            ("10.8", Kind::Bolt, "10.8 is no class: 10.9?"),
            ("8.9", Kind::Bolt, "8.9 is no class: 8.8?"),
            ("8.8", Kind::Nut, "8.8 is the class of a bolt, not of a nut"),
            ("8", Kind::Bolt, "8 is the class of a nut, not of a bolt"),
            ("05", Kind::Bolt, "05 is the class of a nut, not of a bolt"),
            ("9.8", Kind::Nut, "9.8 is the class of a bolt, not of a nut"),
            ("7", Kind::Nut, "7 is no class: 6?"),
            ("A2", Kind::Bolt, "A2 names the steel but not the strength"),
            ("A2-60", Kind::Bolt, "A2-60 is no class: A2-50?"),
            ("strong", Kind::Bolt, "\"strong\" is no class that is known"),
        ] {
            assert_eq!(read(text, kind, "M8"), Err(message.to_owned()), "{text}");
        }
    }

    #[test]
    fn every_class_reads_its_own_name_and_grows_in_order() {
        for class in Class::all() {
            let kind = if class.standard == Iso898Nut { Kind::Nut } else { Kind::Bolt };
            let read = Class::read(class.name, kind, None).expect("its own name");
            assert_eq!(read, class);
            let strength = class.strength(8.0);
            assert!(strength.proof <= strength.yields && strength.yields <= strength.tensile, "{}", class.name);
            assert!(class.holds_for(8.0) && !class.holds_for(80.0));
            assert!(class.bolt().standard != Iso898Nut || class.is_thin_nut(), "{}", class.name);
        }
        for name in ["4.6", "8.8", "10.9", "12.9", "grade 2", "grade 8"] {
            assert_eq!(named(name).name, name);
        }
    }
}
