//! A thread, read from what a drawing, a bag or a fitter calls it, with the geometry that follows from it.
//! The standard sizes stand in `thread_table`, and the reading in `thread_read`; how strong the fastener is, is left to `class`.

use std::f64::consts::PI;
use std::fmt;

use super::thread_table::{INCH, METRIC, Metric, NUMBERED, Unified};
use super::{Objection, Reading, inch_text, thousandths_text, thread_read};

/// Millimetres in an inch, exact.
pub(super) const INCH_MM: f64 = 25.4;

/// The size of a thread, as its family counts it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Size {
    /// Nominal diameter in thousandths of a millimetre.
    Metric(u32),
    /// Number of a numbered unified size.
    Number(u32),
    /// Nominal diameter in sixty-fourths of an inch.
    Inch(u32),
}

/// The series a pitch belongs to.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Series {
    /// The coarse pitch of the size: ISO 261 coarse, UNC.
    Coarse,
    /// A fine pitch of the size: ISO 261 fine, UNF.
    Fine,
    /// The extra-fine unified series, UNEF.
    ExtraFine,
    /// No standard pitch of the size.
    Other,
}

/// A thread. Two are equal when size, pitch, tolerance class and hand are.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Thread {
    pub(super) size: Size,
    // Thousandths of a millimetre for a metric thread, threads per inch for a unified one.
    pub(super) pitch: u32,
    pub(super) tolerance: Option<String>,
    pub(super) left_hand: bool,
}

impl Thread {
    /// A thread of this size: `pitch` in thousandths of a millimetre for a metric one, in threads per inch for a unified one.
    /// None for a size outside ISO 261 and ASME B1.1 or a pitch that cannot be cut on it.
    pub fn new(size: Size, pitch: u32) -> Option<Self> {
        let thread = Self { size, pitch, tolerance: None, left_hand: false };
        let known = match size {
            Size::Metric(diameter) => metric_row(diameter).is_some(),
            Size::Number(_) | Size::Inch(_) => unified_row(size).is_some(),
        };
        // The largest pitch of these sizes is 5 mm: more is a length that slipped in.
        let length = !thread.is_inch() && pitch > 6000;
        // A thread deeper than a third of its diameter leaves no core; one finer than a fortieth is a slip.
        (known && !length && pitch > 0 && (0.02..0.34).contains(&(thread.pitch_mm() / thread.nominal_mm()))).then_some(thread)
    }

    /// Reads a designation: `M8`, `M8 x 1.25`, `M10×1.25-6g`, `3/8-16 UNC`, `#10-32`, `1/4"-20 LH`.
    ///
    /// A metric pitch left out means the coarse one (ISO 261). A pitch that is not standard is a doubt, an unknown size an error.
    pub fn read(text: &str) -> Result<Reading<Self>, Objection> {
        thread_read::read(text)
    }

