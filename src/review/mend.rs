//! Makes the certain repairs of a guide in its text: pure, text in and text out. What is certain is said by
//! whoever reports the finding; reading and writing files is left to `cli` and `disk`.

use std::collections::BTreeMap;

use crate::finding::Finding;
use crate::guide::model::{Guide, Operation, TorqueRef};
use crate::guide::short::flags;
use crate::quantity;
use crate::review::carry::Carried;
use crate::source::FileId;

/// A repair can bring the next one to light. A text that is not at rest after so many rounds is left as it is then.
const ROUNDS: usize = 16;

/// What the review makes of a text.
#[derive(Debug, Default)]
pub struct Look {
    /// The findings that stand; accepted ones are not mended.
    pub findings: Vec<Finding>,
    /// The values that were read, see [`values`].
    pub values: Values,
    /// What the steps do, see [`operations`].
    pub operations: Vec<String>,
    /// Operations that can move into the sentence that tells them, see [`carry`](crate::review::carry).
    pub carried: Vec<Carried>,
}

/// Every value that was read from a guide, by what it belongs to, as it is printed.
pub type Values = BTreeMap<String, Vec<String>>;

/// A text after mending.
#[derive(Debug, PartialEq, Eq)]
pub struct Mended {
    /// The text.
    pub text: String,
    /// How many repairs were made.
    pub count: usize,
}

/// The values of a guide: those of its specs, and torques that operations give in place.
pub fn values(guide: &Guide<'_>) -> Values {
    let mut values = Values::new();
    let mut add = |of: &str, value: String| values.entry(of.to_owned()).or_default().push(value);
    for spec in &guide.own.specs.rows {
        if let Some(quantity) = spec.quantity() {
            add(&spec.id.value, quantity::spell(quantity));
        }
    }
    for (at, operation) in guide.operations() {
        if let Some(TorqueRef::InPlace(stated)) = &operation.torque
            && let Some(quantity) = &stated.value.quantity
        {
            add(&format!("step {at}"), quantity::spell(quantity));
        }
    }
    values
}

/// What every step of a guide does, in order, however it is written.
pub fn operations(guide: &Guide<'_>) -> Vec<String> {
    fn said(operation: &Operation) -> String {
        let ids = |ids: &[crate::guide::model::Text]| {
            let mut ids: Vec<&str> = ids.iter().map(|id| id.as_str()).collect();
            ids.sort_unstable();
            ids.join(" ")
        };
        let hardware: Vec<String> = operation.hardware.iter().map(|count| format!("{} {}", count.count, count.id.value)).collect();
        let torque = match &operation.torque {
            Some(TorqueRef::Spec(id)) => id.value.as_str(),
            Some(TorqueRef::InPlace(stated)) => stated.value.text.as_str(),
            None => "",
        };
        let text = |text: &Option<crate::guide::model::Text>| text.as_ref().map_or(String::new(), |text| text.value.clone());
        let when: Vec<String> = operation.when.0.iter().map(|term| format!("{} {}", term.absent, term.option.value)).collect();
        let targets: Vec<&str> = operation.targets.iter().map(|id| id.as_str()).collect();
        format!(
            "{:?}|{targets:?}|{:?}|{hardware:?}|{torque}|{:?}|{}|{:?}|{}|{}|{:?}|{when:?}|{}|{}|{}|{}|{:?}|{:?}|{}",
            operation.verb,
            operation.count.map(|count| count.value),
            operation.adapter_angle.as_ref().map(|angle| &angle.value.text),
            text(&operation.loosen_as),
            operation.loosen_stages.iter().map(|stage| stage.as_str()).collect::<Vec<_>>(),
            text(&operation.source),
            ids(&operation.specs),
            flags(operation),
            ids(&operation.with),
            text(&operation.note),
            text(&operation.onto),
            text(&operation.place),
            operation.wait.as_ref().map(|wait| &wait.value.text),
            operation.holes.map(|holes| holes.value),
            text(&operation.pilot),
        )
    }
    guide.operations().map(|(step, operation)| format!("{step}|{}", said(operation))).collect()
}

