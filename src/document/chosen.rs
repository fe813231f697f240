//! The options of the vehicle that a sheet or a record is for: what does not apply is left out, what is certain loses its label, and counts follow.
//! An option that nobody spoke of stays open, and what depends on it keeps its label. The script of the page does the same.

use std::collections::BTreeMap;

use std::error::Error;
use std::fmt;

use super::phrase;
use super::when::{Choice, When};
use super::{Counted, Document};
use crate::near::{did_you_mean, nearest};

/// Why a choice of options cannot be.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum CannotBe {
    /// The guide has no such option.
    Unknown {
        /// As it was given.
        option: String,
        /// The nearest that it has.
        near: Option<String>,
        /// All that it has.
        known: Vec<String>,
    },
    /// One option is said to be there and not to be there.
    Both(String),
    /// None of a group of which one must be there; its options.
    NoneOf(Vec<String>),
    /// Two options exclude each other.
    Together(String, String),
}

impl fmt::Display for CannotBe {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            CannotBe::Unknown { option, near, known } => {
                write!(out, "the guide has no option `{option}`{}; ", did_you_mean(near.as_deref()))?;
                if known.is_empty() { out.write_str("it has no options") } else { write!(out, "its options are: {}", known.join(", ")) }
            }
            CannotBe::Both(option) => write!(out, "`{option}` cannot be there and not be there; say it once"),
            CannotBe::NoneOf(options) => {
                let ids: Vec<String> = options.iter().map(|id| format!("`{id}`")).collect();
                write!(out, "one of {} must be there", ids.join(", "))
            }
            CannotBe::Together(one, other) => write!(out, "`{one}` and `{other}` cannot be on one vehicle"),
        }
    }
}

impl Error for CannotBe {}

/// Which options the vehicle has and has not.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Chosen {
    /// Options that are there, in the order of the guide.
    pub with: Vec<String>,
    /// Options that are not, where that was said of them.
    pub without: Vec<String>,
    has: BTreeMap<String, bool>,
    names: BTreeMap<String, String>,
}

impl Chosen {
    /// The choice, held against what the guide knows; the error says what cannot be.
    pub fn new(choices: &[Choice], with: &[String], without: &[String]) -> Result<Chosen, CannotBe> {
        let options = || choices.iter().flat_map(|choice| choice.options.iter().map(move |option| (choice, option)));
        let names: BTreeMap<String, String> = options().map(|(_, option)| (option.id.clone(), option.name.clone())).collect();
        for id in with.iter().chain(without) {
            if !names.contains_key(id) {
                let near = nearest(id, names.keys().map(String::as_str)).map(str::to_owned);
                return Err(CannotBe::Unknown {
                    option: id.clone(),
                    near,
                    known: options().map(|(_, option)| option.id.clone()).collect(),
                });
            }
        }
        if let Some(id) = with.iter().find(|id| without.contains(id)) {
            return Err(CannotBe::Both(id.clone()));
        }
        let mut has: BTreeMap<String, bool> = BTreeMap::new();
        has.extend(without.iter().map(|id| (id.clone(), false)));
        // Of a group exactly one holds: when all others are not there, the last one is.
        let mut with: Vec<String> = with.to_vec();
        for choice in choices.iter().filter(|choice| choice.one_of) {
            let open: Vec<&str> = choice.options.iter().map(|option| option.id.as_str()).filter(|id| !has.contains_key(*id)).collect();
            match open.as_slice() {
                [] => return Err(CannotBe::NoneOf(choice.options.iter().map(|option| option.id.clone()).collect())),
                [last] if choice.options.len() > 1 && !with.iter().any(|id| id == last) => with.push((*last).to_owned()),
                _ => {}
            }
        }
        has.extend(with.iter().map(|id| (id.clone(), true)));
        for id in &with {
            for (choice, option) in options() {
                let excludes = |one: &str, other: &str| {
                    options().any(|(_, option)| option.id == one && option.not_with.iter().any(|barred| barred == other))
                };
                let group = choice.one_of && choice.options.iter().any(|other| other.id == *id);
                if option.id != *id && (group || excludes(id, &option.id) || excludes(&option.id, id)) {
                    if with.contains(&option.id) {
                        return Err(CannotBe::Together(id.clone(), option.id.clone()));
                    }
                    has.insert(option.id.clone(), false);
                }
            }
        }
        let in_order = |given: &[String]| options().map(|(_, option)| option.id.clone()).filter(|id| given.contains(id)).collect();
        // What a group rules out is told by the one that is there.
        let grouped = |id: &str| choices.iter().any(|choice| choice.one_of && choice.options.iter().any(|option| option.id == id));
        let told: Vec<String> = without.iter().filter(|id| !grouped(id)).cloned().collect();
        Ok(Chosen { with: in_order(&with), without: in_order(&told), has, names })
    }

    /// Whether nothing was chosen.
    pub fn is_empty(&self) -> bool {
        self.has.is_empty()
    }

    /// Whether an option is there; none where it is open.
    pub fn of(&self, id: &str) -> Option<bool> {
        self.has.get(id).copied()
    }

    /// Whether a condition holds; none where that depends on what is open.
    pub fn holds(&self, when: &When) -> Option<bool> {
        when.holds(|id| self.of(id))
    }

    /// The choice as the address of the page takes it: nothing, or with a question mark before it.
    pub fn query(&self) -> String {
        let part = |word: &str, ids: &[String]| (!ids.is_empty()).then(|| format!("{word}={}", ids.join(",")));
        let parts: Vec<String> = [part("with", &self.with), part("without", &self.without)].into_iter().flatten().collect();
        if parts.is_empty() { String::new() } else { format!("?{}", parts.join("&")) }
    }

