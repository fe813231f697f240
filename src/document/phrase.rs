//! The words in which facts of a document are told, the same on every page, sheet and file: dates, conditions, fasteners, what becomes
//! of them.

use super::value::Value;
use super::when::{Choice, When};
use super::{Caution, Consumable, Counted, Document, Fasteners, Head, Operation, Remark, Target, Torque, TorqueRow};
use crate::guide::model::Date;
use crate::guide::tally;
use crate::guide::untold::Who;
use crate::guide::verb::Verb;
use crate::quantity;

/// A count; a blank where nobody knows it yet.
pub fn count_words(count: u32) -> String {
    if count == 0 { "____".to_owned() } else { count.to_string() }
}

/// The heading of the questions that somebody can answer.
pub fn asked(who: Option<Who>) -> &'static str {
    match who {
        Some(Who::Supplier) => "Ask the supplier",
        Some(Who::Vehicle) => "Look at the vehicle, or in its maker’s instructions",
        Some(Who::Shop) => "Decide in the shop",
        None => "Find out who knows",
    }
}

impl super::Question {
    /// What is not known, with what somebody heard of it.
    pub fn words(&self) -> String {
        match &self.heard {
            Some(heard) => format!("{} (heard: {heard})", self.text),
            None => self.text.clone(),
        }
    }
}

/// A date in words: `14 Sep 2026`.
pub fn date(date: Date) -> String {
    const MONTHS: [&str; 12] = ["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"];
    format!("{} {} {}", date.day, MONTHS.get(usize::from(date.month).wrapping_sub(1)).unwrap_or(&"?"), date.year)
}

/// A duration in words that break between its ends only: `2 h 30 min to 3 h`.
pub fn duration(value: &Value) -> String {
    let words = value.quantity().map_or_else(|| value.spelt().first.clone(), quantity::duration_words);
    let ends: Vec<String> = words.split(" to ").map(|end| end.replace(' ', "\u{a0}")).collect();
    ends.join(" to ")
}

/// The time for a job: as the guide states it, or else as far as its steps tell it.
pub fn time(head: &Head) -> Option<String> {
    let stated = head.hours.as_ref();
    let known = stated.filter(|hours| hours.untold().is_none()).map(duration);
    if known.is_some() || head.least == 0 {
        return known.or_else(|| stated.map(duration));
    }
    let blank = stated.map_or_else(String::new, |hours| format!("{}, ", duration(hours)));
    let without = match head.untimed {
        0 => String::new(),
        1 => " and one step without a time".to_owned(),
        untimed => format!(" and {untimed} steps without a time"),
    };
    Some(format!("{blank}at least {}{without}", tally::minutes_words(head.least).replace(' ', "\u{a0}")))
}

/// A name in the middle of a sentence; abbreviations keep their capitals.
pub fn lower_first(name: &str) -> String {
    let mut chars = name.chars();
    match (chars.next(), chars.next()) {
        (Some(first), Some(second)) if second.is_lowercase() => first.to_lowercase().collect::<String>() + &name[first.len_utf8()..],
        _ => name.to_owned(),
    }
}

/// The name of an option; its id where nothing is known of it.
pub fn option<'c>(choices: &'c [Choice], id: &'c str) -> &'c str {
    choices.iter().flat_map(|choice| &choice.options).find(|option| option.id == id).map_or(id, |option| option.name.as_str())
}

/// A condition in words: `only with heated seat, without tow pack`; none where it always holds.
pub fn when(when: &When, choices: &[Choice]) -> Option<String> {
    conditions(when, choices, ", ")
}

/// The same for what is needed with one of several: `only with heated seat and without tow pack, or with winch`.
pub fn needed_when(when: &When, choices: &[Choice]) -> Option<String> {
    conditions(when, choices, " and ")
}

fn conditions(when: &When, choices: &[Choice], between: &str) -> Option<String> {
    let alternative = |terms: &Vec<super::when::Term>| {
        let words = terms.iter().map(|term| {
            let with = if term.absent { "without" } else { "with" };
            format!("{with} {}", lower_first(option(choices, &term.option)))
        });
        words.collect::<Vec<_>>().join(between)
    };
    let all: Vec<String> = when.alternatives().iter().map(alternative).collect();
    (!all.is_empty()).then(|| format!("only {}", all.join(", or ")))
}

impl Document {
    /// A condition of this guide in words; none where it always holds.
    pub fn when_words(&self, condition: &When) -> Option<String> {
        when(condition, &self.choices)
    }
}

impl Fasteners {
    /// The fastener without its count: name, thread, class, and the drive where asked for.
    pub fn name_words(&self, with_drive: bool) -> String {
        let mut words = if self.thread.is_empty() { self.name.clone() } else { format!("{} {}", self.name, self.thread) };
        if let (Some(drive), true) = (&self.drive, with_drive) {
            words.push_str(&format!(" ({drive})"));
        }
        words
    }

    /// With its count: `4 × Seat rail bolt M8 (T50)`.
    pub fn words(&self) -> String {
        format!("{} × {}", count_words(self.count), self.name_words(true))
    }
}

impl Target {
    fn words(&self) -> String {
        if self.count == 1 { self.name.clone() } else { format!("{} × {}", count_words(self.count), self.name) }
    }
}

