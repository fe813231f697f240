//! Threads of the trade that are no fastening threads: pipe, conduit, tapping-screw and trapezoidal threads. They are read so that a right
//! designation is not doubted and a wrong one is; no strength is known of them, so no torque is judged by them.
//! Fastening threads are left to `thread`.

use std::fmt;

use super::{Cursor, Objection, Reading, inch_text, one_of, plain, shortened, thousandths_text};

/// The family of a thread that is no fastening thread, with the standard that names it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Family {
    /// Parallel pipe thread that seals on a ring: G, ISO 228-1.
    ParallelPipe,
    /// Taper external pipe thread that seals on its flanks: R, ISO 7-1.
    TaperPipe,
    /// Taper internal pipe thread: Rc, ISO 7-1.
    TaperPipeInternal,
    /// Parallel internal pipe thread for a taper one: Rp, ISO 7-1.
    ParallelPipeInternal,
    /// American taper pipe thread: NPT, ASME B1.20.1.
    Npt,
    /// The same, sealing dry: NPTF, ASME B1.20.3.
    Nptf,
    /// Metric conduit and cable-gland thread: EN 60423.
    Conduit,
    /// Steel conduit thread of older glands: PG, DIN 40430.
    SteelConduit,
    /// Tapping-screw thread: ST, ISO 1478.
    Tapping,
    /// Trapezoidal thread: Tr, ISO 2904.
    Trapezoidal,
}

impl Family {
    /// The standard that names the thread.
    pub fn standard(self) -> &'static str {
        match self {
            Self::ParallelPipe => "ISO 228-1",
            Self::TaperPipe | Self::TaperPipeInternal | Self::ParallelPipeInternal => "ISO 7-1",
            Self::Npt => "ASME B1.20.1",
            Self::Nptf => "ASME B1.20.3",
            Self::Conduit => "EN 60423",
            Self::SteelConduit => "DIN 40430",
            Self::Tapping => "ISO 1478",
            Self::Trapezoidal => "ISO 2904",
        }
    }
}

/// A thread that is no fastening thread. Two are equal when family, size, pitch, lead and hand are.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Special {
    /// The family.
    pub family: Family,
    /// Sixty-fourths of an inch of pipe for a pipe thread, thousandths of a millimetre for all others; the number of a PG thread in tenths.
    size: u32,
    /// Thousandths of a millimetre, of trapezoidal and conduit threads; 0 where it is not told and does not follow from the size.
    pitch: u32,
    /// Of a trapezoidal thread with several starts: how far one turn goes, in thousandths of a millimetre; else 0.
    lead: u32,
    left_hand: bool,
}

/// Sizes of ISO 228-1 in sixty-fourths of an inch.
const G: &[u32] = &[4, 8, 16, 24, 32, 40, 48, 56, 64, 72, 80, 96, 112, 128, 144, 160, 176, 192, 224, 256, 288, 320, 352, 384];
/// Sizes of ISO 7-1.
const R: &[u32] = &[4, 8, 16, 24, 32, 48, 64, 80, 96, 128, 160, 192, 256, 320, 384];
/// Size and threads to the inch, twice, of ASME B1.20.1: 11 1/2 is no whole number.
const NPT: &[(u32, u32)] = &[
    (4, 54),
    (8, 54),
    (16, 36),
    (24, 36),
    (32, 28),
    (48, 28),
    (64, 23),
    (80, 23),
    (96, 23),
    (128, 23),
    (160, 16),
    (192, 16),
    (224, 16),
    (256, 16),
];
/// Size and threads to the inch of the Whitworth pipe threads, ISO 228-1 and ISO 7-1.
const WHITWORTH: &[(u32, u32)] = &[(4, 28), (8, 28), (16, 19), (24, 19), (32, 14), (40, 14), (48, 14), (56, 14)];
/// Nominal sizes of EN 60423 in millimetres. From 12 mm up every pitch is 1.5 mm; the smaller ones are fine threads.
const CONDUIT: &[u32] = &[6, 8, 10, 12, 16, 20, 25, 32, 40, 50, 63, 75];
/// The smallest of them, in thousandths of a millimetre, whose pitch is 1.5 mm.
const CONDUIT_COARSE: u32 = 12_000;
/// Numbers of DIN 40430 in tenths.
const PG: &[u32] = &[70, 90, 110, 135, 160, 210, 290, 360, 420, 480];
/// Sizes of ISO 1478 in hundredths of a millimetre.
const ST: &[u32] = &[150, 190, 220, 260, 290, 330, 350, 390, 420, 480, 550, 630, 800, 950];
/// Nominal diameter and pitches of ISO 2904 in tenths of a millimetre, 8 mm to 60 mm.
const TR: &[(u32, &[u32])] = &[
    (80, &[15]),
    (90, &[20, 15]),
    (100, &[20, 15]),
    (110, &[30, 20]),
    (120, &[30, 20]),
    (140, &[30, 20]),
    (160, &[40, 20, 30]),
    (180, &[40, 20]),
    (200, &[40, 20]),
    (220, &[50, 30, 80]),
    (240, &[50, 30, 80]),
    (260, &[50, 30, 80]),
    (280, &[50, 30, 80]),
    (300, &[60, 30, 100]),
    (320, &[60, 30, 100]),
    (340, &[60, 30, 100]),
    (360, &[60, 30, 100]),
    (380, &[70, 30, 100]),
    (400, &[70, 30, 100]),
    (420, &[70, 30, 100]),
    (440, &[70, 30, 120]),
    (460, &[80, 30, 120]),
    (480, &[80, 30, 120]),
    (500, &[80, 30, 120]),
    (520, &[80, 30, 120]),
    (550, &[90, 30, 140]),
    (600, &[90, 30, 140]),
];

