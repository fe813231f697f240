//! Holes for threads: clearance holes by ISO 273, and the drill before the tap.
//! Whether a step drills the right one is left to the review.

use super::thread::{INCH_MM, Series, Size, Thread};

/// Clearance holes in millimetres (ISO 273).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Clearance {
    /// Fine series, H12.
    pub fine: f64,
    /// Medium series, H13: what is meant where nothing else is said.
    pub medium: f64,
    /// Coarse series, H14.
    pub coarse: f64,
}

/// Nominal diameter; fine, medium and coarse series, in millimetres.
const ISO_273: &[(f64, f64, f64, f64)] = &[
    (3.0, 3.2, 3.4, 3.6),
    (4.0, 4.3, 4.5, 4.8),
    (5.0, 5.3, 5.5, 5.8),
    (6.0, 6.4, 6.6, 7.0),
    (8.0, 8.4, 9.0, 10.0),
    (10.0, 10.5, 11.0, 12.0),
    (12.0, 13.0, 13.5, 14.5),
    (14.0, 15.0, 15.5, 16.5),
    (16.0, 17.0, 17.5, 18.5),
    (20.0, 21.0, 22.0, 24.0),
    (24.0, 25.0, 26.0, 28.0),
];

/// The clearance holes of a metric thread; none for other threads and sizes that are not in the table.
pub fn clearance(thread: &Thread) -> Option<Clearance> {
    let diameter = thread.nominal_mm();
    let row = ISO_273.iter().find(|row| !thread.is_inch() && row.0 == diameter)?;
    Some(Clearance { fine: row.1, medium: row.2, coarse: row.3 })
}

/// Whether a text is the name that inch drills are sold by: a number from 1 to 97 or a letter (ANSI/ASME B94.11M).
pub fn is_drill_name(text: &str) -> bool {
    let lower = text.trim().to_lowercase();
    let numbered = ["number", "no.", "nr.", "no", "#"].iter().find_map(|sign| lower.strip_prefix(sign)).map(str::trim);
    let lettered = lower.strip_prefix("letter").map_or(lower.as_str(), str::trim);
    numbered.is_some_and(|number| number.parse::<u8>().is_ok_and(|number| (1..=97).contains(&number)))
        || (lettered.len() == 1 && lettered.bytes().all(|letter| letter.is_ascii_alphabetic()))
}

/// A drill.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Drill {
    /// The name it is sold by, where it is no metric size: "#7", "F", "5/16 in".
    pub name: Option<&'static str>,
    /// Its diameter in millimetres.
    pub mm: f64,
}

/// Size and threads per inch; drill and its diameter in inches, as shop charts print them (about three quarters of the thread's height).
const UNIFIED: &[(Size, u32, &str, f64)] = &[
    (Size::Number(4), 40, "#43", 0.0890),
    (Size::Number(6), 32, "#36", 0.1065),
    (Size::Number(8), 32, "#29", 0.1360),
    (Size::Number(10), 24, "#25", 0.1495),
    (Size::Number(10), 32, "#21", 0.1590),
    (Size::Inch(16), 20, "#7", 0.2010),
    (Size::Inch(16), 28, "#3", 0.2130),
    (Size::Inch(20), 18, "F", 0.2570),
    (Size::Inch(20), 24, "I", 0.2720),
    (Size::Inch(24), 16, "5/16 in", 0.3125),
    (Size::Inch(24), 24, "Q", 0.3320),
    (Size::Inch(28), 14, "U", 0.3680),
    (Size::Inch(32), 13, "27/64 in", 0.421875),
    (Size::Inch(32), 20, "29/64 in", 0.453125),
    (Size::Inch(40), 11, "17/32 in", 0.53125),
    (Size::Inch(48), 10, "21/32 in", 0.65625),
];

/// The drill before the tap: nominal diameter less pitch for a metric thread, rounded to the tenth as charts do (a half to the even
/// tenth: 6.75 is 6.8 and 10.25 is 10.2), the chart's drill for a unified one. None where no chart row is known.
pub fn tap_drill(thread: &Thread) -> Option<Drill> {
    if !thread.is_inch() {
        let usual = thread.nominal_mm() >= 3.0 && thread.series() != Series::Other;
        let tenths = ((thread.nominal_mm() - thread.pitch_mm()) * 1000.0).round() / 100.0;
        return usual.then(|| Drill { name: None, mm: tenths.round_ties_even() / 10.0 });
    }
    let same = |size: Size, turns: u32| {
        Thread::new(size, turns).is_some_and(|row| row.size() == thread.size() && row.pitch_mm() == thread.pitch_mm())
    };
    let row = UNIFIED.iter().find(|row| same(row.0, row.1))?;
    Some(Drill { name: Some(row.2), mm: row.3 * INCH_MM })
}

/// How much of the full thread height is left by a drill, in percent: (d − drill) / (1.299·P).
pub fn thread_height(thread: &Thread, drill_mm: f64) -> f64 {
    (thread.nominal_mm() - drill_mm) / (1.299038 * thread.pitch_mm()) * 100.0
}
