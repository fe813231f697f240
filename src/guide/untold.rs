//! What nobody knows yet: `untold` in the place of a value, with where it would be found out, and `unsure` beside one. Read here, kept in
//! the model, asked in the words of `questions`; a default never fills it.

use crate::finding::{Finding, RuleName};
use crate::guide::facts::{Fields, Reader};
use crate::guide::keys::{Block, Key, Kind, find};
use crate::guide::model::{Guide, Shop, Text};
use crate::near::nearest;
use crate::source::{Span, Spanned};

/// Who can answer a question.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Who {
    /// Who supplies the kit: on the sheet, or asked.
    Supplier,
    /// The vehicle in the bay, or its maker's instructions.
    Vehicle,
    /// The shop itself.
    Shop,
}

impl Who {
    /// Everybody, in the order of the list.
    pub const ALL: [Who; 3] = [Who::Supplier, Who::Vehicle, Who::Shop];

    /// The word in a guide.
    pub fn word(self) -> &'static str {
        match self {
            Who::Supplier => "supplier",
            Who::Vehicle => "vehicle",
            Who::Shop => "shop",
        }
    }

    /// Whom or what to ask, in words.
    pub fn asked(self) -> &'static str {
        match self {
            Who::Supplier => "the supplier",
            Who::Vehicle => "the vehicle and its maker’s instructions",
            Who::Shop => "the shop",
        }
    }
}

/// Who can answer, and where the answer would be found.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Answer {
    /// Who; none where the guide does not say.
    pub who: Option<Who>,
    /// Where, in the author's words.
    pub place: Option<String>,
}

impl Answer {
    /// Whom to ask and where, in words; none where nothing is said.
    pub fn words(&self) -> Option<String> {
        match (self.who, &self.place) {
            (Some(who), Some(place)) => Some(format!("{} ({place})", who.asked())),
            (Some(who), None) => Some(who.asked().to_owned()),
            (None, place) => place.clone(),
        }
    }

    /// The same behind a blank, in few words.
    pub fn beside_blank(&self) -> Option<String> {
        let parts = [self.who.map(|who| format!("ask the {}", who.word())), self.place.clone()];
        let words: Vec<String> = parts.into_iter().flatten().collect();
        (!words.is_empty()).then(|| words.join(", "))
    }

    /// The same as something to do.
    pub fn remedy(&self) -> String {
        match (self.who, self.words()) {
            (Some(_), Some(words)) => format!("ask {words}"),
            (None, Some(words)) => format!("find it out ({words})"),
            (_, None) => "find out who knows".to_owned(),
        }
    }
}

/// A fact that nobody knows yet, or that somebody only heard.
#[derive(Clone, Debug)]
pub struct Untold {
    /// The block it stands in.
    pub block: Block,
    /// The key.
    pub key: &'static str,
    /// The id of what it is a fact of; none for the guide, a step, an operation or a cavity.
    pub of: Option<String>,
    /// The name of what it is a fact of, as far as its own table says it: of an operation the ids that it acts on.
    pub name: String,
    /// Who can answer, and where.
    pub answer: Answer,
    /// What somebody heard, where the value is only doubtful.
    pub heard: Option<String>,
    /// The value's text.
    pub span: Span,
    /// The table that it stands in.
    pub table: Span,
}

/// What a text says of its own certainty.
enum Doubt<'t> {
    None,
    Untold(&'t str),
    /// The value itself, and what is said of who can answer.
    Unsure(&'t str, &'t str),
}

fn doubt(text: &str) -> Doubt<'_> {
    let trimmed = text.trim();
    if let Some(rest) = trimmed.strip_prefix("untold") {
        if rest.is_empty() {
            return Doubt::Untold("");
        }
        if let Some(answer) = rest.trim_start().strip_prefix(':') {
            return Doubt::Untold(answer);
        }
    }
    let Some(at) = text.find("unsure") else { return Doubt::None };
    let (value, rest) = (text[..at].trim_end().trim_end_matches(',').trim_end(), text[at + "unsure".len()..].trim_start());
    let apart = text[..at].ends_with([' ', ',']);
    match (rest.strip_prefix(':'), rest.is_empty()) {
        _ if !apart || value.is_empty() => Doubt::None,
        (Some(answer), _) => Doubt::Unsure(value, answer),
        (None, true) => Doubt::Unsure(value, ""),
        (None, false) => Doubt::None,
    }
}