    /// The choice as part of a file's name: `-heated-seat-no-partition`.
    pub fn suffix(&self) -> String {
        let with = self.with.iter().map(|id| format!("-{id}"));
        with.chain(self.without.iter().map(|id| format!("-no-{id}"))).collect()
    }

    /// The choice in words; none where nothing was chosen.
    pub fn words(&self) -> Option<String> {
        let name = |id: &String| self.names.get(id).map_or(id.clone(), |name| phrase::lower_first(name));
        let with = self.with.iter().map(|id| format!("with {}", name(id)));
        let words: Vec<String> = with.chain(self.without.iter().map(|id| format!("without {}", name(id)))).collect();
        (!words.is_empty()).then(|| words.join(", "))
    }

    /// The condition in words where it depends on what is open: `only with heated seat`.
    pub fn condition(&self, when: &When, choices: &[Choice]) -> Option<String> {
        if self.holds(when).is_some() { None } else { phrase::needed_when(when, choices) }
    }

    /// Takes out of a guide what does not apply.
    pub fn apply(&self, document: &mut Document) {
        if self.is_empty() {
            return;
        }
        let stays = |when: &mut When| {
            let holds = self.holds(when);
            if holds == Some(true) {
                *when = When::always();
            }
            holds != Some(false)
        };
        document.cautions.retain_mut(|caution| stays(&mut caution.when));
        for phase in &mut document.phases {
            phase.steps.retain_mut(|step| stays(&mut step.when));
            for step in &mut phase.steps {
                step.cautions.retain_mut(|caution| stays(&mut caution.when));
                step.standing.retain_mut(|one| stays(&mut one.caution.when));
                step.operations.retain_mut(|operation| stays(&mut operation.when));
                step.forget_untold();
            }
        }
        document.phases.retain(|phase| !phase.steps.is_empty());
        document.torques.retain_mut(|row| stays(&mut row.when));
        document.tools.retain(|tool| self.holds(&tool.when) != Some(false));
        document.consumables.retain(|row| self.holds(&row.when) != Some(false));
        for rows in [&mut document.parts, &mut document.kit_hardware, &mut document.vehicle_hardware] {
            rows.retain_mut(|row| self.holds(&row.when) != Some(false) && self.count(row));
        }
    }

    /// Puts the count that is needed in the place of the one that covers everything; gives back whether any is.
    fn count(&self, row: &mut Counted) -> bool {
        if row.amounts.is_empty() {
            return true;
        }
        let Some(sum) = amount(&row.amounts, |id| self.of(id)) else { return true };
        row.count = Some(sum);
        sum > 0
    }
}

/// The sum of what is needed: 4 always, and 2 more where a condition holds; none where it depends on an option that `of` does not know.
pub fn amount(amounts: &[(i64, When)], of: impl Fn(&str) -> Option<bool>) -> Option<i64> {
    let mut sum = 0_i64;
    for (count, when) in amounts {
        if when.holds(&of)? {
            sum += count;
        }
    }
    Some(sum.max(0))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::document::when::{Term, VehicleOption};

    fn choices() -> Vec<Choice> {
        let option = |id: &str, not_with: &str| VehicleOption {
            id: id.into(),
            name: format!("The {id}"),
            not_with: not_with.split_whitespace().map(str::to_owned).collect(),
        };
        vec![
            Choice { name: "Gearbox".into(), one_of: true, options: vec![option("manual", ""), option("automatic", "")] },
            Choice { name: "Seat".into(), one_of: false, options: vec![option("heated-seat", "bench")] },
            Choice { name: "Bench".into(), one_of: false, options: vec![option("bench", "")] },
        ]
    }

    fn chosen(with: &[&str], without: &[&str]) -> Result<Chosen, CannotBe> {
        let owned = |ids: &[&str]| ids.iter().map(|id| (*id).to_owned()).collect::<Vec<_>>();
        Chosen::new(&choices(), &owned(with), &owned(without))
    }

    #[test]
    fn what_follows_from_a_choice_is_known() {
        let one = chosen(&["bench"], &["manual"]).unwrap();
        assert_eq!((one.of("automatic"), one.of("heated-seat"), one.of("manual")), (Some(true), Some(false), Some(false)));
        assert_eq!(one.query(), "?with=automatic,bench");
        let open = chosen(&[], &["heated-seat"]).unwrap();
        let when = |terms: &[(&str, bool)]| {
            When::any([When::of_terms(terms.iter().map(|(id, absent)| Term { option: (*id).into(), absent: *absent }).collect())])
        };
        assert_eq!(open.holds(&When::any([when(&[("manual", false), ("heated-seat", true)]), when(&[("heated-seat", false)])])), None);
        assert_eq!(open.holds(&when(&[("manual", false), ("heated-seat", false)])), Some(false));
        assert_eq!((open.words().as_deref(), open.suffix().as_str()), (Some("without the heated-seat"), "-no-heated-seat"));
    }

    #[test]
    fn what_cannot_be_is_refused_with_a_reason() {
        let why = |with: &[&str], without: &[&str]| chosen(with, without).unwrap_err().to_string();
        assert_eq!(
            why(&["heated-saet"], &[]),
            "the guide has no option `heated-saet`; did you mean `heated-seat`?; its options are: manual, automatic, heated-seat, bench"
        );
        assert_eq!(chosen(&["manual", "automatic"], &[]), Err(CannotBe::Together("manual".into(), "automatic".into())));
        assert_eq!(why(&["heated-seat", "bench"], &[]), "`heated-seat` and `bench` cannot be on one vehicle");
        assert_eq!(why(&["bench"], &["bench"]), "`bench` cannot be there and not be there; say it once");
        assert_eq!(why(&[], &["manual", "automatic"]), "one of `manual`, `automatic` must be there");
    }
}
