//! The words of a talk: folded, parted from their marks, figures from the units joined to them.

/// What stands behind a word.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum End {
    /// Nothing.
    None,
    /// A comma, a dash, a colon.
    Comma,
    /// The end of a sentence.
    Stop,
    /// The end of a paragraph, or another speaker.
    Block,
}

/// A word of a talk.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Word {
    /// In lower case, without marks.
    pub text: String,
    /// As written, with its marks.
    pub written: String,
    /// When it is said, in seconds.
    pub at: Option<u32>,
    /// What stands behind it.
    pub end: End,
    /// Whether it stands in a heading.
    pub heading: bool,
}

/// The words of a text without moments.
pub fn tokens(text: &str) -> Vec<Word> {
    let mut words = Vec::new();
    for each in text.lines() {
        line(each, &mut words, &|_| None);
    }
    words
}

/// How long the mark of a list item is: `1. `, `2) `, `- `, `* `, `Step 3:`.
pub(super) fn list_mark(line: &str) -> usize {
    let digits = line.len() - line.trim_start_matches(|c: char| c.is_ascii_digit()).len();
    let behind = &line[digits..];
    let mut chars = behind.chars();
    match chars.next() {
        Some('.' | ')') if digits > 0 && chars.next().is_none_or(char::is_whitespace) => digits + 1,
        Some('-' | '*' | '+' | '•') if digits == 0 && chars.next().is_some_and(char::is_whitespace) => {
            behind.chars().next().map_or(0, char::len_utf8)
        }
        _ => 0,
    }
}

/// Adds the words of a line; `moment` says when the n-th of its pieces is said.
pub(super) fn line(line: &str, words: &mut Vec<Word>, moment: &dyn Fn(usize) -> Option<u32>) {
    let mut first = true;
    for (nth, chunk) in line.split_whitespace().enumerate() {
        // `- ` at the start of a line of subtitles, and `Dave:`, are another speaker.
        if first && speaker(chunk, line) {
            if let Some(last) = words.last_mut() {
                last.end = End::Block;
            }
            continue;
        }
        first = false;
        self::chunk(chunk, words, moment(nth));
    }
}

/// Whether a piece at the start of a line says who speaks.
fn speaker(chunk: &str, line: &str) -> bool {
    if matches!(chunk, "-" | "–" | "—" | ">>") {
        return true;
    }
    let Some(name) = chunk.trim_matches('*').strip_suffix(':') else { return false };
    let name = name.trim_matches('*');
    let plain = !name.is_empty() && name.len() < 16 && name.chars().all(|c| c.is_alphanumeric() || c == '_');
    let known = matches!(name.to_lowercase().as_str(), "note" | "tools" | "warning" | "caution" | "torque" | "important" | "kit" | "time");
    plain && !known && name.chars().next().is_some_and(char::is_uppercase) && line.split_whitespace().count() > 1
}

fn chunk(chunk: &str, words: &mut Vec<Word>, at: Option<u32>) {
    let close = |words: &mut Vec<Word>, end: End| {
        if let Some(last) = words.last_mut() {
            last.end = last.end.max(end);
        }
    };
    let opening = |c: char| {
        matches!(
            c,
            '"' | '\'' | '\u{201c}' | '\u{2018}' | '(' | '[' | '{' | '*' | '_' | '`' | '#' | '|' | '-' | '–' | '—' | '\u{2026}' | '>'
        )
    };
    if chunk.starts_with(['(', '[', '–', '—', '|', '\u{2026}']) || matches!(chunk, "-" | "--") {
        close(words, End::Comma);
    }
    let open = chunk.trim_start_matches(opening);
    // A minus sign belongs to its figure.
    let open = if chunk.len() > open.len()
        && chunk[..chunk.len() - open.len()].ends_with('-')
        && open.starts_with(|c: char| c.is_ascii_digit())
        && chunk.len() - open.len() == 1
    {
        chunk
    } else {
        open
    };
    let closing = |c: char| {
        matches!(
            c,
            '"' | '\''
                | '\u{201d}'
                | '\u{2019}'
                | ')'
                | ']'
                | '}'
                | '*'
                | '_'
                | '`'
                | '|'
                | '.'
                | ','
                | ';'
                | ':'
                | '!'
                | '?'
                | '-'
                | '–'
                | '—'
                | '\u{2026}'
        )
    };
    let mut core = open.trim_end_matches(closing);
    let mut tail = &open[core.len()..];
    // An inch mark belongs to its figure.
    if core.ends_with(|c: char| c.is_ascii_digit()) && tail.starts_with(['"', '\u{201d}']) && !chunk.starts_with(['"', '\u{201c}']) {
        let longer = core.len() + tail.chars().next().map_or(0, char::len_utf8);
        core = &open[..longer];
        tail = &open[longer..];
    }
    let end = if tail.contains(['!', '?', '\u{2026}']) || tail.contains('.') && !abbreviation(core) {
        End::Stop
    } else if tail.contains([',', ';', ':', ')', '–', '—', ']', '|']) || tail.contains("--") {
        End::Comma
    } else {
        End::None
    };
    let from = words.len();
    for piece in pieces(core) {
        let text = fold(&piece);
        if !text.is_empty() {
            words.push(Word { text, written: piece, at, end: End::None, heading: false });
        }
    }
    match words[from..].last_mut() {
        Some(last) => {
            last.end = end;
            last.written.push_str(tail);
        }
        None => close(words, end),
    }
}

