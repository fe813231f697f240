//! Cues of WebVTT (W3C, "WebVTT: The Web Video Text Tracks Format") and of SRT (by common practice: there is no standard). Both are read as
//! forgivingly as the WebVTT parser asks: a block that is no cue is passed over and told.

use super::{Cue, Form, clock, seconds};

pub(super) struct Read {
    pub(super) form: Form,
    pub(super) cues: Vec<Cue>,
    pub(super) remarks: Vec<String>,
}

/// Reads a subtitle file; none where it is no such file.
pub(super) fn read(text: &str) -> Option<Read> {
    let text = text.replace("\r\n", "\n").replace('\r', "\n");
    let header = text.strip_prefix("WEBVTT").filter(|rest| rest.is_empty() || rest.starts_with([' ', '\t', '\n']));
    let form = match header {
        Some(_) => Form::WebVtt,
        None if begins_like_srt(&text) => Form::Srt,
        None => return None,
    };
    let mut remarks = Vec::new();
    let mut cues = Vec::new();
    let mut unread = 0;
    let mut lines = text.lines().peekable();
    if form == Form::WebVtt {
        // The header goes on up to the first empty line.
        for line in lines.by_ref() {
            if line.is_empty() {
                break;
            }
        }
    }
    while let Some(line) = lines.next() {
        if line.trim().is_empty() {
            continue;
        }
        let mut block = vec![line];
        // In SRT an empty line can stand inside a cue; what follows then has no times and goes on with it.
        while let Some(next) = lines.peek() {
            if next.trim().is_empty() || (block.len() > 1 && next.contains("-->")) {
                break;
            }
            block.push(lines.next().unwrap_or_default());
        }
        if form == Form::WebVtt && is_word_of_header(block[0]) && !block.iter().any(|line| line.contains("-->")) {
            continue;
        }
        let Some(timing) = block.iter().take(2).position(|line| line.contains("-->")) else {
            let number = block.len() == 1 && block[0].trim().bytes().all(|byte| byte.is_ascii_digit());
            if form == Form::Srt && !number && !cues.is_empty() {
                let last: &mut Cue = cues.last_mut()?;
                last.text.push('\n');
                last.text.push_str(&plain(&block.join("\n")));
            } else {
                unread += usize::from(!number);
            }
            continue;
        };
        let Some((start, end)) = times(block[timing]) else {
            unread += 1;
            continue;
        };
        if end <= start {
            remarks.push(format!("the cue at {} ends before it begins: its words are read all the same", clock(seconds(start))));
        }
        // A cue's number that ran on without an empty line before it is no word of the cue before.
        let mut said: Vec<&str> = block[timing + 1..].to_vec();
        if lines.peek().is_some_and(|next| next.contains("-->"))
            && said.last().is_some_and(|last| last.trim().bytes().all(|b| b.is_ascii_digit()))
        {
            said.pop();
        }
        cues.push(Cue { start, end, text: plain(&said.join("\n")) });
    }
    if unread > 0 {
        remarks.push(format!("{unread} blocks of the file are no cues and were passed over"));
    }
    Some(Read { form, cues, remarks })
}

fn is_word_of_header(line: &str) -> bool {
    ["NOTE", "STYLE", "REGION"]
        .iter()
        .any(|word| line.strip_prefix(word).is_some_and(|rest| rest.is_empty() || rest.starts_with([' ', '\t'])))
}

/// Whether one of the first lines is the line of times of a cue.
fn begins_like_srt(text: &str) -> bool {
    let mut first = text.lines().filter(|line| !line.trim().is_empty()).take(2);
    first.any(|line| times(line).is_some())
}

/// `00:01.000 --> 00:04.000 align:start`; in SRT the decimals stand behind a comma.
fn times(line: &str) -> Option<(u64, u64)> {
    let (start, rest) = line.split_once("-->")?;
    let end = rest.split_whitespace().next()?;
    Some((time(start.trim())?, time(end)?))
}

