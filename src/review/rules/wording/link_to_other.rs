//! `link-to-other`: the words of a reference name another thing than the one it leads to.

use crate::finding::{Finding, RuleName, Severity};
use crate::guide::model::Text;
use crate::guide::prose::RefKind;
use crate::guide::words::PassageRef;
use crate::review::named::{is_content, singular, words};
use crate::review::rule::{Check, Family, Rule, Subject};

pub(crate) const RULE: Rule =
    Rule::new(RuleName::LinkToOther, Family::Wording, Severity::Query, Check::Guide(check), include_str!("link_to_other.md"));

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    let all = names(subject);
    for reading in (0..subject.guide.steps.len()).flat_map(|step| subject.words().step(step)) {
        for reference in &reading.passage.references {
            let Some(own) = all.iter().find(|name| name.is(reference)) else { continue };
            let text = &reading.passage.text[reference.range.clone()];
            let said: Vec<String> =
                words(text).into_iter().filter(|word| is_content(word)).map(|word| singular(&word).to_owned()).collect();
            if said.is_empty() || said.iter().all(|word| own.has(word)) {
                continue;
            }
            let other = all.iter().find(|name| {
                let whole = said.iter().all(|word| name.name.contains(word));
                // One word is often short for something; only where it is the whole name of another it means that one.
                !name.is(reference) && whole && (said.len() > 1 || name.name.len() == 1)
            });
            // What both names share is told apart by the words that only one has.
            let Some(other) = other.filter(|_| said.iter().any(|word| !own.has(word))) else { continue };
            let message = format!("the words say \"{text}\", which is `{}`, and lead to `{}`", other.printed, own.printed);
            let place = subject.guide.place(reading.passage.place(reference.range.start, reference.range.end));
            findings.push(RULE.at(place, message, "mend the words or the id, whichever is wrong"));
        }
    }
}

/// What a thing, value or tool is called.
struct Called<'g> {
    kinds: &'static [RefKind],
    id: &'g str,
    printed: &'g str,
    /// The words of its name.
    name: Vec<String>,
    /// Those of its id.
    of_id: Vec<String>,
}

impl Called<'_> {
    fn is(&self, reference: &PassageRef) -> bool {
        self.kinds.contains(&reference.kind) && self.id == reference.id
    }

    fn has(&self, word: &String) -> bool {
        self.name.contains(word) || self.of_id.contains(word)
    }
}

fn names<'g>(subject: &Subject<'g, '_>) -> Vec<Called<'g>> {
    const ITEM: &[RefKind] = &[RefKind::Item, RefKind::Connector];
    let mut all = Vec::new();
    let mut add = |kinds, id: &'g Text, name: &'g str| {
        let single = |text: &str| words(text).iter().map(|word| singular(word).to_owned()).collect::<Vec<_>>();
        all.push(Called { kinds, id: id.as_str(), printed: name, name: single(name), of_id: single(id.as_str()) });
    };
    for definitions in subject.names.both() {
        definitions.items.rows.iter().for_each(|row| add(ITEM, &row.id, row.name.as_str()));
        definitions.parts.rows.iter().for_each(|row| add(&[RefKind::Part], &row.id, row.name.as_str()));
        definitions.hardware.rows.iter().for_each(|row| add(&[RefKind::Hardware], &row.id, row.name.as_str()));
        definitions.tools.rows.iter().for_each(|row| add(&[RefKind::Tool], &row.id, row.name.as_str()));
    }
    all
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::review::trial::{THINGS, finds, leaves_alone};

    #[test]
    fn the_fault_is_found_at_its_words() {
        let cases = [
            ("", "Look at [the return hose](item:feed).", "the return hose"),
            ("", "Look at [the rail end cover](item:seat).", "the rail end cover"),
            ("", "Look at [the seat](item:cover).", "the seat"),
            ("", "Hold [the flange bolts](hardware:ring-nut).", "the flange bolts"),
        ];
        finds(&RULE, THINGS, &cases);
    }

    #[test]
    fn what_is_right_is_left_alone() {
        let cases = [
            ("", "Look at [the hose](item:feed)."),
            ("", "Look at [the pipe](item:feed)."),
            ("", "Look at [the grey connector](connector:heater-plug)."),
            ("", "Look at [it](item:feed)."),
            ("", "Look at [both hoses](item:feed)."),
            ("", "Hold [the four bolts](hardware:bolt)."),
            ("", "Hold [the base](part:base)."),
        ];
        leaves_alone(&RULE, THINGS, &cases);
    }
}