fn abbreviation(core: &str) -> bool {
    matches!(
        core.to_lowercase().as_str(),
        "e.g" | "i.e" | "approx" | "no" | "ca" | "max" | "min" | "dia" | "fig" | "p" | "etc" | "ft" | "lb" | "lbs" | "vs"
    ) && !matches!(core, "no" | "No")
}

fn fold(piece: &str) -> String {
    piece.to_lowercase().replace('\u{2019}', "'").replace(['\u{22c5}', '\u{2219}', '\u{2022}'], "\u{b7}")
}

/// Cuts what is joined: figures from units, the ends of a range, number words at a hyphen, words at a slash.
fn pieces(core: &str) -> Vec<String> {
    let mut found = Vec::new();
    cut(core, &mut found);
    found
}

fn cut(core: &str, found: &mut Vec<String>) {
    if core.is_empty() {
        return;
    }
    let digit = |c: char| c.is_ascii_digit();
    let number = |text: &str| !text.is_empty() && text.chars().all(|c| digit(c) || matches!(c, '.' | ',' | '/')) && text.contains(digit);
    // A number, and what is joined to it.
    let sign = usize::from(core.starts_with('-') || core.starts_with('+'));
    if core[sign..].starts_with(digit) {
        let rest = core[sign..].trim_start_matches(|c: char| digit(c) || matches!(c, '.' | ',' | '/'));
        let mut length = core.len() - rest.len();
        while core[..length].ends_with(['.', ',', '/']) {
            length -= 1;
        }
        let (figure, rest) = core.split_at(length);
        if rest.is_empty() {
            found.push(figure.to_owned());
            return;
        }
        // `25-30` and `25–30`: from and to.
        for dash in ['-', '–', '—', '~'] {
            if let Some(after) = rest.strip_prefix(dash) {
                if after.starts_with(digit) {
                    found.push(figure.to_owned());
                    found.push("to".to_owned());
                    cut(after, found);
                    return;
                }
                found.push(figure.to_owned());
                cut(after, found);
                return;
            }
        }
        // `4x`, `2×`, `3/8"`.
        if let Some(after) = rest.strip_prefix('×') {
            found.push(figure.to_owned());
            found.push("x".to_owned());
            cut(after, found);
            return;
        }
        if rest.len() > 1 && rest.starts_with('x') && rest[1..].starts_with(digit) {
            found.push(figure.to_owned());
            found.push("x".to_owned());
            cut(&rest[1..], found);
            return;
        }
        // `1st`, `2nd`: an ordinal stays a word.
        if matches!(rest, "st" | "nd" | "rd" | "th" | "s" | "\"" | "\u{201d}") {
            found.push(core.to_owned());
            return;
        }
        found.push(figure.to_owned());
        found.push(rest.to_owned());
        return;
    }
    if core.contains('-') && !core.starts_with('-') {
        let parts: Vec<&str> = core.split('-').collect();
        let spelt = |part: &&str| number(part) || crate::wording::number::is_number_word(&part.to_lowercase());
        // `M8-60` is a designation; `ten-mil` is a number and its unit.
        let designation = parts[0].len() > 1 && parts[0].starts_with(['m', 'M', 't', 'T']) && parts[0][1..].starts_with(digit);
        if parts.iter().any(spelt) && parts.iter().all(|part| !part.is_empty()) && !designation {
            parts.iter().for_each(|part| cut(part, found));
            return;
        }
    }
    if core.contains('/')
        && core.chars().all(|c| c.is_alphabetic() || c == '/')
        && !matches!(core, "and/or" | "A/C" | "a/c" | "N/A")
        && core.len() > 5
    {
        core.split('/').filter(|part| !part.is_empty()).for_each(|part| found.push(part.to_owned()));
        return;
    }
    found.push(core.to_owned());
}

#[cfg(test)]
mod tests {
    use super::*;

    fn folded(text: &str) -> Vec<String> {
        tokens(text).into_iter().map(|word| word.text).collect()
    }

    #[test]
    fn figures_part_from_what_is_joined_to_them() {
        for (text, expected) in [
            ("25Nm", "25 nm"),
            ("25–30 N·m", "25 to 30 n·m"),
            ("M8x1.25", "m8x1.25"),
            ("4x M8", "4 x m8"),
            ("ten-mil", "ten mil"),
            ("twenty-five", "twenty five"),
            ("3/8\" drive", "3/8\" drive"),
            ("self-tapping", "self-tapping"),
            ("1.5mm²", "1.5 mm²"),
            ("90°", "90 °"),
            ("-5 degrees", "-5 degrees"),
            ("left/right", "left right"),
            ("the 2nd one", "the 2nd one"),
            ("don’t", "don't"),
        ] {
            assert_eq!(folded(text).join(" "), expected, "{text}");
        }
    }

    #[test]
    fn marks_become_ends() {
        let ends: Vec<End> = tokens("So, take it off. Now (gently) go!").into_iter().map(|word| word.end).collect();
        assert_eq!(ends, [End::Comma, End::None, End::None, End::Stop, End::Comma, End::Comma, End::Stop]);
    }
}