/// Keys of text that may be untold: numbers, sizes, orders, sides, sources. Names, words and ids may not.
const TEXTS: &[&str] = &[
    "number",
    "amount",
    "thread",
    "class",
    "drive",
    "drill",
    "source",
    "pattern",
    "order",
    "stages",
    "condition",
    "into",
    "locker",
    "lubricant",
    "retorque",
    "layout",
    "seen_from",
    "colour",
    "wire",
    "fuse_type",
    "what",
    "sizes",
    "loosen_stages",
];

/// Whether a fact may be untold.
pub fn may_be_untold(key: &Key) -> bool {
    let of_the_job = !matches!(
        key.block,
        Block::Shop
            | Block::Vehicle
            | Block::Rule
            | Block::Wire
            | Block::Sheet
            | Block::Change
            | Block::Accept
            | Block::Callout
            | Block::Departure
    );
    let verb = key.block == Block::Operation && crate::guide::verb::Verb::from_key(key.name).is_some();
    of_the_job
        && !verb
        && (matches!(key.kind, Kind::Count | Kind::Value(_) | Kind::Torque | Kind::Hardware | Kind::Minutes)
            || (TEXTS.contains(&key.name) && !matches!(key.kind, Kind::Blocks(_))))
}

impl Reader {
    /// A text less what it says of its own certainty; none where nobody knows it yet.
    pub(super) fn certain(&mut self, fields: &Fields<'_>, name: &str, text: Text) -> Option<Text> {
        let Some(key) = find(fields.block, name) else { return Some(text) };
        let allowed = may_be_untold(key);
        match doubt(&text.value) {
            Doubt::None => Some(text),
            Doubt::Untold(_) if !allowed => {
                let message = format!("`{name}` cannot be untold");
                let remedy = "write it; only counts, values, torques, orders, sides, sizes, part numbers, sources and lengths can wait";
                self.findings.push(Finding::hold(RuleName::TypeWrong, self.place(text.span), message, remedy));
                None
            }
            Doubt::Unsure(..) if !allowed => Some(text),
            Doubt::Untold(answer) => {
                self.record_untold(fields, key, answer, None, text.span);
                None
            }
            Doubt::Unsure(value, answer) => {
                self.record_untold(fields, key, answer, Some(value.to_owned()), text.span);
                let exact = (text.span.end - text.span.start) as usize == text.value.len();
                let span = if exact { text.span.part(0..value.len()) } else { text.span };
                Some(Spanned::new(value.to_owned(), span))
            }
        }
    }

    /// Whether a list of texts is one untold text.
    pub(super) fn untold_list(&mut self, fields: &Fields<'_>, name: &str, texts: &mut Vec<Text>) {
        if let ([only], Some(key)) = (texts.as_slice(), find(fields.block, name))
            && may_be_untold(key)
            && key.kind != Kind::Hardware
        {
            let only = only.clone();
            *texts = self.certain(fields, name, only).into_iter().collect();
        }
    }

    /// The id and the place of the answer of `untold x seat-bolt: vehicle, count them`; none where the text says no such thing.
    pub(super) fn untold_count(&mut self, fields: &Fields<'_>, name: &str, text: &Text) -> Option<(Text, bool)> {
        let key = find(fields.block, name)?;
        let written = text.value.as_str();
        let exact = (text.span.end - text.span.start) as usize == written.len();
        let part = |piece: &str| {
            let at = piece.as_ptr() as usize - written.as_ptr() as usize;
            Spanned::new(piece.to_owned(), if exact { text.span.part(at..at + piece.len()) } else { text.span })
        };
        if let Some(rest) = written.trim_start().strip_prefix("untold").map(str::trim_start) {
            let rest = rest.strip_prefix(['x', '×']).filter(|rest| rest.starts_with(' '))?;
            let (id, answer) = rest.split_once(':').unwrap_or((rest, ""));
            let id = part(id.trim());
            self.record_untold(fields, key, answer, None, text.span);
            if let Some(last) = self.untold.last_mut() {
                last.name = id.value.clone();
            }
            return Some((id, true));
        }
        let Doubt::Unsure(value, answer) = doubt(written) else { return None };
        self.record_untold(fields, key, answer, Some(value.to_owned()), text.span);
        Some((part(value), false))
    }

