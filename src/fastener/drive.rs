//! What a tool fits on: the drive of a fastener or of a tool, compared by meaning.
//! Its usual spellings are read in `drive_read`, and which drives are usual on a thread stands in `drive_table`.
//! Which tool a shop has is left to the guide.

use std::fmt;

use super::drive_table::usual;
use super::thread::Thread;
use super::{Objection, drive_read, inch_text, one_of, thousandths_text};

/// A width across flats, or the side of a square. Metric and inch sizes are never equal, however near they lie.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Across {
    /// Thousandths of a millimetre.
    Mm(u32),
    /// Sixty-fourths of an inch.
    Inch(u32),
}

impl Across {
    /// In millimetres.
    pub fn mm(self) -> f64 {
        match self {
            Self::Mm(thousandths) => f64::from(thousandths) / 1000.0,
            Self::Inch(sixty_fourths) => f64::from(sixty_fourths) / 64.0 * super::thread::INCH_MM,
        }
    }
}

impl fmt::Display for Across {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Mm(thousandths) => write!(formatter, "{} mm", thousandths_text(*thousandths)),
            Self::Inch(sixty_fourths) => write!(formatter, "{} in", inch_text(*sixty_fourths)),
        }
    }
}

/// A drive. Two spellings of one drive read to equal values.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Drive {
    /// Hexagon head or nut, by its width across flats.
    Hex(Across),
    /// Internal hexagon, by its width across flats.
    InternalHex(Across),
    /// Twelve-point head or socket, by its width across flats.
    TwelvePoint(Across),
    /// Square head or square drive of a wrench.
    Square(Across),
    /// Internal six-lobe by ISO 10664: T30.
    SixLobe(u32),
    /// External six-lobe: E12.
    ExternalSixLobe(u32),
    /// Cross recess type H: PH2.
    CrossH(u32),
    /// Cross recess type Z: PZ2.
    CrossZ(u32),
    /// Internal twelve-point, triple-square (DIN 65254): its nominal size, as in M10.
    TripleSquare(u32),
    /// Internal splines with round flanks: its nominal size, as in M10.
    Spline(u32),
    /// Slot.
    Slot,
}

impl Drive {
    /// Reads a drive: "13 mm hex", "hex 13", "1/2 in hex", "5 mm key", "T30", "E12", "PH2", "PZ2", "slotted", "12 mm 12-point".
    ///
    /// A size alone is a hexagon, as sockets and spanners are named; a whole number without a unit is millimetres, a fraction inches.
    pub fn read(text: &str) -> Result<Self, Objection> {
        drive_read::read(text)
    }

    /// Whether a tool of the one goes onto the other although it is not meant for it: 13 mm on 1/2 in rounds the corners.
    pub fn nearly_fits(&self, other: &Self) -> bool {
        match (self.parts(), other.parts()) {
            (Some((shape, a)), Some((other_shape, b))) => self != other && shape == other_shape && (a.mm() - b.mm()).abs() < 0.4,
            _ => false,
        }
    }

    /// The doubt that this drive belongs to this thread, with the usual ones; none where it is usual or no list is known.
    ///
    /// The lists are those of the product standards and of trade practice; special heads exist, so this is never an error.
    pub fn unusual_on(&self, thread: &Thread) -> Option<Objection> {
        let usual = usual(self, thread)?;
        if usual.contains(self) {
            return None;
        }
        let names: Vec<String> = usual.iter().map(Self::to_string).collect();
        Some(Objection::new(
            format!("{self} is unusual on {}: {}", thread.size_text(), one_of(&names)),
            "look at the fastener, and accept this if it is so",
        ))
    }

    fn parts(&self) -> Option<(&'static str, Across)> {
        match *self {
            Self::Hex(across) => Some(("hex", across)),
            Self::InternalHex(across) => Some(("internal hex", across)),
            Self::TwelvePoint(across) => Some(("12-point", across)),
            Self::Square(across) => Some(("square", across)),
            _ => None,
        }
    }
}

