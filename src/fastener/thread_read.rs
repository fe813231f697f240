//! Reads what a drawing, a bag or a fitter calls a thread. What a thread is and what follows from it is left to `thread`.

use super::thread::{INCH_MM, Series, Size, Thread, metric_row, pitches, series_name, unified_row};
use super::thread_table::{INCH, INVERTED_FLARE, METRIC, NUMBERED};
use super::{Cursor, Objection, Reading, one_of, plain, shortened, thousandths_text};

/// The door of [`Thread::read`].
pub(super) fn read(text: &str) -> Result<Reading<Thread>, Objection> {
    let plain = plain(text);
    if plain.is_empty() || plain.len() > 60 {
        return Err(unreadable(&plain));
    }
    let mut cursor = Cursor::new(&plain);
    if plain.starts_with(['m', 'M']) { metric(&plain, &mut cursor) } else { unified(&plain, &mut cursor) }
}

fn unreadable(text: &str) -> Objection {
    Objection::new(
        format!("\"{}\" is no thread that can be read", shortened(text)),
        "write it as on the drawing, for instance M8x1.25, 3/8-16 UNC or #10-32",
    )
}

fn metric(text: &str, cursor: &mut Cursor<'_>) -> Result<Reading<Thread>, Objection> {
    cursor.skip(1);
    let diameter = cursor.thousandths().ok_or_else(|| unreadable(text))?;
    let name = format!("M{}", thousandths_text(diameter));
    let Some(row) = metric_row(diameter) else {
        let below = METRIC.iter().rev().find(|row| row.diameter < diameter);
        let above = METRIC.iter().find(|row| row.diameter > diameter);
        let near: Vec<String> = below.into_iter().chain(above).map(|row| format!("M{}", thousandths_text(row.diameter))).collect();
        return Err(Objection::new(format!("{name} is no standard size: {}", one_of(&near)), "look up the size of the thread"));
    };
    let known: Vec<String> = pitches(row).map(thousandths_text).collect();
    // "M10-1.5" is a workshop spelling of a pitch; a letter after the figure makes it a tolerance class.
    let dashed = cursor.rest.strip_prefix('-').is_some_and(|rest| {
        let rest = rest.trim_start().trim_start_matches(|c: char| c.is_ascii_digit() || c == '.');
        !rest.starts_with(|c: char| c.is_ascii_alphabetic())
    });
    let pitch = if cursor.take("x") || (dashed && cursor.take("-")) {
        let pitch = cursor.thousandths().ok_or_else(|| unreadable(text))?;
        cursor.take("mm");
        pitch
    } else {
        row.coarse.ok_or_else(|| {
            Objection::new(format!("{name} has no coarse pitch, so its pitch has to be written"), format!("write {}", one_of(&known)))
        })?
    };
    let written = thousandths_text(pitch);
    let Some(mut thread) = Thread::new(Size::Metric(diameter), pitch) else {
        return Err(Objection::new(
            format!("{written} mm cannot be the pitch of {name}: {}", one_of(&known)),
            format!("if {written} is the length, write {name} here and the length apart"),
        ));
    };
    let mut doubts = Vec::new();
    if thread.series() == Series::Other {
        doubts.push(Objection::new(
            format!("{name}x{written} is no standard pitch of {name}: {}", one_of(&known)),
            "look at the pitch on the drawing, or measure it with a thread gauge",
        ));
    }
    tail(text, cursor, &mut thread, &mut doubts)?;
    Ok(Reading { value: thread, doubts })
}