/// Milliseconds of `mm:ss`, `hh:mm:ss`, with decimals or without.
pub(super) fn time(text: &str) -> Option<u64> {
    let (whole, decimals) = match text.split_once(['.', ',']) {
        Some((whole, decimals)) => (whole, decimals),
        None => (text, ""),
    };
    let parts: Vec<&str> = whole.split(':').collect();
    if !(2..=3).contains(&parts.len())
        || parts.iter().any(|part| part.is_empty() || part.len() > 4 || !part.bytes().all(|b| b.is_ascii_digit()))
    {
        return None;
    }
    let numbers: Vec<u64> = parts.iter().filter_map(|part| part.parse().ok()).collect();
    let [.., minutes, seconds] = numbers.as_slice() else { return None };
    if *seconds > 59 || (numbers.len() == 3 && *minutes > 59) || decimals.len() > 9 || !decimals.bytes().all(|b| b.is_ascii_digit()) {
        return None;
    }
    let hours = if numbers.len() == 3 { numbers[0] } else { 0 };
    let fraction: u64 = format!("{decimals:0<3}").get(..3)?.parse().ok()?;
    Some(((hours * 60 + minutes) * 60 + seconds) * 1000 + fraction)
}

/// The words of a cue without its tags and escapes. A voice tag begins a line of its own, with a dash.
fn plain(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    let mut rest = text;
    while let Some(at) = rest.find(['<', '&', '{']) {
        out.push_str(&rest[..at]);
        rest = &rest[at..];
        if rest.starts_with('<') {
            match rest.find('>') {
                Some(end) => {
                    let tag = &rest[1..end];
                    if tag == "v" || tag.starts_with("v ") || tag.starts_with("v.") {
                        if !out.is_empty() && !out.ends_with('\n') {
                            out.push('\n');
                        }
                        out.push_str("- ");
                    }
                    rest = &rest[end + 1..];
                }
                // An open tag at the end of a cue is dropped, as the standard's tokenizer does.
                None => rest = "",
            }
        } else if rest.starts_with('{') {
            // `{\an8}`: a place on the screen.
            match rest.starts_with("{\\").then(|| rest.find('}')).flatten() {
                Some(end) => rest = &rest[end + 1..],
                None => {
                    out.push('{');
                    rest = &rest[1..];
                }
            }
        } else {
            const ESCAPES: &[(&str, &str)] = &[
                ("&amp;", "&"),
                ("&lt;", "<"),
                ("&gt;", ">"),
                ("&nbsp;", " "),
                ("&lrm;", ""),
                ("&rlm;", ""),
                ("&quot;", "\""),
                ("&#39;", "'"),
            ];
            let (escape, meant) = ESCAPES.iter().find(|(escape, _)| rest.starts_with(escape)).copied().unwrap_or(("&", "&"));
            out.push_str(meant);
            rest = &rest[escape.len()..];
        }
    }
    out.push_str(rest);
    out.trim_end().to_owned()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn times_are_read_in_both_spellings() {
        for (text, expected) in [
            ("00:01.000", Some(1000)),
            ("01:02:03.004", Some(3_723_004)),
            ("00:00:01,500", Some(1500)),
            ("100:00:00.000", Some(360_000_000)),
            ("00:61.000", None),
            ("1.5", None),
            ("aa:bb", None),
        ] {
            assert_eq!(time(text), expected, "{text}");
        }
    }

    #[test]
    fn cues_lose_their_markup_and_blocks_that_are_none_are_told() {
        let text = "WEBVTT - a talk\nKind: captions\n\nNOTE made by hand\n\nSTYLE\n::cue { color: red }\n\nfirst\n00:01.000 --> 00:04.000 align:start\n<v Ann>Take <b>it</b> off &amp; bin it\n\n00:03.000 --> 00:05.000\n<00:03.500><c.loud>now</c>\n\nnonsense\n";
        let read = read(text).unwrap();
        assert_eq!(read.form, Form::WebVtt);
        assert_eq!(
            read.cues,
            [Cue { start: 1000, end: 4000, text: "- Take it off & bin it".into() }, Cue { start: 3000, end: 5000, text: "now".into() }]
        );
        assert_eq!(read.remarks, ["1 blocks of the file are no cues and were passed over"]);
    }

    #[test]
    fn subrip_with_and_without_empty_lines() {
        let text = "1\r\n00:00:01,000 --> 00:00:02,000\r\n{\\an8}take\r\nit\r\n\r\nout\r\n\r\n2\r\n00:00:02,000 --> 00:00:03,000\r\n<i>now</i>\r\n3\r\n00:00:03,000 --> 00:00:04,000\r\nthen\r\n";
        let read = read(text).unwrap();
        assert_eq!(read.form, Form::Srt);
        let texts: Vec<&str> = read.cues.iter().map(|cue| cue.text.as_str()).collect();
        assert_eq!(texts, ["take\nit\nout", "now", "then"]);
        assert!(super::read("Take it off. --> yes").is_none());
    }
}