impl Special {
    /// Reads a designation of one of these families; none where the text names none of them and may be a fastening thread.
    ///
    /// `G 1/4`, `G1/4 A`, `1/4 BSP`, `R 1/8`, `Rc 1/2`, `1/8 NPT`, `1/8-27 NPT`, `PG11`, `M20x1.5 gland`, `ST4.2`, `Tr8x1.5`, `Tr16x8 P4 LH`.
    pub fn read(text: &str) -> Option<Result<Reading<Self>, Objection>> {
        let plain = plain(text);
        if plain.is_empty() || plain.len() > 60 {
            return None;
        }
        let lower = plain.to_lowercase();
        let starts = |word: &str| {
            lower.strip_prefix(word).is_some_and(|rest| rest.trim_start_matches([' ', '-']).starts_with(|c: char| c.is_ascii_digit()))
        };
        let named = |words: &[&str]| words.iter().any(|word| lower.split([' ', '-', '(', ')']).any(|piece| piece == *word));
        let mut cursor = Cursor::new(&plain);
        Some(if starts("tr") {
            trapezoidal(&plain, &mut cursor)
        } else if starts("st") {
            tapping(&plain, &mut cursor)
        } else if starts("pg") {
            steel_conduit(&plain, &mut cursor)
        } else if lower.starts_with('m') && (named(&["gland", "conduit"]) || lower.contains("en 60423")) {
            conduit(&plain, &mut cursor)
        } else if starts("g") || starts("bspp") {
            pipe(&plain, &mut cursor, Family::ParallelPipe)
        } else if starts("rc") {
            pipe(&plain, &mut cursor, Family::TaperPipeInternal)
        } else if starts("rp") {
            pipe(&plain, &mut cursor, Family::ParallelPipeInternal)
        } else if starts("r") || starts("bspt") {
            pipe(&plain, &mut cursor, Family::TaperPipe)
        } else if named(&["bsp", "bspp"]) || lower.ends_with("bsp") || lower.ends_with("bspp") {
            pipe(&plain, &mut cursor, Family::ParallelPipe)
        } else if lower.contains("bspt") {
            pipe(&plain, &mut cursor, Family::TaperPipe)
        } else if lower.contains("nptf") {
            pipe(&plain, &mut cursor, Family::Nptf)
        } else if lower.contains("npt") {
            pipe(&plain, &mut cursor, Family::Npt)
        } else {
            return None;
        })
    }