    /// Every standard thread of the tables, coarse before fine, small before large.
    pub fn standard() -> impl Iterator<Item = Self> {
        let metric = METRIC.iter().flat_map(|row| pitches(row).map(|pitch| (Size::Metric(row.diameter), pitch)));
        let rows = |table: &'static [Unified], size: fn(u32) -> Size| {
            table.iter().flat_map(move |row| [row.coarse, row.fine, row.extra_fine].map(|pitch| (size(row.size), pitch)))
        };
        let unified = rows(NUMBERED, Size::Number).chain(rows(INCH, Size::Inch)).filter(|(_, pitch)| *pitch > 0);
        metric.chain(unified).map(|(size, pitch)| Self { size, pitch, tolerance: None, left_hand: false })
    }

    /// The size.
    pub fn size(&self) -> Size {
        self.size
    }

    /// Whether it is an inch thread.
    pub fn is_inch(&self) -> bool {
        !matches!(self.size, Size::Metric(_))
    }

    /// Whether it is left-handed.
    pub fn left_hand(&self) -> bool {
        self.left_hand
    }

    /// The tolerance class as written: "6g" (ISO 965-1), "2A" (ASME B1.1).
    pub fn tolerance(&self) -> Option<&str> {
        self.tolerance.as_deref()
    }

    /// The series its pitch belongs to.
    pub fn series(&self) -> Series {
        match self.size {
            Size::Metric(diameter) => match metric_row(diameter) {
                Some(row) if row.coarse == Some(self.pitch) => Series::Coarse,
                Some(row) if row.fine.contains(&self.pitch) => Series::Fine,
                _ => Series::Other,
            },
            size => match unified_row(size) {
                Some(row) if row.coarse == self.pitch => Series::Coarse,
                Some(row) if row.fine == self.pitch => Series::Fine,
                Some(row) if row.extra_fine == self.pitch => Series::ExtraFine,
                _ => Series::Other,
            },
        }
    }

    /// Nominal diameter d in millimetres, exact to the last bit of the conversion.
    pub fn nominal_mm(&self) -> f64 {
        match self.size {
            Size::Metric(thousandths) => f64::from(thousandths) / 1000.0,
            Size::Number(number) => (60.0 + 13.0 * f64::from(number)) / 1000.0 * INCH_MM,
            Size::Inch(sixty_fourths) => f64::from(sixty_fourths) / 64.0 * INCH_MM,
        }
    }

    /// Pitch P in millimetres.
    pub fn pitch_mm(&self) -> f64 {
        if self.is_inch() { INCH_MM / f64::from(self.pitch) } else { f64::from(self.pitch) / 1000.0 }
    }

    /// Pitch diameter d2 = d − 0.649519·P in millimetres (ISO 724, ASME B1.1), of the basic profile.
    pub fn pitch_diameter_mm(&self) -> f64 {
        self.nominal_mm() - 0.649519 * self.pitch_mm()
    }

    /// Core diameter of the bolt in millimetres: d3 = d − 1.226869·P for metric threads (ISO 898-1), d − 1.299038·P for unified ones.
    pub fn core_diameter_mm(&self) -> f64 {
        self.nominal_mm() - if self.is_inch() { 1.299038 } else { 1.226869 } * self.pitch_mm()
    }

    /// Bore of the nut thread D1 = d − 1.082532·P in millimetres (ISO 724, ASME B1.1), of the basic profile.
    pub fn minor_diameter_mm(&self) -> f64 {
        self.nominal_mm() - 1.082532 * self.pitch_mm()
    }

    /// Tensile stress area in square millimetres: a circle of (d2 + d3)/2 across (ISO 898-1; ASME B1.1 for unified threads).
    pub fn stress_area_mm2(&self) -> f64 {
        PI / 4.0 * self.stress_diameter_mm().powi(2)
    }

    /// Diameter of the stress area in millimetres.
    pub fn stress_diameter_mm(&self) -> f64 {
        (self.pitch_diameter_mm() + self.core_diameter_mm()) / 2.0
    }

    /// The size alone: "M8", "3/8 in", "#10".
    pub fn size_text(&self) -> String {
        match self.size {
            Size::Metric(diameter) => format!("M{}", thousandths_text(diameter)),
            Size::Number(number) => format!("#{number}"),
            Size::Inch(size) => format!("{} in", inch_text(size)),
        }
    }
}

impl fmt::Display for Thread {
    /// The one printed designation, which reads back to the same thread: "M8x1.25-6g", "3/8-16 UNC-2A-LH".
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        let size = self.size_text();
        match self.size {
            Size::Metric(_) => write!(formatter, "{size}x{}", thousandths_text(self.pitch))?,
            _ => {
                let name = series_name(self.series());
                write!(formatter, "{}-{}{name}", size.trim_end_matches(" in"), self.pitch)?;
            }
        }
        if let Some(tolerance) = &self.tolerance {
            write!(formatter, "-{tolerance}")?;
        }
        formatter.write_str(if self.left_hand { "-LH" } else { "" })
    }
}

pub(super) fn series_name(series: Series) -> &'static str {
    match series {
        Series::Coarse => " UNC",
        Series::Fine => " UNF",
        Series::ExtraFine => " UNEF",
        Series::Other => " UNS",
    }
}

pub(super) fn metric_row(diameter: u32) -> Option<&'static Metric> {
    METRIC.iter().find(|row| row.diameter == diameter)
}

pub(super) fn unified_row(size: Size) -> Option<&'static Unified> {
    match size {
        Size::Metric(_) => None,
        Size::Number(number) => NUMBERED.iter().find(|row| row.size == number),
        Size::Inch(sixty_fourths) => INCH.iter().find(|row| row.size == sixty_fourths),
    }
}

pub(super) fn pitches(row: &'static Metric) -> impl Iterator<Item = u32> {
    row.coarse.into_iter().chain(row.fine.iter().copied())
}
