//! The words of a guide taken apart once, for all rules that read them: sentences as tokens with their places, and
//! whether a sentence is a command. Which words are verbs and the like is left to `phrases`, what is wrong to the rules.

use std::ops::Range;

use super::phrases::{find_word, is_also_noun, is_determiner, is_finite, is_lead, is_pronoun, is_verb, opens_condition};
use crate::guide::model::{Guide, Text};
use crate::guide::words::{Passage, PassageKind, PassageRef, REFERENCE, passages};
use crate::source::Span;

/// What a token is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Sort {
    /// A word, an identifier, an abbreviation.
    Word,
    /// Digits, with a sign or a range.
    Number,
    /// A reference without words of its own.
    Reference,
    /// Any other character.
    Mark,
}

/// A word or mark of a passage.
#[derive(Clone, Copy, Debug)]
struct Token {
    start: u32,
    end: u32,
    sort: Sort,
    /// Which of the passage's references it belongs to.
    link: Option<u32>,
}

/// A passage taken apart.
#[derive(Debug)]
pub(crate) struct Reading {
    /// The passage.
    pub(crate) passage: Passage,
    /// Its text in lower case, byte for byte as long.
    pub(crate) folded: String,
    tokens: Vec<Token>,
    /// The sentences: bytes of the text, and tokens.
    sentences: Vec<(Range<usize>, Range<usize>)>,
}

/// All words of a guide, in the order of `Guide::words`.
#[derive(Debug)]
pub(crate) struct Words {
    proses: Vec<Vec<Reading>>,
    /// How many of them stand before those of the first step.
    before_steps: usize,
}

impl Words {
    /// Takes a guide's words apart.
    pub(crate) fn new(guide: &Guide<'_>) -> Self {
        let proses = guide.words().map(|prose| passages(prose).into_iter().map(Reading::new).collect()).collect();
        Words { proses, before_steps: 1 + guide.phases.len() }
    }

    /// Those of a guide whose language is not read: each of its texts has no passage.
    pub(crate) fn unread(guide: &Guide<'_>) -> Self {
        Words { proses: guide.words().map(|_| Vec::new()).collect(), before_steps: 1 + guide.phases.len() }
    }

    /// Every passage of the guide.
    pub(crate) fn all(&self) -> impl Iterator<Item = &Reading> {
        self.proses.iter().flatten()
    }

    /// The passages of a step.
    pub(crate) fn step(&self, step: usize) -> &[Reading] {
        &self.proses[self.before_steps + step]
    }

    /// The sentences of a step's paragraphs and lists: where instructions stand. Notes, tables and headings are left out.
    pub(crate) fn instructions(&self, step: usize) -> impl Iterator<Item = Sentence<'_>> {
        let told = self.step(step).iter().filter(|reading| matches!(reading.passage.kind, PassageKind::Paragraph | PassageKind::Item));
        told.filter(|reading| !reading.is_note()).flat_map(Reading::sentences)
    }

    /// The sentences of all steps' instructions.
    pub(crate) fn all_instructions(&self) -> impl Iterator<Item = Sentence<'_>> {
        (0..self.proses.len() - self.before_steps).flat_map(|step| self.instructions(step))
    }
}

impl Reading {
    /// Takes a passage apart.
    pub(crate) fn new(passage: Passage) -> Self {
        let folded = passage.text.to_ascii_lowercase();
        let mut tokens = tokens(&passage);
        tokens.shrink_to_fit();
        let mut from = 0;
        let sentences = passage
            .sentences()
            .into_iter()
            .map(|range| {
                let to = from + tokens[from..].iter().take_while(|token| (token.start as usize) < range.end).count();
                let own = from..to;
                from = to;
                (range, own)
            })
            .collect();
        Reading { passage, folded, tokens, sentences }
    }

    /// The text of a key taken apart.
    pub(crate) fn of_key(text: &Text) -> Self {
        Reading::new(Passage::of_key(text))
    }

    /// Its sentences.
    pub(crate) fn sentences(&self) -> impl Iterator<Item = Sentence<'_>> {
        self.sentences.iter().map(|(range, tokens)| Sentence {
            reading: self,
            range: (range.start, range.end),
            tokens: &self.tokens[tokens.clone()],
        })
    }

    /// Whether it is a note: quoted, or a paragraph that says so.
    pub(crate) fn is_note(&self) -> bool {
        match self.passage.kind {
            PassageKind::Note => true,
            PassageKind::Paragraph | PassageKind::Item => self.sentences().next().is_some_and(|first| first.note_label() > 0),
            PassageKind::Cell | PassageKind::Heading | PassageKind::Key => false,
        }
    }
}