    /// Nominal size in words: "G 1/4", "ST4.2".
    pub fn name(&self) -> String {
        let inch = || inch_text(self.size);
        match self.family {
            Family::ParallelPipe => format!("G {}", inch()),
            Family::TaperPipe => format!("R {}", inch()),
            Family::TaperPipeInternal => format!("Rc {}", inch()),
            Family::ParallelPipeInternal => format!("Rp {}", inch()),
            Family::Npt => format!("{} NPT", inch()),
            Family::Nptf => format!("{} NPTF", inch()),
            Family::Conduit if self.pitch == 0 => format!("M{} gland", thousandths_text(self.size)),
            Family::Conduit => format!("M{}x{} gland", thousandths_text(self.size), thousandths_text(self.pitch)),
            Family::SteelConduit => format!("PG{}", thousandths_text(self.size * 100)),
            Family::Tapping => format!("ST{}", thousandths_text(self.size)),
            Family::Trapezoidal if self.lead != 0 => {
                format!("Tr{}x{} P{}", thousandths_text(self.size), thousandths_text(self.lead), thousandths_text(self.pitch))
            }
            Family::Trapezoidal => format!("Tr{}x{}", thousandths_text(self.size), thousandths_text(self.pitch)),
        }
    }

    /// Threads to the inch of a pipe thread by its standard; none for other families and for sizes above the common ones.
    pub fn threads_per_inch(&self) -> Option<f64> {
        let of = |table: &[(u32, u32)]| table.iter().find(|row| row.0 == self.size).map(|row| f64::from(row.1));
        match self.family {
            Family::Npt | Family::Nptf => of(NPT).map(|twice| twice / 2.0),
            Family::ParallelPipe | Family::TaperPipe | Family::TaperPipeInternal | Family::ParallelPipeInternal => {
                of(WHITWORTH).or((self.size >= 64).then_some(11.0))
            }
            _ => None,
        }
    }

    fn of(family: Family, size: u32) -> Self {
        let pitch = if family == Family::Conduit && size >= CONDUIT_COARSE { 1500 } else { 0 };
        Self { family, size, pitch, lead: 0, left_hand: false }
    }
}

impl fmt::Display for Special {
    /// The one printed designation, which reads back to the same thread: "G 1/4", "Tr8x1.5-LH".
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        let hand = if self.left_hand { "-LH" } else { "" };
        write!(formatter, "{}{hand}", self.name())
    }
}

fn unreadable(text: &str) -> Objection {
    Objection::new(
        format!("\"{}\" is no thread that can be read", shortened(text)),
        "write it as on the drawing, for instance G 1/4, R 1/8, 1/8 NPT, PG11, M20x1.5 gland, ST4.2 or Tr8x1.5",
    )
}

/// That a size does not exist, with the next ones below and above.
fn no_size(family: Family, size: u32, known: &[u32]) -> Objection {
    let below = known.iter().rev().find(|known| **known < size);
    let above = known.iter().find(|known| **known > size);
    let names: Vec<String> = below.into_iter().chain(above).map(|near| Special::of(family, *near).name()).collect();
    let message = format!("{} is no size of {}: {}", Special::of(family, size).name(), family.standard(), one_of(&names));
    Objection::new(message, "look up the size of the thread")
}