/// Makes every certain repair in `text`, and those that come to light by it. `look` reviews a text. A round of repairs
/// after which a value reads otherwise than before, or is gone, is not made.
pub fn mend(text: &str, file: FileId, look: impl Fn(&str) -> Look) -> Mended {
    let mut mended = Mended { text: text.to_owned(), count: 0 };
    let mut seen = look(text);
    for _ in 0..ROUNDS {
        let (next, count) = once(&mended.text, file, &seen.findings);
        if count == 0 {
            break;
        }
        let after = look(&next);
        if !keeps(&seen.values, &after.values) {
            break;
        }
        mended = Mended { text: next, count: mended.count + count };
        seen = after;
    }
    // From the last step to the first, so that what is left to carry stays where it was found.
    let waiting = std::mem::take(&mut seen.carried);
    for carried in waiting.iter().rev() {
        let next = carried.apply(&mended.text);
        let after = look(&next);
        // Every step does what it did, in the order it did, and nothing is told that was not told before.
        if after.operations == seen.operations && keeps(&seen.values, &after.values) && after.findings.len() <= seen.findings.len() {
            mended = Mended { text: next, count: mended.count + carried.count };
            seen = after;
        }
    }
    mended
}

/// Makes the certain edits of `findings` that do not overlap, from the end of the text to its start.
fn once(text: &str, file: FileId, findings: &[Finding]) -> (String, usize) {
    let certain = findings.iter().filter(|finding| finding.place.file == file).filter_map(|finding| finding.edit.as_ref());
    let mut edits: Vec<_> = certain.filter(|edit| edit.certain && text.get(edit.span.range()).is_some()).collect();
    edits.sort_by_key(|edit| (edit.span.start, edit.span.end));
    let mut chosen: Vec<_> = Vec::with_capacity(edits.len());
    for edit in edits {
        // Two insertions at one place would come out in a chance order, so the second waits for the next round.
        let clear = chosen.last().is_none_or(|last: &&crate::finding::Edit| last.span.end <= edit.span.start && last.span != edit.span);
        if clear && text[edit.span.range()] != edit.text {
            chosen.push(edit);
        }
    }
    let mut mended = text.to_owned();
    for edit in chosen.iter().rev() {
        mended.replace_range(edit.span.range(), &edit.text);
    }
    (mended, chosen.len())
}