/// A sentence of a reading.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Sentence<'a> {
    /// What it stands in.
    pub(crate) reading: &'a Reading,
    range: (usize, usize),
    tokens: &'a [Token],
}

/// The command of a sentence.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Command {
    /// The verb, as a token.
    pub(crate) verb: usize,
    /// Whether it is told not to.
    pub(crate) negated: bool,
    /// The condition or circumstance in front of it, from a token to its comma.
    pub(crate) condition: Option<(usize, usize)>,
}

impl<'a> Sentence<'a> {
    /// The words as written.
    pub(crate) fn text(&self) -> &'a str {
        &self.reading.passage.text[self.range.0..self.range.1]
    }

    /// The same in lower case.
    pub(crate) fn folded_text(&self) -> &'a str {
        &self.reading.folded[self.range.0..self.range.1]
    }

    /// Where it starts in the passage's text.
    pub(crate) fn start(&self) -> usize {
        self.range.0
    }

    /// How many tokens it has.
    pub(crate) fn len(&self) -> usize {
        self.tokens.len()
    }

    /// The word at a token in lower case; empty for a number, a mark, a reference, or behind the end.
    pub(crate) fn word(&self, at: usize) -> &'a str {
        match self.tokens.get(at) {
            Some(token) if token.sort == Sort::Word => &self.reading.folded[token.start as usize..token.end as usize],
            _ => "",
        }
    }

    /// The characters of a token in lower case; empty behind the end.
    pub(crate) fn folded(&self, at: usize) -> &'a str {
        self.tokens.get(at).map_or("", |token| &self.reading.folded[token.start as usize..token.end as usize])
    }

    /// What sort of token stands there.
    pub(crate) fn sort(&self, at: usize) -> Option<Sort> {
        self.tokens.get(at).map(|token| token.sort)
    }

    /// Whether this mark stands there.
    pub(crate) fn is_mark(&self, at: usize, mark: &str) -> bool {
        self.sort(at) == Some(Sort::Mark) && self.folded(at) == mark
    }

    /// The reference that a token belongs to.
    pub(crate) fn reference(&self, at: usize) -> Option<&'a PassageRef> {
        self.tokens.get(at).and_then(|token| token.link).map(|link| &self.reading.passage.references[link as usize])
    }

    /// Which of the passage's references a token belongs to.
    pub(crate) fn link(&self, at: usize) -> Option<u32> {
        self.tokens.get(at).and_then(|token| token.link)
    }

    /// The token behind the reference that a token belongs to; behind the token itself where it belongs to none.
    pub(crate) fn link_end(&self, at: usize) -> usize {
        let Some(link) = self.link(at) else { return at + 1 };
        (at..self.len()).find(|&next| self.link(next) != Some(link)).unwrap_or(self.len())
    }

    /// Where the first of some phrases in lower case stands as whole words, with that phrase.
    pub(crate) fn find<'p>(&self, phrases: &[&'p str]) -> Option<(Span, &'p str)> {
        let (at, phrase) = phrases.iter().find_map(|phrase| Some((find_word(self.folded_text(), phrase)?, *phrase)))?;
        let start = self.start() + at;
        Some((self.reading.passage.place(start, start + phrase.len()), phrase))
    }

    /// The words from one token up to another, as written.
    pub(crate) fn words(&self, from: usize, to: usize) -> &'a str {
        let (start, end) = self.bytes(from, to);
        &self.reading.passage.text[start..end]
    }

    /// The place of the words from one token up to another.
    pub(crate) fn place(&self, from: usize, to: usize) -> Span {
        let (start, end) = self.bytes(from, to);
        self.reading.passage.place(start, end)
    }

    /// Where a token starts in the passage's text.
    pub(crate) fn offset(&self, at: usize) -> usize {
        self.tokens.get(at).map_or(self.range.1, |token| token.start as usize)
    }

    fn bytes(&self, from: usize, to: usize) -> (usize, usize) {
        let start = self.offset(from);
        let end = to.checked_sub(1).and_then(|last| self.tokens.get(last)).map_or(start, |token| token.end as usize);
        (start, end.max(start))
    }

    /// How many tokens stand before its closing full stop.
    pub(crate) fn body_len(&self) -> usize {
        let closing = self.tokens.iter().rev().take_while(|token| {
            let text = &self.reading.folded[token.start as usize..token.end as usize];
            token.sort == Sort::Mark && matches!(text, "." | "!" | "?" | ":" | ";")
        });
        self.tokens.len() - closing.count()
    }

    /// How many tokens a label such as `Note:` takes at the start; none if there is no such label.
    pub(crate) fn note_label(&self) -> usize {
        let labelled =
            matches!(self.word(0), "note" | "notes" | "remark" | "hint" | "tip" | "info" | "information") && self.is_mark(1, ":");
        if labelled { 2 } else { 0 }
    }

    /// The first token behind words such as `then` and adverbs.
    pub(crate) fn behind_lead(&self, mut at: usize) -> usize {
        loop {
            let word = self.word(at);
            if is_lead(word) || (word.len() > 4 && word.ends_with("ly") && !is_verb(word)) {
                at += 1;
                if self.is_mark(at, ",") {
                    at += 1;
                }
            } else {
                return at;
            }
        }
    }

    /// Whether an object with an article, a pronoun or a reference stands right there.
    pub(crate) fn is_object(&self, at: usize) -> bool {
        let word = self.word(at);
        is_determiner(word) || is_pronoun(word) || self.sort(at) == Some(Sort::Reference) || self.link(at).is_some()
    }

    /// The commas outside brackets from a token on.
    fn commas(&self, from: usize) -> impl Iterator<Item = usize> + '_ {
        let mut depth = 0i32;
        (from..self.len()).filter(move |&at| {
            match self.folded(at) {
                "(" | "[" => depth += 1,
                ")" | "]" => depth -= 1,
                "," if depth == 0 => return true,
                _ => {}
            }
            false
        })
    }

    /// The command that the sentence gives, maybe behind a condition; none if it only tells something.
    pub(crate) fn command(&self) -> Option<Command> {
        self.command_from(0)
    }

    /// The command from a token on.
    pub(crate) fn command_from(&self, from: usize) -> Option<Command> {
        let start = self.behind_lead(from);
        if let Some((verb, negated)) = self.command_at(start).filter(|_| !self.is_opener(start)) {
            return Some(Command { verb, negated, condition: None });
        }
        self.commas(start).find_map(|comma| {
            let (verb, negated) = self.command_at(self.behind_lead(comma + 1))?;
            Some(Command { verb, negated, condition: Some((start, comma)) })
        })
    }

    fn is_opener(&self, at: usize) -> bool {
        opens_condition(self.word(at))
    }

    /// The verb of a command that begins at a token, and whether it is negated.
    fn command_at(&self, at: usize) -> Option<(usize, bool)> {
        match (self.word(at), self.word(at + 1)) {
            ("do", "not") if is_verb(self.word(at + 2)) => return Some((at + 2, true)),
            ("don't" | "don\u{2019}t" | "never" | "not", verb) if is_verb(verb) => return Some((at + 1, true)),
            _ => {}
        }
        let word = self.word(at);
        // A word in a row of words is none: `if a bolt, clip or nut is worn`.
        let in_row = matches!(self.word(at + 1), "or" | "nor") || self.is_mark(at + 1, ":");
        (is_verb(word) && !in_row && (!is_also_noun(word) || self.reads_as_verb(at))).then_some((at, false))
    }

    /// Whether a word that may be a noun is the verb here: no `is` or `must` comes before the next article.
    fn reads_as_verb(&self, at: usize) -> bool {
        for next in at + 1..=at + 4 {
            let word = self.word(next);
            if self.is_object(next) || matches!(word, "that" | "how" | "whether" | "if" | "where" | "which" | "what" | "until" | "while") {
                return true;
            }
            if is_finite(word) {
                return false;
            }
            if self.sort(next) == Some(Sort::Mark) {
                return true;
            }
        }
        true
    }
}

