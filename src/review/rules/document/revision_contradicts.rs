//! `revision-contradicts`: the head and the list of changes say different things of one revision, or the list runs backwards.

use crate::finding::{Finding, RuleName, Severity};
use crate::guide::model::{Change, Guide};
use crate::review::rule::{Check, Family, Rule, Subject};

pub(crate) const RULE: Rule = Rule::new(
    RuleName::RevisionContradicts,
    Family::Document,
    Severity::Query,
    Check::Guide(check),
    include_str!("revision_contradicts.md"),
);

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    let guide = subject.guide;
    in_head(guide, findings);
    let mut newest: Vec<&Change> = Vec::new();
    for change in &guide.changes {
        // Several entries may tell of one revision.
        match newest.iter().find(|known| known.revision.value == change.revision.value) {
            Some(known) => {
                if let (Some(one), Some(other)) = (known.issued, change.issued)
                    && one.value != other.value
                {
                    let message =
                        format!("revision {} was issued on {} here, and on {} above", change.revision.value, other.value, one.value);
                    findings.push(
                        RULE.at(guide.place(other.span), message, "write the day of issue that is right in both")
                            .with_related(guide.place(one.span), "the day above"),
                    );
                }
            }
            None => newest.push(change),
        }
    }
    for pair in newest.windows(2) {
        let [earlier, later] = pair else { continue };
        let order = rank(&earlier.revision.value).zip(rank(&later.revision.value));
        let backwards = order.is_some_and(|(earlier, later)| earlier > later);
        let Some((one, other)) = earlier.issued.zip(later.issued) else { continue };
        // A list with the newest on top runs backwards in both, and contradicts nothing.
        let wrong = if backwards { other.value > one.value } else { order.is_some() && other.value < one.value };
        if wrong {
            let (first, second) = if backwards { (later, earlier) } else { (earlier, later) };
            let message = format!(
                "revision {} was issued on {}, and {}, which comes before it, on {}",
                second.revision.value,
                if backwards { one.value } else { other.value },
                first.revision.value,
                if backwards { other.value } else { one.value },
            );
            findings.push(RULE.at(guide.place(other.span), message, "correct the letters or the days, so that they rise together"));
        }
    }
}

/// What the head says of the revision against the list.
fn in_head(guide: &Guide<'_>, findings: &mut Vec<Finding>) {
    let Some(revision) = &guide.revision else { return };
    let later = guide.changes.iter().filter(|change| rank(&change.revision.value).zip(rank(&revision.value)).is_some_and(|(a, b)| a > b));
    if let Some(change) = later.max_by_key(|change| rank(&change.revision.value)) {
        let message = format!("the guide is at revision {}, and a change tells of revision {}", revision.value, change.revision.value);
        findings.push(
            RULE.at(guide.place(revision.span), message, "write the revision that this text is")
                .with_related(guide.place(change.revision.span), "the later change"),
        );
        return;
    }
    let Some(issued) = guide.issued else { return };
    let of = |own: bool| guide.changes.iter().filter(move |change| (change.revision.value == revision.value) == own);
    if let Some(day) = of(true).filter_map(|change| change.issued).find(|day| day.value != issued.value) {
        let message = format!("the guide was issued on {}, and its change says {}", issued.value, day.value);
        findings.push(
            RULE.at(guide.place(issued.span), message, "write the day of issue that is right in both")
                .with_related(guide.place(day.span), format!("the day of revision {}", revision.value)),
        );
    } else if let Some((change, day)) = of(false)
        .filter_map(|change| Some((change, change.issued?)))
        .filter(|(_, day)| day.value > issued.value)
        .max_by_key(|(_, day)| day.value)
    {
        let message =
            format!("the guide was issued on {}, and revision {} before it on {}", issued.value, change.revision.value, day.value);
        findings.push(
            RULE.at(guide.place(issued.span), message, "write the day on which this revision was issued")
                .with_related(guide.place(day.span), "the later day"),
        );
    }
}

/// The place of a revision among others of its kind: letters as on drawings (A to Z, then AA), or whole numbers. None for other names, of
/// which nobody can say what comes first.
fn rank(revision: &str) -> Option<(bool, u64)> {
    if let Ok(number) = revision.parse::<u64>() {
        return Some((false, number));
    }
    let letters = revision.bytes().all(|b| b.is_ascii_uppercase()) && (1..=3).contains(&revision.len());
    letters.then(|| (true, revision.bytes().fold(0, |sum, b| sum * 26 + u64::from(b - b'A') + 1)))
}

#[cfg(test)]
mod tests {
    use super::rank;

    #[test]
    fn letters_and_numbers_rise() {
        for (earlier, later) in [("A", "B"), ("Z", "AA"), ("AZ", "BA"), ("2", "10")] {
            assert!(rank(earlier) < rank(later), "{earlier} {later}");
        }
        assert_eq!((rank("B2"), rank("first"), rank("")), (None, None, None));
    }
}