fn unified(text: &str, cursor: &mut Cursor<'_>) -> Result<Reading<Thread>, Objection> {
    let numbered = cursor.take("#") || cursor.take("no.") || cursor.take("no") || cursor.take("nr");
    let size = if numbered { Size::Number(cursor.whole().ok_or_else(|| unreadable(text))?) } else { inch_size(text, cursor)? };
    let name = Thread { size, pitch: 1, tolerance: None, left_hand: false }.size_text();
    cursor.take_any(&["\"", "inch", "in."]);
    cursor.take("in");
    let mut turns = None;
    if cursor.take("-") || cursor.rest.starts_with(|c: char| c.is_ascii_digit()) {
        turns = Some(cursor.whole().ok_or_else(|| unreadable(text))?);
        cursor.take("tpi");
    }
    let dash = cursor.rest;
    cursor.take("-");
    let series =
        [("unef", Series::ExtraFine), ("unrf", Series::Fine), ("unrc", Series::Coarse), ("unf", Series::Fine), ("unc", Series::Coarse)]
            .into_iter()
            .chain([
                ("nef", Series::ExtraFine),
                ("nf", Series::Fine),
                ("nc", Series::Coarse),
                ("uns", Series::Other),
                ("un", Series::Other),
            ])
            .find(|(word, _)| cursor.take(word))
            .map(|(_, series)| series);
    if series.is_none() {
        cursor.rest = dash;
    }
    let Some(row) = unified_row(size) else {
        let near: Vec<String> = nearest_unified(size)
            .iter()
            .map(|size| Thread { size: *size, pitch: 1, tolerance: None, left_hand: false }.size_text())
            .collect();
        return Err(Objection::new(format!("{name} is no standard size: {}", one_of(&near)), "look up the size of the thread"));
    };
    let of = |series| match series {
        Series::Coarse => row.coarse,
        Series::Fine => row.fine,
        Series::ExtraFine => row.extra_fine,
        Series::Other => 0,
    };
    let all = [Series::Coarse, Series::Fine, Series::ExtraFine].map(|series| (of(series), series_name(series)));
    let known: Vec<String> = all.iter().filter(|(turns, _)| *turns > 0).map(|(turns, name)| format!("{turns}{name}")).collect();
    let pitch = turns.or(series.map(of).filter(|turns| *turns > 0)).ok_or_else(|| {
        Objection::new(
            format!("{name} without its threads per inch is no thread: {}", one_of(&known)),
            "write the threads per inch after the size",
        )
    })?;
    let Some(mut thread) = Thread::new(size, pitch) else {
        return Err(Objection::new(
            format!("{name} cannot have {pitch} threads per inch: {}", one_of(&known)),
            "look up the threads per inch",
        ));
    };
    let mut doubts = Vec::new();
    let found = thread.series();
    let pipe_nut = matches!(size, Size::Inch(size) if INVERTED_FLARE.contains(&(size, pitch)));
    if found == Series::Other && series != Some(Series::Other) && !pipe_nut {
        doubts.push(Objection::new(
            format!("{pitch} threads per inch are not usual on {name}: {}", one_of(&known)),
            "look at the drawing, or count with a thread gauge",
        ));
    } else if let Some(said) = series.filter(|said| *said != Series::Other && *said != found) {
        let (said, is) = (series_name(said).trim(), series_name(found).trim());
        doubts.push(Objection::new(
            format!("{pitch} threads per inch on {name} are {is}, not {said}"),
            format!("write {is}, or look up the threads per inch"),
        ));
    }
    tail(text, cursor, &mut thread, &mut doubts)?;
    Ok(Reading { value: thread, doubts })
}

/// A size in inches: "3/8", "1-1/8", ".250", "1", or the bare number of a numbered size, "10-32".
fn inch_size(text: &str, cursor: &mut Cursor<'_>) -> Result<Size, Objection> {
    if let Some(size) = cursor.sixty_fourths() {
        return Ok(Size::Inch(size));
    }
    let (digits, places) = cursor.decimal().ok_or_else(|| unreadable(text))?;
    if places == 0 {
        // "1-64" is number 1 and "1-8" one inch: the threads per inch tell them apart.
        let turns = Cursor::new(cursor.rest.trim_start_matches(['-', ' '])).whole();
        let numbered = NUMBERED.iter().any(|row| row.size == digits && turns.is_some_and(|turns| turns == row.coarse || turns == row.fine));
        return Ok(if digits != 1 || numbered { Size::Number(digits) } else { Size::Inch(64) });
    }
    let inches = f64::from(digits) / 10_f64.powi(places as i32);
    let sizes = INCH.iter().map(|row| Size::Inch(row.size)).chain(NUMBERED.iter().map(|row| Size::Number(row.size)));
    sizes.into_iter().find(|size| (inch_diameter(*size) - inches).abs() < 0.0006).ok_or_else(|| unreadable(text))
}