fn keeps(before: &Values, after: &Values) -> bool {
    before.iter().all(|(of, values)| {
        let mut rest = after.get(of).cloned().unwrap_or_default();
        values.iter().all(|value| rest.iter().position(|other| other == value).map(|at| rest.swap_remove(at)).is_some())
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::finding::RuleName;
    use crate::guide::picture::Pictures;
    use crate::guide::{self, model::Shop};
    use crate::review::carry::carry;
    use crate::source::{Place, SourceFile, Span};
    use proptest::prelude::*;

    const FILE: FileId = FileId(1);

    fn shop() -> Shop {
        guide::read_shop(&SourceFile::new("guides/shop.toml", include_str!("rules/example_shop.toml")), FileId(0)).0
    }

    fn look(text: &str, shop: &Shop) -> Look {
        let source = SourceFile::new("guides/a.md", text);
        let (guide, findings) = guide::read(&source, FILE, "a", shop);
        let (values, operations, carried) = (values(&guide), operations(&guide), carry(&guide, text));
        Look { findings: crate::review::review(&guide, shop, &Pictures::new(), &|_| false, findings).findings, values, operations, carried }
    }

    fn mended(text: &str) -> Mended {
        let shop = shop();
        mend(text, FILE, |text| look(text, &shop))
    }

    const GUIDE: &str = "+++\ntitle = \"Fit it\"\nsources = { manual = \"Body manual\" }\n\n[[hardware]]\nid = \"bolt\"\nname = \"Bolt\"\n\n[[spec]]\nid = \"bolt\"\nfor = \"bolt\"\ntorque = \"45 N·m\"\nsource = \"manual\"\n+++\n\n## Fit it\n\n+++\ndo = [{ tighten = \"bolt\", torque = \"bolt\" }]\nminutes = 5\n+++\n\nTighten it.\n";

    #[test]
    fn certain_repairs_are_made_and_guesses_are_not() {
        for (from, to, after) in [
            ("minutes = 5", "minuts = 5", "minutes = 5"),
            ("title = ", "ttile = ", "title = "),
            ("source = \"manual\"", "sourc = \"manual\"", "source = \"manual\""),
            ("45 N·m\"", "45,5 N·m\"", "45.5 N·m\""),
            ("Tighten it.", "Tighten it to 45 N·m.", "Tighten it to [](spec:bolt)."),
            ("\n\n+++\ndo", "\n\nWords.\n+++\ndo", "\n\nWords.\n\n+++\ndo"),
            ("5\n+++\n", "5\n", "5\n+++\n"),
        ] {
            let text = GUIDE.replacen(from, to, 1);
            assert_ne!(text, GUIDE);
            let mended = mended(&text);
            assert_eq!((mended.text, mended.count), (text.replacen(to, after, 1), 1), "{to}");
        }
        for (from, to) in [
            ("tighten = \"bolt\"", "tighten = \"blot\""),
            ("tighten = \"bolt\"", "tighten = \"bolt\", tigthen = \"bolt\""),
            ("torque = \"45 N·m\"", "torque = \"45 N·m\"\nlengh = \"5 mm\""),
            ("torque = \"45 N·m\"", "torqe = \"45 N·m\"\ntorqu = \"50 N·m\""),
            ("Tighten it.", "The other one takes 45 Nm, or 46 Nm."),
            // One slip from `source` and from `force`.
            ("source = \"manual\"", "sorce = \"manual\""),
            ("45 N·m", "45 N·m (33 lb)"),
            // Within the rounding, and not the same: the page would show other digits.
            ("Tighten it.", "Tighten it to 45.0 N·m."),
            ("Tighten it.", "Tighten it to 33 lb·ft."),
            ("Tighten it.", "Tighten it to 45 N·m + 90°."),
            // Words behind the facts that look like one.
            ("minutes = 5\n+++\n\nTighten", "minutes = 5\n\nTurn x = 3 clicks.\n\nTighten"),
            ("minutes = 5\n+++\n\nTighten", "minutes = 5\nTighten"),
            // A link in a link would be none.
            ("Tighten it.", "Tighten it to [45 N·m](other.md)."),
        ] {
            let text = GUIDE
                .replacen(from, to, 1)
                .replace("torque = \"bolt\"", if to.starts_with("The") { "note = \"x\"" } else { "torque = \"bolt\"" });
            assert_ne!(text, GUIDE);
            assert_eq!(mended(&text), Mended { text: text.clone(), count: 0 }, "{to}");
        }
    }

    #[test]
    fn line_endings_stay_as_they_are() {
        let text = GUIDE.replacen("5\n+++\n", "5\n", 1).replacen("title", "ttile", 1).replace('\n', "\r\n");
        assert_eq!(mended(&text).text, GUIDE.replace('\n', "\r\n"));
    }

    #[test]
    fn overlapping_repairs_are_not_mixed() {
        let finding = |start, end, text: &str| {
            let span = Span { start, end };
            Finding::hold(RuleName::TypeWrong, Place { file: FILE, span }, "m", "r").with_edit(span, text)
        };
        let findings = [finding(0, 3, "abcd"), finding(2, 5, "zzz"), finding(5, 6, ""), finding(5, 6, ""), finding(9, 99, "far")];
        assert_eq!(once("abcdefgh", FILE, &findings), ("abcddegh".to_owned(), 2));
        assert_eq!(once("abcdefgh", FileId(0), &findings).1, 0, "another file's");
    }

    #[test]
    fn a_round_that_would_change_a_value_is_not_made() {
        let look = |text: &str| Look {
            findings: vec![
                Finding::hold(RuleName::TypeWrong, Place { file: FILE, span: Span::at(0) }, "m", "r").with_edit(Span::at(0), "1"),
            ],
            values: Values::from([("a".to_owned(), vec![text.to_owned()])]),
            ..Look::default()
        };
        assert_eq!(mend("5", FILE, look), Mended { text: "5".to_owned(), count: 0 });
    }

    /// A guide with slips of the kinds that are mended, and of kinds that must not be.
    fn broken() -> impl Strategy<Value = String> {
        let key = |right: &'static str, slips: &'static [&'static str]| prop_oneof![2 => Just(right.to_owned()), 3 => prop::sample::select(slips).prop_map(str::to_owned)];
        let keys = (
            key("title", &["ttile", "titl", "tittle", "Title"]),
            key("torque", &["torqe", "troque", "torqueue", "force"]),
            key("source", &["sorce", "sourc", "sources"]),
            key("tighten", &["tigthen", "tightn", "fit"]),
            key("minutes", &["minuts", "minute", "mintues"]),
            key("specs", &["spces", "spec", "specs"]),
        );
        let values =
            (prop::sample::select(&["45 N·m", "45,5 N·m", "45 N·m (33 lb)", "45 Nm", "8..12 N·m", "1,250 N·m", "45 mm"]), "[a-z]{0,3}");
        let extra = prop::sample::select(&["", "torqe = \"9 N·m\"\n", "lengh = \"5 mm\"\n", "torque = \"7 N·m\"\n"]);
        let joints = (
            prop::sample::select(&["\n\n+++\n", "\n+++\n", "\nWords.\n+++\n", "\n- a\n+++\n"]),
            prop::sample::select(&["+++\n\n", "\n", "+++\n", "\nx = 1\n\n"]),
            prop::sample::select(&["Tighten to 45 N·m.", "Tighten to 45.5 N·m, then 45 mm.", "Wait 5 min.", "Ünder <b>."]),
            any::<bool>(),
        );
        (keys, values, extra, joints).prop_map(|((title, torque, source, verb, minutes, specs), (value, id), extra, (above, below, words, crlf))| {
            let text = format!(
                "+++\n{title} = \"Fit it\"\nsources = {{ manual = \"m\" }}\n\n[[hardware]]\nid = \"b\"\nname = \"B\"\n\n[[spec]]\nid = \"b{id}\"\n{torque} = \"{value}\"\n{extra}{source} = \"manual\"\n\n[[spec]]\nid = \"c\"\ntorque = \"45 N·m\"\n+++\n\n## Fit it{above}do = [{{ {verb} = \"b\", torque = \"b\" }}]\n{minutes} = 5\n{specs} = [\"c\"]\n{below}{words}\n\n## Next\n\nWords.\n"
            );
            if crlf { text.replace('\n', "\r\n") } else { text }
        })
    }

    proptest! {
        #![proptest_config(ProptestConfig { cases: 400, ..ProptestConfig::default() })]

        #[test]
        fn mending_twice_is_mending_once_and_no_value_changes(text in broken()) {
            let shop = shop();
            let before = look(&text, &shop);
            let first = mend(&text, FILE, |text| look(text, &shop));
            let second = mend(&first.text, FILE, |text| look(text, &shop));
            prop_assert_eq!(&second.text, &first.text);
            prop_assert_eq!(second.count, 0);
            let after = look(&first.text, &shop);
            prop_assert!(keeps(&before.values, &after.values), "{:?} became {:?}\n{}", before.values, after.values, first.text);
            prop_assert!(after.findings.iter().all(|finding| !finding.edit.as_ref().is_some_and(|edit| edit.certain)), "a certain repair is left");
            prop_assert!(after.findings.len() <= before.findings.len() + 2);
        }

        #[test]
        fn text_outside_the_edits_is_untouched(text in "(\\PC|\n){0,60}", spans in prop::collection::vec((0u32..70, 0u32..6, "[xyz]{0,3}"), 0..8)) {
            let findings: Vec<Finding> = spans.iter().map(|(start, length, new)| {
                let span = Span { start: *start, end: start + length };
                Finding::hold(RuleName::TypeWrong, Place { file: FILE, span }, "m", "r").with_edit(span, new.clone())
            }).collect();
            let (mended, count) = once(&text, FILE, &findings);
            // Between the edits that were made the text is the same piece by piece: the old one is found again in order.
            let mut kept = String::new();
            let mut at = 0;
            let mut edits: Vec<_> = findings.iter().filter_map(|finding| finding.edit.clone()).filter(|edit| text.get(edit.span.range()).is_some()).collect();
            edits.sort_by_key(|edit| (edit.span.start, edit.span.end));
            let mut last: Option<Span> = None;
            let mut made = 0;
            for edit in edits {
                let range = edit.span.range();
                if range.start < at || last == Some(edit.span) || text[range.clone()] == edit.text {
                    continue;
                }
                kept.push_str(&text[at..range.start]);
                kept.push_str(&edit.text);
                at = range.end;
                last = Some(edit.span);
                made += 1;
            }
            kept.push_str(&text[at..]);
            prop_assert_eq!(mended, kept);
            prop_assert_eq!(count, made);
        }
    }
}
