//! A talk as words with their moments: read from WebVTT, SRT, plain text or Markdown. What the words mean is left to `draft`.
//!
//! Everything that is no talk is taken out here (cue numbers, settings, markup, names of speakers, marks of emphasis), and everything that
//! is odd about the times is told.

mod cues;
mod tokens;

pub use crate::guide::moment::clock;
use crate::guide::moment::read as moment;
pub use tokens::{End, Word, tokens};

/// A talk longer than this is none.
pub const LARGEST: usize = 1 << 20;

/// What the text was written as.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Form {
    /// WebVTT.
    WebVtt,
    /// SubRip.
    Srt,
    /// Text or Markdown, with times in brackets or without.
    Text,
}

/// A talk.
#[derive(Clone, Debug)]
pub struct Narration {
    /// What it was written as.
    pub form: Form,
    /// Its words, in the order in which they are written.
    pub words: Vec<Word>,
    /// The first heading, if there is one.
    pub title: Option<String>,
    /// The last moment named, in seconds.
    pub length: Option<u32>,
    /// What is odd about it, in words for the author.
    pub remarks: Vec<String>,
}

/// A cue as written.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Cue {
    /// When it begins, in milliseconds.
    pub start: u64,
    /// When it ends.
    pub end: u64,
    /// Its text without markup, lines parted by `\n`.
    pub text: String,
}

/// The cues of a subtitle file; none where the text is no subtitle file.
pub fn cues(text: &str) -> Option<(Form, Vec<Cue>)> {
    let text = text.trim_start_matches('\u{feff}');
    cues::read(text).map(|read| (read.form, read.cues))
}

/// Reads a talk. The error says why it is none.
pub fn read(bytes: &[u8]) -> Result<Narration, String> {
    if bytes.len() > LARGEST {
        return Err(format!(
            "it has {} kB, and no talk about one job has more than {} kB: cut out what belongs to this job",
            bytes.len() / 1024,
            LARGEST / 1024
        ));
    }
    let Ok(text) = std::str::from_utf8(bytes) else {
        return Err("it is no text in UTF-8: save the subtitles or notes as plain text, UTF-8".to_owned());
    };
    let text = text.trim_start_matches('\u{feff}');
    if text.trim().is_empty() {
        return Err("it is empty".to_owned());
    }
    if text.contains('\0') {
        return Err("it holds zero bytes, so it is no text".to_owned());
    }
    let narration = match cues::read(text) {
        Some(read) => of_cues(read),
        None => of_text(text),
    };
    if narration.words.is_empty() {
        return Err(match narration.form {
            Form::Text => "it has no words".to_owned(),
            _ => "its cues have no words".to_owned(),
        });
    }
    Ok(narration)
}

fn of_cues(read: cues::Read) -> Narration {
    let cues::Read { form, cues, mut remarks } = read;
    let mut words: Vec<Word> = Vec::new();
    let (mut latest, mut backwards, mut overlapping) = (0, None, 0);
    let mut last_line = String::new();
    for (nth, cue) in cues.iter().enumerate() {
        if nth > 0 && cue.start < cues[nth - 1].start {
            backwards.get_or_insert(cue.start);
        } else if nth > 0 && cue.start < cues[nth - 1].end {
            overlapping += 1;
        }
        latest = latest.max(cue.end);
        let lines: Vec<&str> = cue.text.split('\n').collect();
        let total: usize = lines.iter().map(|line| line.split_whitespace().count()).sum();
        let mut said = 0;
        for (at, line) in lines.iter().enumerate() {
            // Captions that roll up repeat the line above, whole.
            let repeated = at == 0 && line.split_whitespace().count() >= 3 && *line == last_line;
            let count = line.split_whitespace().count();
            if !repeated {
                let spread = cue.end.saturating_sub(cue.start);
                let moment = |word: usize| Some(seconds(cue.start + spread * (said + word) as u64 / total.max(1) as u64));
                tokens::line(line, &mut words, &moment);
            }
            said += count;
        }
        last_line = lines.last().map_or(String::new(), |line| (*line).to_owned());
    }
    if let Some(at) = backwards {
        remarks.push(format!("the times run backwards at {}: the talk is read in the order in which it is written", clock(seconds(at))));
    }
    if overlapping > 0 {
        remarks.push(format!(
            "{overlapping} cues begin before the one before them ends: each is read once, in the order in which they are written"
        ));
    }
    let length = (latest > 0).then(|| seconds(latest));
    Narration { form, words, title: None, length, remarks }
}

fn seconds(milliseconds: u64) -> u32 {
    u32::try_from(milliseconds / 1000).unwrap_or(u32::MAX)
}

