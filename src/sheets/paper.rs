//! The papers that sheets are made for, and lengths on them. Sizes are those of the standards named beside them.

/// Points in a millimetre: 72 points are an inch of 25.4 mm (ISO 32000-1, 8.3.2.3).
pub const MM: f32 = 72.0 / 25.4;

/// A length in millimetres as points.
pub const fn mm(length: f32) -> f32 {
    length * MM
}

/// A paper.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Paper {
    /// ISO 216: 210 mm by 297 mm.
    A4,
    /// ANSI/ASME Y14.1, size A: 8.5 in by 11 in.
    Letter,
}

impl Paper {
    /// Both papers.
    pub const ALL: [Paper; 2] = [Paper::A4, Paper::Letter];

    /// The word in names of files.
    pub fn word(self) -> &'static str {
        match self {
            Paper::A4 => "a4",
            Paper::Letter => "letter",
        }
    }

    /// The word for people.
    pub fn name(self) -> &'static str {
        match self {
            Paper::A4 => "A4",
            Paper::Letter => "Letter",
        }
    }

    /// Width and height upright, in points.
    pub fn size(self) -> (f32, f32) {
        match self {
            Paper::A4 => (mm(210.0), mm(297.0)),
            Paper::Letter => (8.5 * 72.0, 11.0 * 72.0),
        }
    }
}
