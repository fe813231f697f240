//! On which vehicles something holds: terms over options, what can be chosen, and the one solver of both. How they are spelt, for a
//! reader or a script, is left to writers.

use crate::guide::model::{Condition, Guide};

/// One option that must or must not be there.
#[derive(Clone, Debug, Hash, PartialEq, Eq)]
pub struct Term {
    /// The option's id.
    pub option: String,
    /// Whether it must be absent.
    pub absent: bool,
}

/// Alternatives of which one must hold, each a list of terms that all must hold; without alternatives it always holds.
#[derive(Clone, Debug, Default, Hash, PartialEq, Eq)]
pub struct When(Vec<Vec<Term>>);

impl When {
    /// What always holds.
    pub fn always() -> Self {
        When::default()
    }

    /// A condition of the model.
    pub fn of(condition: &Condition) -> Self {
        When::all(&[condition])
    }

    /// Several conditions that must all hold.
    pub fn all(conditions: &[&Condition]) -> Self {
        let mut terms: Vec<Term> = Vec::new();
        for term in conditions.iter().flat_map(|condition| &condition.0) {
            let term = Term { option: term.option.value.clone(), absent: term.absent };
            if !terms.contains(&term) {
                terms.push(term);
            }
        }
        When::of_terms(terms)
    }

    /// Terms that must all hold.
    pub fn of_terms(terms: Vec<Term>) -> Self {
        if terms.is_empty() { When::always() } else { When(vec![terms]) }
    }

    /// Alternatives of which one must hold; it always holds where one of them does, or there are none.
    pub fn any(alternatives: impl IntoIterator<Item = When>) -> Self {
        let mut all: Vec<Vec<Term>> = Vec::new();
        for when in alternatives {
            if when.is_always() {
                return When::always();
            }
            for alternative in when.0 {
                if !all.contains(&alternative) {
                    all.push(alternative);
                }
            }
        }
        When(all)
    }

    /// Whether there is nothing to hold.
    pub fn is_always(&self) -> bool {
        self.0.is_empty()
    }

    /// The alternatives.
    pub fn alternatives(&self) -> &[Vec<Term>] {
        &self.0
    }

    /// As terms that scripts and other programs read: `a !b` holds with option a and without b, `|` stands between alternatives; none if it
    /// always holds.
    pub fn terms(&self) -> Option<String> {
        let term = |term: &Term| format!("{}{}", if term.absent { "!" } else { "" }, term.option);
        let alternatives = self.0.iter().map(|terms| terms.iter().map(term).collect::<Vec<_>>().join(" "));
        (!self.is_always()).then(|| alternatives.collect::<Vec<_>>().join("|"))
    }

    /// Whether it holds with what `of` knows of each option; none where that depends on one it does not know.
    pub fn holds(&self, of: impl Fn(&str) -> Option<bool>) -> Option<bool> {
        if self.is_always() {
            return Some(true);
        }
        let mut open = false;
        for alternative in &self.0 {
            let each: Vec<Option<bool>> = alternative.iter().map(|term| of(&term.option).map(|there| there != term.absent)).collect();
            if each.iter().all(|holds| *holds == Some(true)) {
                return Some(true);
            }
            open |= !each.contains(&Some(false));
        }
        if open { None } else { Some(false) }
    }
}

/// An option, or several of which exactly one holds.
#[derive(Clone, Debug, Hash, PartialEq, Eq)]
pub struct Choice {
    /// What is chosen: the option's name, or the word of the group.
    pub name: String,
    /// Whether exactly one of them holds; otherwise it is a single option that is there or not.
    pub one_of: bool,
    /// The options.
    pub options: Vec<VehicleOption>,
}

/// An option of the vehicle.
#[derive(Clone, Debug, Hash, PartialEq, Eq)]
pub struct VehicleOption {
    /// Its id.
    pub id: String,
    /// Its name.
    pub name: String,
    /// Options that cannot occur with it.
    pub not_with: Vec<String>,
}

/// What can be chosen, in the order of the guide: a group stands where its first option does.
pub fn choices(guide: &Guide<'_>) -> Vec<Choice> {
    let mut choices: Vec<(Option<&str>, Choice)> = Vec::new();
    for option in &guide.own.options.rows {
        let not_with = option.not_with.iter().map(|id| id.value.clone()).collect();
        let line = VehicleOption { id: option.id.value.clone(), name: option.name.value.clone(), not_with };
        let group = option.one_of.as_ref().map(|word| word.as_str());
        match choices.iter_mut().find(|(known, _)| group.is_some() && *known == group) {
            Some((_, choice)) => choice.options.push(line),
            None => {
                let name = group.map_or_else(|| option.name.value.clone(), |word| upper_first(&word.replace('-', " ")));
                choices.push((group, Choice { name, one_of: group.is_some(), options: vec![line] }));
            }
        }
    }
    choices.into_iter().map(|(_, choice)| choice).collect()
}