impl fmt::Display for Drive {
    /// The one printed spelling, which reads back to the same drive.
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        if let Some((shape, across)) = self.parts() {
            return write!(formatter, "{across} {shape}");
        }
        match self {
            Self::SixLobe(size) => write!(formatter, "T{size}"),
            Self::ExternalSixLobe(size) => write!(formatter, "E{size}"),
            Self::CrossH(size) => write!(formatter, "PH{size}"),
            Self::CrossZ(size) => write!(formatter, "PZ{size}"),
            Self::TripleSquare(size) => write!(formatter, "M{size} triple-square"),
            Self::Spline(size) => write!(formatter, "M{size} spline"),
            _ => formatter.write_str("slotted"),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn near_is_not_the_same() {
        let drive = |text| Drive::read(text).expect("it is a drive");
        assert_ne!(drive("1/2 in hex"), drive("13 mm hex"));
        assert!(drive("1/2 in hex").nearly_fits(&drive("13 mm hex")));
        assert!(!drive("13 mm hex").nearly_fits(&drive("13 mm hex")));
        assert!(!drive("14 mm hex").nearly_fits(&drive("13 mm hex")));
        assert!(!drive("13 mm 12-point").nearly_fits(&drive("1/2 in hex")));
        assert_ne!(drive("PH2"), drive("PZ2"));
    }

    #[test]
    fn an_unusual_pairing_is_a_doubt() {
        let doubt = |drive, thread| {
            Drive::read(drive)
                .expect("a drive")
                .unusual_on(&Thread::read(thread).expect("a thread").value)
                .map(|objection| objection.message)
        };
        for (drive, thread) in [
            ("13 mm hex", "M8"),
            ("16 mm hex", "M10"),
            ("21 mm hex", "M16x1.5"),
            ("T30", "M6"),
            ("T50", "M10x1.25"),
            ("9/16 in hex", "3/8-16"),
            ("3/16 in key", "1/4-20"),
            ("6 mm internal hex", "M8"),
            ("PH2", "M5"),
            ("slotted", "M8"),
            ("12 mm 12-point", "M10"),
            // Wheel bolts and nuts, and brake pipe nuts (common practice).
            ("17 mm hex", "M14x1.5"),
            ("19 mm hex", "M14x1.5"),
            ("21 mm hex", "M12x1.5"),
            ("11 mm hex", "M10x1"),
            ("10 mm hex", "M10x1"),
            ("13 mm hex", "M12x1"),
            ("11 mm hex", "3/8-24"),
            ("7/16 in hex", "3/8-24"),
            ("M10 triple-square", "M10"),
            ("M8 spline", "M8"),
        ] {
            assert_eq!(doubt(drive, thread), None, "{drive} on {thread}");
        }
        assert_eq!(
            doubt("10 mm hex", "M12").as_deref(),
            Some("10 mm hex is unusual on M12: 18 mm hex, 19 mm hex, 17 mm hex, 16 mm hex or 15 mm hex")
        );
        // What a pipe nut has is no bolt's: the wider thread of the same size is asked.
        assert_eq!(
            doubt("11 mm hex", "M10").as_deref(),
            Some("11 mm hex is unusual on M10: 16 mm hex, 17 mm hex, 15 mm hex, 14 mm hex or 13 mm hex")
        );
        assert_eq!(doubt("11 mm hex", "3/8-16").as_deref(), Some("11 mm hex is unusual on 3/8 in: 9/16 in hex"));
        assert_eq!(doubt("T30", "M10").as_deref(), Some("T30 is unusual on M10: T50, T45 or T40"));
        assert_eq!(
            doubt("9/16 in hex", "M10").as_deref(),
            Some("9/16 in hex is unusual on M10: 16 mm hex, 17 mm hex, 15 mm hex, 14 mm hex or 13 mm hex")
        );
    }
}
