//! What every drawing is written with: numbers, text and ids that are safe in SVG, and the frame of title and description.
//! What is drawn is left to the drawings.

use std::fmt::Write;

use super::Drawn;
use crate::publish::html;

/// A number with one decimal and no sign before nought, the same on every machine.
pub(super) fn n(value: f64) -> String {
    let tenths = (value * 10.0).round();
    let value = if tenths == 0.0 { 0.0 } else { tenths / 10.0 };
    let text = format!("{value:.1}");
    text.strip_suffix(".0").map_or_else(|| text.clone(), str::to_owned)
}

/// Text safe between tags and in attributes; characters that XML cannot hold are left out.
pub(super) fn escape(text: &str) -> String {
    let kept: String =
        text.chars().filter(|c| !c.is_control() || matches!(c, '\t' | '\n')).filter(|c| !matches!(c, '\u{FFFE}' | '\u{FFFF}')).collect();
    html::escape(&kept)
}

/// A prefix of ids, made of letters, digits, `-` and `_`, starting with a letter.
pub(super) fn id_prefix(wanted: &str) -> String {
    let kept: String = wanted.chars().filter(|c| c.is_ascii_alphanumeric() || matches!(c, '-' | '_')).collect();
    if kept.starts_with(|c: char| c.is_ascii_alphabetic()) { kept } else { format!("d{kept}") }
}

/// A drawing as it grows: its size in tenths of a millimetre and what is drawn so far.
pub(super) struct Sheet {
    pub prefix: String,
    pub width: f64,
    pub height: f64,
    body: String,
}

impl Sheet {
    pub(super) fn new(prefix: &str, width: f64, height: f64) -> Self {
        Self { prefix: id_prefix(prefix), width, height, body: String::new() }
    }

    /// Adds an element with attributes of numbers and of words.
    pub(super) fn element(&mut self, name: &str, numbers: &[(&str, f64)], words: &[(&str, &str)]) {
        let _ = write!(self.body, "<{name}");
        for (key, value) in numbers {
            let _ = write!(self.body, " {key}=\"{}\"", n(*value));
        }
        for (key, value) in words {
            let _ = write!(self.body, " {key}=\"{}\"", escape(value));
        }
        self.body.push_str("/>");
    }

    /// Adds a line of text whose capitals are centred on `y`.
    pub(super) fn text(&mut self, words: &str, x: f64, y: f64, size: f64, more: &[(&str, &str)]) {
        // Capitals and digits are about 0.71 of the type size high in the sans-serif types of all systems.
        let _ = write!(self.body, "<text x=\"{}\" y=\"{}\" font-size=\"{}\"", n(x), n(y + 0.355 * size), n(size));
        for (key, value) in more {
            let _ = write!(self.body, " {key}=\"{}\"", escape(value));
        }
        let _ = write!(self.body, ">{}</text>", escape(words));
    }

    /// Adds markup that a function of this folder wrote.
    pub(super) fn raw(&mut self, markup: &str) {
        self.body.push_str(markup);
    }

    /// The whole drawing.
    pub(super) fn finish(self, class: &str, title: &str, description: &str) -> Drawn {
        let Self { prefix, width, height, body } = self;
        let (w, h) = (n(width), n(height));
        let svg = format!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" class=\"{class}\" role=\"img\" aria-labelledby=\"{prefix}-t\" \
             aria-describedby=\"{prefix}-d\" viewBox=\"0 0 {w} {h}\" width=\"{}mm\" height=\"{}mm\" fill=\"none\" stroke-linecap=\"round\" \
             stroke-linejoin=\"round\" font-family=\"system-ui, 'Segoe UI', Roboto, 'Helvetica Neue', Arial, sans-serif\">\
             <title id=\"{prefix}-t\">{}</title><desc id=\"{prefix}-d\">{}</desc>{body}</svg>",
            n(width / 10.0),
            n(height / 10.0),
            escape(title),
            escape(description),
        );
        Drawn { svg, words: format!("{title}. {description}") }
    }
}

/// Breaks words into lines of at most `most` characters; a longer word is cut.
pub(super) fn wrap(text: &str, most: usize) -> Vec<String> {
    let most = most.max(1);
    let mut lines = vec![String::new()];
    for word in text.split_whitespace() {
        let mut rest: Vec<char> = word.chars().collect();
        while !rest.is_empty() {
            let line = lines.last_mut().expect("there is a line");
            let used = line.chars().count();
            let gap = usize::from(used > 0);
            if used + gap + rest.len() <= most || (used == 0 && rest.len() > most) {
                if gap == 1 {
                    line.push(' ');
                }
                line.extend(rest.drain(..rest.len().min(most)));
            } else {
                lines.push(String::new());
            }
        }
    }
    lines
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_have_one_form() {
        assert_eq!([0.0, -0.0, -0.04, 1.0, 1.25, -3.06].map(n), ["0", "0", "0", "1", "1.3", "-3.1"]);
    }

    #[test]
    fn ids_and_text_are_safe() {
        assert_eq!(id_prefix("3 \"><x"), "d3x");
        assert_eq!(id_prefix(""), "d");
        assert_eq!(escape("a<b>&\"'\u{1}\u{FFFF}"), "a&lt;b&gt;&amp;&quot;&#39;");
    }

    #[test]
    fn lines_are_broken_at_words() {
        assert_eq!(wrap("feed from fuse 12", 9), ["feed from", "fuse 12"]);
        assert_eq!(wrap("Bordnetzsteuergerät", 10), ["Bordnetzst", "euergerät"]);
        assert_eq!(wrap("", 10), [""]);
    }
}