fn of_text(text: &str) -> Narration {
    let mut words: Vec<Word> = Vec::new();
    let (mut now, mut latest, mut backwards, mut title, mut fenced) = (None, None, None, None, false);
    for line in text.lines() {
        let mut rest = line.trim();
        if rest.starts_with("```") || rest.starts_with("~~~") {
            fenced = !fenced;
            continue;
        }
        if rest.is_empty() || rest.chars().all(|c| matches!(c, '-' | '=' | '*' | '_' | '|' | ' ' | ':')) {
            if let Some(last) = words.last_mut() {
                last.end = End::Block;
            }
            continue;
        }
        let heading = rest.starts_with('#');
        if heading {
            rest = rest.trim_matches(|c| c == '#' || c == ' ');
            title.get_or_insert_with(|| rest.to_owned());
        }
        let listed = tokens::list_mark(rest);
        if (heading || listed > 0 || rest.starts_with(['|', '>']))
            && let Some(last) = words.last_mut()
        {
            last.end = End::Block;
        }
        rest = rest[listed..].trim_start_matches(['>', '|', ' ']);
        let from = words.len();
        // Moments in brackets stand anywhere in the line.
        while !rest.is_empty() {
            let (before, found, after) = bracketed(rest);
            tokens::line(before, &mut words, &|_| now);
            if let Some(at) = found {
                if now.is_some_and(|now| at < now) {
                    backwards.get_or_insert(at);
                }
                now = Some(at);
                latest = latest.max(now);
            }
            rest = after;
        }
        if heading {
            words[from..].iter_mut().for_each(|word| word.heading = true);
            if let Some(last) = words.last_mut() {
                last.end = End::Block;
            }
        }
    }
    let mut remarks = Vec::new();
    if let Some(at) = backwards {
        remarks.push(format!("the times run backwards at {}: the talk is read in the order in which it is written", clock(at)));
    }
    Narration { form: Form::Text, words, title, length: latest, remarks }
}

/// A line cut at its first moment in brackets: what stands before, the moment, what stands behind.
fn bracketed(line: &str) -> (&str, Option<u32>, &str) {
    let mut from = 0;
    while let Some(open) = line[from..].find(['[', '(']).map(|at| from + at) {
        let close = if line[open..].starts_with('[') { ']' } else { ')' };
        let Some(end) = line[open..].find(close).map(|at| open + at) else { break };
        if let Some(at) = moment(&line[open + 1..end]) {
            return (&line[..open], Some(at), &line[end + 1..]);
        }
        from = open + 1;
    }
    (line, None, "")
}

#[cfg(test)]
mod tests {
    use super::*;

    fn said(text: &str) -> Vec<(String, Option<u32>)> {
        read(text.as_bytes()).unwrap().words.into_iter().map(|word| (word.text, word.at)).collect()
    }

    #[test]
    fn moments_in_brackets_count_from_there_on() {
        assert_eq!(
            said("[00:05] Take it off. [1:02:03] Now (01:10) the bolts"),
            [("take", Some(5)), ("it", Some(5)), ("off", Some(5)), ("now", Some(3723)), ("the", Some(70)), ("bolts", Some(70))]
                .map(|(word, at)| (word.to_owned(), at))
        );
        assert!(read(b"[02:00] one [01:00] two").unwrap().remarks[0].contains("run backwards at 01:00"));
    }

    #[test]
    fn what_is_no_text_says_why() {
        for (bytes, why) in [
            (&b""[..], "it is empty"),
            (b" \n\t ", "it is empty"),
            (b"\xff\xfe\x00", "UTF-8"),
            (b"a\0b", "zero bytes"),
            (b"WEBVTT\n\n00:01.000 --> 00:02.000\n\n", "its cues have no words"),
            (b"---", "no words"),
        ] {
            assert!(read(bytes).unwrap_err().contains(why), "{why}");
        }
        assert!(read(&vec![b'a'; 5 << 20]).unwrap_err().contains("5120 kB"));
    }

    #[test]
    fn markdown_leaves_its_marks_behind() {
        let narration = read(b"# Fit the **rail**\n\n1. Remove the `trim`.\n2) Refit.\n- *Clean* up\n").unwrap();
        assert_eq!(narration.title.as_deref(), Some("Fit the **rail**"));
        let words: Vec<&str> = narration.words.iter().map(|word| word.text.as_str()).collect();
        assert_eq!(words, ["fit", "the", "rail", "remove", "the", "trim", "refit", "clean", "up"]);
        assert!(narration.words[2].heading && narration.words[2].end == End::Block && narration.words[5].end == End::Block);
    }
}