    fn record_untold(&mut self, fields: &Fields<'_>, key: &'static Key, answer: &str, heard: Option<String>, span: Span) {
        let plain = |name: &str| fields.plain(name);
        let of = plain("id").filter(|_| !matches!(fields.block, Block::Step | Block::Operation));
        let name = match fields.block {
            Block::Pin => plain("at").map(|at| format!("cavity {at}")),
            Block::Operation => fields.names().find(|name| crate::guide::verb::Verb::from_key(name).is_some()).and_then(plain),
            _ => plain("name").or_else(|| plain("for")).or_else(|| of.clone().map(|id| id.replace('-', " "))),
        };
        let answer = self.answer(answer, span);
        let name = name.unwrap_or_default();
        self.untold.push(Untold { block: fields.block, key: key.name, of, name, answer, heard, span, table: fields.span });
    }

    /// `supplier, fitting sheet page 4`: who can answer, then where; either may be missing.
    fn answer(&mut self, text: &str, span: Span) -> Answer {
        let text = text.trim();
        let (first, rest) = text.split_once([',', ' ']).unwrap_or((text, ""));
        let who = Who::ALL.into_iter().find(|who| who.word() == first.to_lowercase());
        let filled = |text: &str| Some(text.trim().trim_start_matches(',').trim().to_owned()).filter(|text| !text.is_empty());
        if who.is_some() {
            return Answer { who, place: filled(rest) };
        }
        let alone = rest.is_empty() || text[first.len()..].starts_with(',');
        if let Some(near) = nearest(&first.to_lowercase(), Who::ALL.into_iter().map(Who::word)).filter(|_| alone && !first.is_empty()) {
            let message = format!("`{first}` is nobody who can answer");
            let remedy = format!("write `{near}`; supplier, vehicle and shop can be asked, and what follows says where");
            self.findings.push(Finding::query(RuleName::TypeWrong, self.place(span), message, remedy));
            return Answer { who: Who::ALL.into_iter().find(|who| who.word() == near), place: filled(rest) };
        }
        Answer { who: None, place: filled(text) }
    }
}

/// What is untold under a key of a thing with an id, in its own file.
pub fn of<'g>(guide: &'g Guide<'_>, shop: &'g Shop, block: Block, id: &str, key: &str) -> Option<&'g Untold> {
    let own = match block {
        Block::Spec => guide.own.specs.get(id).is_some(),
        Block::Hardware => guide.own.hardware.get(id).is_some(),
        Block::Item | Block::Connector => guide.own.items.get(id).is_some(),
        _ => true,
    };
    let all = if own { &guide.untold } else { &shop.untold };
    all.iter().find(|untold| untold.block == block && untold.key == key && untold.heard.is_none() && untold.of.as_deref() == Some(id))
}

/// What is untold under a key of an operation, a step or the guide block, found by its table.
pub fn at<'g>(guide: &'g Guide<'_>, table: Span, key: &str) -> Option<&'g Untold> {
    guide.untold.iter().find(|untold| untold.table == table && untold.key == key && untold.heard.is_none())
}

/// What is untold of the value of a spec, whatever it measures.
pub fn of_spec<'g>(guide: &'g Guide<'_>, shop: &'g Shop, id: &str) -> Option<&'g Untold> {
    let all = if guide.own.specs.get(id).is_some() { &guide.untold } else { &shop.untold };
    let is_value = |untold: &&Untold| find(Block::Spec, untold.key).is_some_and(|key| matches!(key.kind, Kind::Value(_)));
    let named = |untold: &&Untold| is_value(untold) || matches!(untold.key, "thread" | "drill");
    all.iter().find(|untold| untold.block == Block::Spec && untold.of.as_deref() == Some(id) && untold.heard.is_none() && named(untold))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn word(text: &str) -> String {
        match doubt(text) {
            Doubt::None => "certain".to_owned(),
            Doubt::Untold(answer) => format!("untold|{}", answer.trim()),
            Doubt::Unsure(value, answer) => format!("unsure|{value}|{}", answer.trim()),
        }
    }

    #[test]
    fn certainty_is_read_from_the_text_alone() {
        for (text, expected) in [
            ("45 N·m", "certain"),
            ("untold", "untold|"),
            (" untold: supplier, sheet 4", "untold|supplier, sheet 4"),
            ("untold riches", "certain"),
            ("45 N·m unsure", "unsure|45 N·m|"),
            ("45 N·m, unsure: shop, heard by telephone", "unsure|45 N·m|shop, heard by telephone"),
            ("unsure", "certain"),
            ("4 unsure: vehicle", "unsure|4|vehicle"),
            ("measure twice where unsure of the gap", "certain"),
        ] {
            assert_eq!(word(text), expected, "{text}");
        }
    }
}