impl Operation {
    /// What it acts on, in words.
    pub fn things(&self) -> String {
        let named = self.targets.iter().filter(|target| !target.told_as_hardware);
        named.map(Target::words).collect::<Vec<_>>().join(", ")
    }

    /// The passes that are ticked one by one, of tightening or of undoing.
    pub fn passes(&self) -> impl Iterator<Item = &super::words::Line> {
        self.torque.iter().flat_map(|torque| &torque.passes).chain(&self.undo_passes)
    }
}

impl Torque {
    /// The order, in words.
    pub fn pattern_words(&self) -> Option<String> {
        self.pattern.as_ref().map(|pattern| match pattern.as_str() {
            "circle" => "round the circle, crosswise".to_owned(),
            "rectangle" => "from the middle outwards".to_owned(),
            "in-order" => "in the order of the step".to_owned(),
            "maker-sequence" => match &self.source {
                Some(source) => format!("in the maker’s sequence, see {source}"),
                None => "in the maker’s sequence".to_owned(),
            },
            other => other.to_owned(),
        })
    }

    /// All passes in one line; none where there is one pass.
    pub fn passes_words(&self) -> Option<String> {
        let passes: Vec<String> = self.passes.iter().map(super::words::Line::text).collect();
        (!passes.is_empty()).then(|| passes.join(", then "))
    }
}

/// What is tightened: the fasteners, or the things themselves where no fasteners are named.
pub fn fastened(fasteners: &[Fasteners], things: &[String]) -> String {
    if fasteners.is_empty() {
        return things.join("; ");
    }
    fasteners.iter().map(|fasteners| format!("{} × {}", count_words(fasteners.count), fasteners.name)).collect::<Vec<_>>().join("; ")
}

impl TorqueRow {
    /// What is tightened: `4 × Flange bolt`.
    pub fn fastener(&self) -> String {
        fastened(&self.fasteners, &self.things)
    }

    /// Threads and classes.
    pub fn thread(&self) -> String {
        let threads = self.fasteners.iter().map(|fasteners| fasteners.thread.as_str()).filter(|words| !words.is_empty());
        threads.collect::<Vec<_>>().join("; ")
    }

    /// Drives.
    pub fn drive(&self) -> String {
        self.fasteners.iter().filter_map(|fasteners| fasteners.drive.as_deref()).collect::<Vec<_>>().join("; ")
    }

    /// Where it is, in words.
    pub fn place_words(&self) -> Option<String> {
        (!self.place.is_empty()).then(|| self.place.join(", "))
    }
}

impl Counted {
    /// How many, as printed; a blank where nobody knows it yet, empty where the guide does not say.
    pub fn count_words(&self) -> String {
        let asked = self.remarks.iter().any(|remark| matches!(remark, Remark::Uncounted | Remark::UncountedOn));
        let none = if asked { count_words(0) } else { String::new() };
        self.count.map_or(none, |count| count.to_string())
    }

    /// Whether nobody has told how many there are.
    pub fn is_untold(&self) -> bool {
        self.remarks.iter().any(|remark| matches!(remark, Remark::Uncounted | Remark::UncountedOn | Remark::Needed))
    }

    /// What is said behind it.
    pub fn note(&self, choices: &[Choice]) -> Option<String> {
        let told = |remark: &Remark| match remark {
            Remark::Only(condition) => when(condition, choices),
            Remark::Spare(count) => Some(format!("{count} to spare")),
            Remark::Shelf => Some("from the shop's shelf".to_owned()),
            Remark::ThrownAway => Some("thrown away".to_owned()),
            Remark::NotBack => Some("no step puts it back on".to_owned()),
            Remark::Needed => Some("needed; how many are supplied is not told".to_owned()),
            Remark::Uncounted => Some("how many are supplied is not told".to_owned()),
            Remark::UncountedOn => Some("how many are on the vehicle is not told".to_owned()),
            Remark::OneUse => Some("not to be used again".to_owned()),
            Remark::Note(words) => Some(words.clone()),
        };
        let words: Vec<String> = self.remarks.iter().filter_map(told).collect();
        (!words.is_empty()).then(|| words.join(", "))
    }
}

impl Consumable {
    /// In one line: `Sealing paste, grey, 20 ml, SP-20, only with heated seat`.
    pub fn words(&self, choices: &[Choice]) -> String {
        let parts =
            [Some(self.name.clone()), self.amount.clone(), self.number.clone(), needed_when(&self.when, choices), self.note.clone()];
        parts.into_iter().flatten().collect::<Vec<_>>().join(", ")
    }
}

impl Caution {
    /// The signal word in capitals.
    pub fn word(&self) -> String {
        self.signal.key().to_uppercase()
    }
}

/// How a thing is while it is open in the way of a verb: `unplugged`.
pub fn open_state(way: Verb, connector: bool) -> &'static str {
    match way {
        // Bolts that were started by hand were never loosened.
        Verb::Loosen => "loose",
        Verb::Disconnect if connector => "unplugged",
        other => other.done(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn dates_and_names_are_written_as_people_do() {
        let day = Date { year: 2026, month: 9, day: 14 };
        assert_eq!((date(day).as_str(), day.to_string().as_str()), ("14 Sep 2026", "2026-09-14"));
        assert_eq!(lower_first("Heated seat"), "heated seat");
        assert_eq!(lower_first("LED lamp"), "LED lamp");
    }
}