fn inch_diameter(size: Size) -> f64 {
    Thread { size, pitch: 1, tolerance: None, left_hand: false }.nominal_mm() / INCH_MM
}

fn nearest_unified(size: Size) -> Vec<Size> {
    let all: Vec<Size> = NUMBERED.iter().map(|row| Size::Number(row.size)).chain(INCH.iter().map(|row| Size::Inch(row.size))).collect();
    let at = inch_diameter(size);
    let below = all.iter().rev().find(|size| inch_diameter(**size) < at);
    let above = all.iter().find(|size| inch_diameter(**size) > at);
    below.into_iter().chain(above).copied().collect()
}

/// Tolerance class, hand and a length that slipped in.
fn tail(text: &str, cursor: &mut Cursor<'_>, thread: &mut Thread, doubts: &mut Vec<Objection>) -> Result<(), Objection> {
    loop {
        while cursor.take("-") || cursor.take("(") || cursor.take(")") {}
        if cursor.rest.is_empty() {
            return Ok(());
        }
        if cursor.take_any(&["left-hand", "left hand", "lh", "left"]) {
            cursor.take("thread");
            thread.left_hand = true;
        } else if cursor.take_any(&["right-hand", "right hand", "rh", "thread"]) {
        } else if cursor.take("x") {
            let length = cursor.rest.trim().to_owned();
            doubts.push(Objection::new(
                format!("\"{}\" after the thread looks like a length", shortened(&length)),
                format!("write {thread} here and the length apart"),
            ));
            return if length.starts_with(|c: char| c.is_ascii_digit()) { Ok(()) } else { Err(unreadable(text)) };
        } else if let Some(length) = tolerance(cursor.rest, thread.is_inch()).filter(|_| thread.tolerance.is_none()) {
            thread.tolerance = Some(cursor.rest[..length].to_owned());
            cursor.skip(length);
        } else {
            return Err(unreadable(text));
        }
    }
}