fn pipe(text: &str, cursor: &mut Cursor<'_>, family: Family) -> Result<Reading<Special>, Objection> {
    // The family may stand before the size or after it, and its letters may touch the figure: "G1/4".
    for word in ["bspp", "bspt", "nptf", "npt", "rc", "rp", "g", "r"] {
        let front = cursor.rest.get(..word.len()).is_some_and(|front| front.eq_ignore_ascii_case(word));
        if front && cursor.rest[word.len()..].trim_start_matches([' ', '-']).starts_with(|c: char| c.is_ascii_digit()) {
            cursor.skip(word.len());
            cursor.take("-");
            break;
        }
    }
    let size = match cursor.sixty_fourths() {
        Some(size) => size,
        None => cursor.whole().and_then(|whole| whole.checked_mul(64)).ok_or_else(|| unreadable(text))?,
    };
    cursor.take_any(&["\"", "inch", "in.", "in"]);
    let known: Vec<u32> = match family {
        Family::ParallelPipe => G.to_vec(),
        Family::Npt | Family::Nptf => NPT.iter().map(|row| row.0).collect(),
        _ => R.to_vec(),
    };
    if !known.contains(&size) {
        return Err(no_size(family, size, &known));
    }
    let mut thread = Special::of(family, size);
    let mut doubts = Vec::new();
    loop {
        while cursor.take_any(&["-", "(", ")"]) {}
        if cursor.rest.is_empty() {
            break;
        }
        if cursor.take_any(&["left-hand", "left hand", "lh"]) {
            thread.left_hand = true;
        } else if cursor.take_any(&[
            "nptf",
            "npt",
            "bspp",
            "bspt",
            "bsp",
            "parallel",
            "taper",
            "thread",
            "male",
            "female",
            "external",
            "internal",
            "iso 228-1",
            "iso 228",
            "iso 7-1",
            "iso 7",
            "asme b1.20.1",
            "tpi",
            "a",
            "b",
        ]) {
        } else if let Some((digits, places)) = cursor.decimal() {
            let turns = f64::from(digits) / 10_f64.powi(places as i32);
            if let Some(standard) = thread.threads_per_inch().filter(|standard| (standard - turns).abs() > 0.01) {
                doubts.push(Objection::new(
                    format!("{} has {standard} threads to the inch, not {turns}", thread.name()),
                    "look at the drawing, or count with a thread gauge",
                ));
            }
        } else {
            return Err(unreadable(text));
        }
    }
    Ok(Reading { value: thread, doubts })
}

fn steel_conduit(text: &str, cursor: &mut Cursor<'_>) -> Result<Reading<Special>, Objection> {
    cursor.skip(2);
    cursor.take("-");
    let size = cursor.thousandths().map(|thousandths| thousandths / 100).ok_or_else(|| unreadable(text))?;
    cursor.take_any(&["cable gland", "gland", "conduit"]);
    if !cursor.rest.is_empty() {
        return Err(unreadable(text));
    }
    if !PG.contains(&size) {
        return Err(no_size(Family::SteelConduit, size, PG));
    }
    Ok(Reading { value: Special::of(Family::SteelConduit, size), doubts: Vec::new() })
}

fn conduit(text: &str, cursor: &mut Cursor<'_>) -> Result<Reading<Special>, Objection> {
    cursor.skip(1);
    let size = cursor.thousandths().ok_or_else(|| unreadable(text))?;
    let pitch = if cursor.take("x") { Some(cursor.thousandths().ok_or_else(|| unreadable(text))?) } else { None };
    cursor.take("mm");
    while cursor.take_any(&["cable gland", "gland", "conduit", "thread", "(", ")", "-", "en 60423"]) {}
    if !cursor.rest.is_empty() {
        return Err(unreadable(text));
    }
    let known: Vec<u32> = CONDUIT.iter().map(|size| size * 1000).collect();
    if !known.contains(&size) {
        return Err(no_size(Family::Conduit, size, &known));
    }
    let mut doubts = Vec::new();
    let mut thread = Special::of(Family::Conduit, size);
    if size < CONDUIT_COARSE {
        thread.pitch = pitch.unwrap_or_default();
    } else if let Some(pitch) = pitch.filter(|pitch| *pitch != thread.pitch) {
        doubts.push(Objection::new(
            format!(
                "a gland thread M{} has a pitch of 1.5 mm, not {} ({})",
                thousandths_text(size),
                thousandths_text(pitch),
                Family::Conduit.standard()
            ),
            "look at the pitch on the drawing, or measure it with a thread gauge",
        ));
    }
    Ok(Reading { value: thread, doubts })
}

fn tapping(text: &str, cursor: &mut Cursor<'_>) -> Result<Reading<Special>, Objection> {
    cursor.skip(2);
    cursor.take("-");
    let size = cursor.thousandths().ok_or_else(|| unreadable(text))?;
    let mut doubts = Vec::new();
    let known: Vec<u32> = ST.iter().map(|hundredths| hundredths * 10).collect();
    if !known.contains(&size) {
        return Err(no_size(Family::Tapping, size, &known));
    }
    let thread = Special::of(Family::Tapping, size);
    if cursor.take("x") {
        let length = cursor.rest.trim().to_owned();
        doubts.push(Objection::new(
            format!("\"{}\" after the thread looks like a length", shortened(&length)),
            format!("write {thread} here and the length apart"),
        ));
    } else {
        while cursor.take_any(&["-", "c", "f", "r", "tapping screw", "tapping", "screw", "thread"]) {}
        if !cursor.rest.is_empty() {
            return Err(unreadable(text));
        }
    }
    Ok(Reading { value: thread, doubts })
}

