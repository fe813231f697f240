//! Conditions as terms that a page's script reads: `a !b` holds with option a and without b, `|` stands between alternatives. The same
//! conditions in words are made in `guide_page`.

use crate::guide::model::{Condition, Guide};
use crate::publish::page_data::{Choice, OptionLine};

/// A condition as terms; none if it always holds.
pub fn terms(condition: &Condition) -> Option<String> {
    all(&[condition])
}

/// Several conditions that must all hold, as terms; none if they always do.
pub fn all(conditions: &[&Condition]) -> Option<String> {
    let mut words: Vec<String> = Vec::new();
    for term in conditions.iter().flat_map(|condition| &condition.0) {
        let word = format!("{}{}", if term.absent { "!" } else { "" }, term.option.value);
        if !words.contains(&word) {
            words.push(word);
        }
    }
    (!words.is_empty()).then(|| words.join(" "))
}

/// Conditions of which one must hold, each as [`terms`] makes them; none if one of them always does, or there are none.
pub fn any(alternatives: impl IntoIterator<Item = Option<String>>) -> Option<String> {
    let mut words: Vec<String> = Vec::new();
    for alternative in alternatives {
        let alternative = alternative?;
        if !words.contains(&alternative) {
            words.push(alternative);
        }
    }
    (!words.is_empty()).then(|| words.join("|"))
}

/// What can be chosen, in the order of the guide: a group stands where its first option does.
pub fn choices(guide: &Guide<'_>) -> Vec<Choice> {
    let mut choices: Vec<(Option<&str>, Choice)> = Vec::new();
    for option in &guide.own.options.rows {
        let not_with: Vec<&str> = option.not_with.iter().map(|id| id.as_str()).collect();
        let line = OptionLine { id: option.id.value.clone(), name: option.name.value.clone(), not_with: not_with.join(" ") };
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

fn upper_first(word: &str) -> String {
    let mut chars = word.chars();
    chars.next().map_or_else(String::new, |first| first.to_uppercase().chain(chars).collect())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn alternatives_are_told_once_and_not_where_one_always_holds() {
        let some = |text: &str| Some(text.to_owned());
        assert_eq!(any([some("a"), some("b !c"), some("a")]), some("a|b !c"));
        assert_eq!(any([some("a"), None]), None);
        assert_eq!(any([]), None);
    }
}