/// The length of a tolerance class at the front: "6g", "5g6g", "6H/6g" metric (ISO 965-1), "2A" unified (ASME B1.1).
fn tolerance(text: &str, inch: bool) -> Option<usize> {
    let end = text.find([' ', '-']).unwrap_or(text.len());
    let ok = |grade: &str| {
        let letters = if inch { &['A', 'B'][..] } else { &['e', 'f', 'g', 'h', 'G', 'H'][..] };
        let digit = grade.starts_with(|c: char| if inch { ('1'..='3').contains(&c) } else { ('3'..='9').contains(&c) });
        grade.is_ascii() && grade.len() == 2 && digit && grade.ends_with(letters)
    };
    let good = |part: &str| ok(part) || (!inch && part.is_ascii() && part.len() == 4 && ok(&part[..2]) && ok(&part[2..]));
    (end > 0 && text[..end].split('/').all(good)).then_some(end)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_usual_designation_reads_to_one_spelling() {
        for (texts, printed) in [
            (&["M8", "m8", "M8x1.25", "M8 x 1.25", "M8X1.25", "M8×1,25", "M 8 x 1.25", "M8-1.25", "M8x1.250 mm"][..], "M8x1.25"),
            (&["M8-6H", "M8x1.25 6H"], "M8x1.25-6H"),
            (&["M6x1.0"], "M6x1"),
            (&["M10 × 1.25-6g", "M10x1.25–6g"], "M10x1.25-6g"),
            (&["M10x1.25-6g-LH", "M10x1.25 6g LH", "M10x1.25-6g left-hand thread"], "M10x1.25-6g-LH"),
            (&["M20x2-5g6g"], "M20x2-5g6g"),
            (&["3/8-16 UNC", "3/8\"-16", "3/8″-16", "⅜-16", "3/8 in-16", "3/8 UNC", "3/8-16", "0.375-16 UNC", "3/8-16UNC"], "3/8-16 UNC"),
            (&["#10-32", "No. 10-32 UNF", "10-32", "No 10-32", "#10 UNF", "10-32 UNF", "0.190-32"], "#10-32 UNF"),
            (&["1/4\"-20", "1/4-20", "1/4-20 NC", "1/4 - 20", "1/4-20 UNRC"], "1/4-20 UNC"),
            (&["1/4-28 UNF-2A", "1/4-28 2A"], "1/4-28 UNF-2A"),
            (&["1/4-20 LH", "1/4-20 UNC left hand"], "1/4-20 UNC-LH"),
            (&["1-1/8-7 UNC", "1 1/8-7", "1⅛-7"], "1 1/8-7 UNC"),
            (&["1-8"], "1-8 UNC"),
            (&["1-64"], "#1-64 UNC"),
            (&["1-14 UNS"], "1-14 UNS"),
            (&["M8 LH", "M8 left-hand", "M8x1.25 (LH)"], "M8x1.25-LH"),
            (&["M16x1.5 RH"], "M16x1.5"),
        ] {
            for text in texts {
                let reading = Thread::read(text).unwrap_or_else(|objection| panic!("{text}: {}", objection.message));
                assert_eq!(reading.value.to_string(), printed, "{text}");
                assert_eq!(reading.doubts, [], "{text}");
            }
        }
    }

    #[test]
    fn an_unknown_thread_is_answered_with_the_near_ones() {
        for (text, message) in [
            ("M13", "M13 is no standard size: M12 or M14"),
            ("M8x25", "25 mm cannot be the pitch of M8: 1.25, 1 or 0.75"),
            ("M36x10", "10 mm cannot be the pitch of M36: 4, 3, 2 or 1.5"),
            ("M15", "M15 has no coarse pitch, so its pitch has to be written"),
            ("1/4", "1/4 in without its threads per inch is no thread: 20 UNC, 28 UNF or 32 UNEF"),
            ("#7-32", "#7 is no standard size: #6 or #8"),
            ("1/4-2", "1/4 in cannot have 2 threads per inch: 20 UNC, 28 UNF or 32 UNEF"),
            ("wood screw", "\"wood screw\" is no thread that can be read"),
            ("M8x1.25 nonsense", "\"M8x1.25 nonsense\" is no thread that can be read"),
            ("", "\"\" is no thread that can be read"),
        ] {
            assert_eq!(Thread::read(text).map_err(|objection| objection.message), Err(message.to_owned()), "{text}");
        }
    }

    #[test]
    fn an_unusual_pitch_is_a_doubt() {
        for (text, message) in [
            ("M8x1.5", "M8x1.5 is no standard pitch of M8: 1.25, 1 or 0.75"),
            ("3/8-16 UNF", "16 threads per inch on 3/8 in are UNC, not UNF"),
            ("3/8-18", "18 threads per inch are not usual on 3/8 in: 16 UNC, 24 UNF or 32 UNEF"),
            ("1/4-20 x 3/4", "\"3/4\" after the thread looks like a length"),
            ("M8x1.25x30", "\"30\" after the thread looks like a length"),
        ] {
            let reading = Thread::read(text).expect("it is a thread all the same");
            assert_eq!(reading.doubts.iter().map(|doubt| doubt.message.as_str()).collect::<Vec<_>>(), [message], "{text}");
        }
    }
}