fn trapezoidal(text: &str, cursor: &mut Cursor<'_>) -> Result<Reading<Special>, Objection> {
    cursor.skip(2);
    let size = cursor.thousandths().ok_or_else(|| unreadable(text))?;
    if !cursor.take("x") {
        return Err(Objection::new(format!("\"{}\" gives no pitch", shortened(text)), "write the pitch after the diameter, as in Tr8x1.5"));
    }
    let lead = cursor.thousandths().ok_or_else(|| unreadable(text))?;
    while cursor.take("(") {}
    // With several starts the lead stands first and the pitch after a P: Tr16x8 P4, which is pitch 4 in two starts.
    let front = cursor.rest.strip_prefix(['p', 'P']).map(str::trim_start);
    let pitch = match front {
        Some(rest) if rest.starts_with(|c: char| c.is_ascii_digit()) => {
            cursor.rest = rest;
            cursor.thousandths().ok_or_else(|| unreadable(text))?
        }
        _ => lead,
    };
    let starts = lead != pitch;
    let mut thread = Special { pitch, lead: if starts { lead } else { 0 }, ..Special::of(Family::Trapezoidal, size) };
    loop {
        while cursor.take_any(&["-", "(", ")"]) {}
        if cursor.rest.is_empty() {
            break;
        }
        if cursor.take_any(&["left-hand", "left hand", "lh"]) {
            thread.left_hand = true;
        } else if !cursor.take_any(&["7e", "7h", "8e", "8h", "9c", "8c", "9h", "thread"]) {
            return Err(unreadable(text));
        }
    }
    let known: Vec<u32> = TR.iter().map(|row| row.0 * 100).collect();
    let Some(row) = TR.iter().find(|row| row.0 * 100 == size) else {
        if size > 60_000 {
            return Ok(Reading { value: thread, doubts: Vec::new() });
        }
        let below = known.iter().rev().find(|known| **known < size);
        let above = known.iter().find(|known| **known > size);
        let names: Vec<String> = below.into_iter().chain(above).map(|near| format!("Tr{}", thousandths_text(*near))).collect();
        let message = format!("Tr{} is no size of ISO 2904: {}", thousandths_text(size), one_of(&names));
        return Err(Objection::new(message, "look up the size of the thread"));
    };
    let mut doubts = Vec::new();
    if starts && (pitch == 0 || !lead.is_multiple_of(pitch)) {
        doubts.push(Objection::new(
            format!("a lead of {} is no multiple of the pitch {}", thousandths_text(lead), thousandths_text(pitch)),
            "look at the drawing: the lead stands before the P, the pitch after it",
        ));
    }
    if !row.1.iter().any(|tenths| tenths * 100 == pitch) {
        let pitches: Vec<String> = row.1.iter().map(|tenths| thousandths_text(tenths * 100)).collect();
        let message = format!("{} is no pitch of Tr{} in ISO 2904: {}", thousandths_text(pitch), thousandths_text(size), one_of(&pitches));
        doubts.push(Objection::new(message, "look at the pitch on the drawing, or measure it"));
    }
    Ok(Reading { value: thread, doubts })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn designations_of_the_trade_read_to_one_spelling() {
        for (texts, printed) in [
            (
                &["G 1/4", "G1/4", "g 1/4", "G 1/4 A", "G1/4B", "1/4 BSP", "1/4\" BSPP", "BSPP 1/4", "G ¼", "G 1/4-19", "1/4-19 BSP"][..],
                "G 1/4",
            ),
            (&["R 1/8", "R1/8", "1/8 BSPT", "BSPT 1/8"], "R 1/8"),
            (&["Rc 1/2", "RC1/2"], "Rc 1/2"),
            (&["Rp 3/4"], "Rp 3/4"),
            (&["1/8 NPT", "1/8\" NPT", "1/8-27 NPT", "NPT 1/8", "1/8 in NPT", "1/8NPT"], "1/8 NPT"),
            (&["1-11.5 NPT", "1 NPT", "1\" NPT"], "1 NPT"),
            (&["1/4-18 NPTF", "1/4 NPTF"], "1/4 NPTF"),
            (&["PG11", "PG 11", "Pg11", "PG11 gland"], "PG11"),
            (&["PG13.5", "PG 13,5"], "PG13.5"),
            (&["M20x1.5 gland", "M20 x 1.5 cable gland", "M20 gland", "M20x1.5 (gland)"], "M20x1.5 gland"),
            (&["M63x1.5 conduit"], "M63x1.5 gland"),
            (&["ST4.2", "ST 4.2", "ST4,2", "ST4.2-C", "ST4.2 tapping screw"], "ST4.2"),
            (&["Tr8x1.5", "TR 8 x 1.5", "Tr8×1,5", "Tr8x1.5-7e"], "Tr8x1.5"),
            (&["Tr16x4 LH", "Tr16x4-LH"], "Tr16x4-LH"),
            (&["Tr16x8 P4", "Tr16x8(P4)", "Tr16 x 8 P4"], "Tr16x8 P4"),
            (&["Tr16x8 P4 LH"], "Tr16x8 P4-LH"),
            (&["Tr16x4 P4"], "Tr16x4"),
            (&["M8x1 gland", "M8x1 (gland)"], "M8x1 gland"),
            (&["M8 gland"], "M8 gland"),
            (&["M20x1.5 EN 60423", "M20 (EN 60423)"], "M20x1.5 gland"),
        ] {
            for text in texts {
                let read = Special::read(text).unwrap_or_else(|| panic!("{text}: no family"));
                let read = read.unwrap_or_else(|objection| panic!("{text}: {}", objection.message));
                assert_eq!(read.value.to_string(), printed, "{text}");
                assert_eq!(read.doubts, [], "{text}");
            }
            let again = Special::read(printed).and_then(Result::ok).expect(printed);
            assert_eq!(again.value.to_string(), printed);
        }
    }

    #[test]
    fn a_wrong_size_or_pitch_is_answered_with_the_near_ones() {
        for (text, message) in [
            ("G 5/16", "G 5/16 is no size of ISO 228-1: G 1/4 or G 3/8"),
            ("5/8 NPT", "5/8 NPT is no size of ASME B1.20.1: 1/2 NPT or 3/4 NPT"),
            ("R 5/8", "R 5/8 is no size of ISO 7-1: R 1/2 or R 3/4"),
            ("1/8-28 NPT", "1/8 NPT has 27 threads to the inch, not 28"),
            ("G 1/4-18", "G 1/4 has 19 threads to the inch, not 18"),
            ("PG12", "PG12 is no size of DIN 40430: PG11 or PG13.5"),
            ("M22x1.5 gland", "M22x1.5 gland is no size of EN 60423: M20x1.5 gland or M25x1.5 gland"),
            ("M20x2 gland", "a gland thread M20 has a pitch of 1.5 mm, not 2 (EN 60423)"),
            ("ST4.5", "ST4.5 is no size of ISO 1478: ST4.2 or ST4.8"),
            ("ST4.2x16", "\"16\" after the thread looks like a length"),
            ("Tr13x2", "Tr13 is no size of ISO 2904: Tr12 or Tr14"),
            ("Tr8x2", "2 is no pitch of Tr8 in ISO 2904: 1.5"),
            ("Tr16x7 P4", "a lead of 7 is no multiple of the pitch 4"),
            ("Tr8", "\"Tr8\" gives no pitch"),
        ] {
            let read = Special::read(text).unwrap_or_else(|| panic!("{text}: no family"));
            let told: Vec<String> = match read {
                Ok(reading) => reading.doubts.into_iter().map(|doubt| doubt.message).collect(),
                Err(objection) => vec![objection.message],
            };
            assert_eq!(told, [message], "{text}");
        }
    }

    #[test]
    fn a_fastening_thread_is_left_to_its_own_reader() {
        for text in
            ["M8", "M8x1.25", "M20x1.5", "3/8-16 UNC", "#10-32", "1/4-20", "grade 5", "wood screw", "rivet", "stud", "tr", "", "strong"]
        {
            assert_eq!(Special::read(text), None, "{text}");
        }
    }
}