/// Whether options can be together on one vehicle, by what `of` says of each: of a group exactly one, and nothing beside what excludes
/// it. What is not known rules nothing out.
pub fn can_be(choices: &[Choice], of: impl Fn(&str) -> Option<bool>) -> bool {
    choices.iter().all(|choice| {
        let states: Vec<Option<bool>> = choice.options.iter().map(|option| of(&option.id)).collect();
        let chosen = states.iter().filter(|state| **state == Some(true)).count();
        let barred =
            choice.options.iter().any(|option| of(&option.id) == Some(true) && option.not_with.iter().any(|other| of(other) == Some(true)));
        !barred && (!choice.one_of || chosen == 1 || (chosen == 0 && states.contains(&None)))
    })
}

fn upper_first(word: &str) -> String {
    let mut chars = word.chars();
    chars.next().map_or_else(String::new, |first| first.to_uppercase().chain(chars).collect())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn when(text: &str) -> When {
        let term = |word: &str| Term { option: word.trim_start_matches('!').to_owned(), absent: word.starts_with('!') };
        When(text.split('|').map(|alternative| alternative.split(' ').map(term).collect()).collect())
    }

    #[test]
    fn alternatives_are_told_once_and_not_where_one_always_holds() {
        assert_eq!(When::any([when("a"), when("b !c"), when("a")]), when("a|b !c"));
        assert_eq!(When::any([when("a"), When::always()]), When::always());
        assert_eq!(When::any([]), When::always());
    }

    #[test]
    fn what_depends_on_an_unknown_option_is_open() {
        let of = |id: &str| match id {
            "a" => Some(true),
            "b" => Some(false),
            _ => None,
        };
        for (text, holds) in
            [("a", Some(true)), ("!a", Some(false)), ("a c", None), ("b c", Some(false)), ("b|c", None), ("c|a", Some(true))]
        {
            assert_eq!(when(text).holds(of), holds, "{text}");
        }
        assert_eq!(When::always().holds(of), Some(true));
    }

    /// A guide of four options: two in a group, and one that excludes another where `barred`.
    fn guide_of(barred: bool) -> String {
        let not_with = if barred { "not_with = [\"a\"]\n" } else { "" };
        let option = |id: &str, rest: &str| format!("\n[[option]]\nid = \"{id}\"\nname = \"{id}\"\n{rest}");
        let group = "one_of = \"g\"\n";
        let options = [option("a", group), option("b", group), option("c", not_with), option("d", "")].concat();
        format!("+++\ntitle = \"Demonstration\"\n{options}+++\n\n## Step\n")
    }

    proptest::proptest! {
        /// The review enumerates combinations by sets of options, documents ask for single ones by their ids: what is settled must hold,
        /// fail or stay open in both, and a whole combination be possible in both or in neither.
        #[test]
        fn the_review_and_the_document_answer_alike(
            barred: bool,
            known in 0u128..16,
            with in 0u128..16,
            need in 0u128..16,
            bar in 0u128..16,
        ) {
            use crate::guide::variant::{Choice as Settled, Terms, Variants};
            let source = crate::source::SourceFile::new("a.md", guide_of(barred));
            let (guide, _) = crate::guide::read(&source, crate::source::FileId(0), "a", &crate::guide::shop::unnamed());
            let variants = Variants::new(&guide);
            let choices = choices(&guide);
            let ids = ["a", "b", "c", "d"];
            let settled = Settled { known, with: with & known };
            let of = |id: &str| {
                let bit = 1u128 << ids.iter().position(|one| *one == id)?;
                (known & bit != 0).then_some(with & bit != 0)
            };
            let terms = |set: u128, absent: bool| {
                let bits = (0..4).filter(move |at| set >> at & 1 == 1);
                bits.map(move |at| Term { option: ids[at].to_owned(), absent })
            };
            let when = When::of_terms(terms(need, false).chain(terms(bar, true)).collect());
            let sets = Terms { need, bar };
            // What contradicts itself never holds; that is open only to whoever does not look at both terms at once.
            if need & bar == 0 {
                proptest::prop_assert_eq!(when.holds(of), sets.holds(settled));
            }
            if known == 15 {
                proptest::prop_assert_eq!(can_be(&choices, of), variants.possible(settled));
            } else if variants.possible(settled) {
                proptest::prop_assert!(can_be(&choices, of));
            }
        }
    }
}