/// Cuts a passage into words, numbers, references and marks.
fn tokens(passage: &Passage) -> Vec<Token> {
    let text = passage.text.as_str();
    let mut tokens = Vec::with_capacity(text.len() / 5 + 1);
    let mut links = passage.references.iter().enumerate().peekable();
    let mut chars = text.char_indices().peekable();
    while let Some((start, first)) = chars.next() {
        if first.is_whitespace() {
            continue;
        }
        let mut end = start + first.len_utf8();
        let signed = first == '±' && text[end..].starts_with(|c: char| c.is_ascii_digit());
        let sort = if first == REFERENCE {
            Sort::Reference
        } else if first.is_alphanumeric() || signed {
            let mut last = first;
            while let Some(&(at, c)) = chars.peek() {
                let next = text[at + c.len_utf8()..].chars().next();
                if !(c.is_alphanumeric() || joins(last, c, next)) {
                    break;
                }
                last = c;
                end = at + c.len_utf8();
                chars.next();
            }
            let number = text[start..end].chars().all(|c| !c.is_alphabetic());
            if number { Sort::Number } else { Sort::Word }
        } else {
            Sort::Mark
        };
        while links.peek().is_some_and(|(_, link)| link.range.end <= start) {
            links.next();
        }
        let link = links.peek().filter(|(_, link)| link.range.start <= start && start < link.range.end).map(|(at, _)| *at as u32);
        tokens.push(Token { start: start as u32, end: end as u32, sort, link });
    }
    tokens
}

/// Whether a character inside a word belongs to it.
fn joins(last: char, c: char, next: Option<char>) -> bool {
    let Some(next) = next else { return false };
    match c {
        '-' | '\u{2010}' | '\u{2011}' | '\'' | '\u{2019}' | '·' | '⋅' | '/' | '_' => last.is_alphanumeric() && next.is_alphanumeric(),
        ',' => last.is_ascii_digit() && next.is_ascii_digit(),
        // `2.5`, `2..4`, `e.g`.
        '.' => {
            (last.is_ascii_digit() && (next.is_ascii_digit() || next == '.'))
                || (last == '.' && next.is_ascii_digit())
                || (last.is_alphabetic() && next.is_alphabetic())
        }
        '\u{2013}' => last.is_ascii_digit() && next.is_ascii_digit(),
        _ => false,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::source::{Span, Spanned};

    fn reading(text: &str) -> Reading {
        Reading::of_key(&Spanned::new(text.to_owned(), Span::new(0..text.len())))
    }

    fn cut(text: &str) -> Vec<String> {
        let reading = reading(text);
        let sentences: Vec<Sentence<'_>> = reading.sentences().collect();
        sentences.iter().flat_map(|sentence| (0..sentence.len()).map(|at| sentence.words(at, at + 1).to_owned())).collect()
    }

    #[test]
    fn words_are_cut_where_readers_cut_them() {
        assert_eq!(
            cut("Torque the M8 bolts to 25 N·m (18 lbf·ft)."),
            ["Torque", "the", "M8", "bolts", "to", "25", "N·m", "(", "18", "lbf·ft", ")", "."]
        );
        assert_eq!(
            cut("A low-tack tape, 2..4 or 2.5 mm, ±3 and/or the driver's."),
            ["A", "low-tack", "tape", ",", "2..4", "or", "2.5", "mm", ",", "±3", "and/or", "the", "driver's", "."]
        );
    }

    #[test]
    fn a_shortened_word_ends_no_sentence() {
        let reading = reading("Leave approx. 5 N·m of slack. Undo the bolt, e.g. Nut 3. Stop.");
        let told: Vec<&str> = reading.sentences().map(|sentence| sentence.text()).collect();
        assert_eq!(told, ["Leave approx. 5 N·m of slack.", "Undo the bolt, e.g. Nut 3.", "Stop."]);
        let timed = self::reading("Run it for 15 min. If it stops, look at it. Leave min. 5 mm.");
        assert_eq!(timed.sentences().count(), 3);
        assert_eq!(reading.sentences().map(|sentence| sentence.len()).sum::<usize>(), 19);
    }

    #[test]
    fn commands_are_told_from_statements() {
        for (text, verb) in [
            ("Tighten the bolts.", "tighten"),
            ("Carefully lift the seat out.", "lift"),
            ("Then, undo it.", "undo"),
            ("Clip the cover on.", "clip"),
            ("Drain fluid.", "drain"),
            ("If the clip is broken, replace it.", "replace"),
            ("If a bolt, clip or nut is worn, replace it.", "replace"),
            ("To reach the bolts, slide the seat back.", "slide"),
            ("Check that the bolts are tight.", "check"),
            ("Before the seat goes back, let the inspector sign.", "let"),
            ("Together with a second person, lift the seat.", "lift"),
            ("Check whether clips are broken.", "check"),
        ] {
            let reading = reading(text);
            let sentence = reading.sentences().next().unwrap();
            let command = sentence.command().unwrap_or_else(|| panic!("{text}"));
            assert_eq!((sentence.word(command.verb), command.negated), (verb, false), "{text}");
        }
        for (text, verb) in [
            ("Do not unplug the connector.", "unplug"),
            ("Never remove the cap.", "remove"),
            ("If it is hot, do not open the cap.", "open"),
        ] {
            let reading = reading(text);
            let sentence = reading.sentences().next().unwrap();
            let command = sentence.command().unwrap_or_else(|| panic!("{text}"));
            assert_eq!((sentence.word(command.verb), command.negated), (verb, true), "{text}");
        }
        for text in [
            "The bolts are tightened.",
            "Bolt heads must be clean.",
            "Clip positions are shown in the drawing.",
            "If the lamp goes out, the test is over.",
            "Screws and clips are in the bag.",
            "A line, loom or tank lies below.",
            "Both fuses go in last, after every terminal has its torque.",
        ] {
            assert_eq!(reading(text).sentences().next().unwrap().command(), None, "{text}");
        }
    }
}
