//! `hours-disagree`: the time stated for the job and the sum of its steps differ.

use crate::finding::{Finding, RuleName, Severity};
use crate::guide::model::Step;
use crate::guide::tally;
use crate::quantity::{self, Exact};
use crate::review::rule::{Check, Family, Rule, Subject};

pub(crate) const RULE: Rule =
    Rule::new(RuleName::HoursDisagree, Family::Document, Severity::Query, Check::Guide(check), include_str!("hours_disagree.md"));

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    let guide = subject.guide;
    let Some(stated) = &guide.hours else { return };
    let Some(quantity) = &stated.value.quantity else { return };
    // A sum over only some of the steps is a lower bound of the whole job.
    let untimed = guide.steps.iter().filter(|step| step.minutes.is_none()).count();
    if guide.steps.is_empty() {
        return;
    }
    let variants = &subject.ledger.variants;
    let minutes = |step: &Step<'_>| step.minutes.map_or(0, |minutes| u64::from(minutes.value));
    let work: Vec<_> = guide.steps.iter().map(|step| (variants.terms(&step.when), minutes(step))).collect();
    let with_waits: Vec<_> = guide.steps.iter().map(|step| (variants.terms(&step.when), minutes(step) + wait(step))).collect();
    let ((least, most), (least_waiting, _)) = (variants.sums(&work), variants.sums(&with_waits));
    let seconds = |thousandths: u64| Exact::fraction(i128::from(thousandths) * 60, 1000);
    let (low, high) = quantity.base_bounds();
    let tenths = |value: Exact, tenths: i128| Exact::fraction(tenths, 10).and_then(|factor| value.times(factor));
    let low_ok = low.and_then(|low| tenths(low, 9)).zip(seconds(least_waiting)).is_none_or(|(low, least)| least >= low) || untimed > 0;
    let high_ok = high.and_then(|high| tenths(high, 11)).zip(seconds(most)).is_none_or(|(high, most)| most <= high);
    if !(low_ok && high_ok) {
        let hours = quantity::duration_words(quantity);
        let (least, most) = (tally::minutes_words(least), tally::minutes_words(most));
        let sum = if least == most { most } else { format!("{least} to {most}, by the options of the vehicle") };
        let sum = match untimed {
            0 => sum,
            1 => format!("{sum} without the one step that gives no time"),
            untimed => format!("{sum} without the {untimed} steps that give no time"),
        };
        findings.push(RULE.at(
            guide.place(stated.span),
            format!("the guide says {hours} and its steps add up to {sum}"),
            "correct `hours`, or the minutes of the steps",
        ));
    }
}

/// The longest wait at the end of a step, in thousandths of a minute.
fn wait(step: &Step<'_>) -> u64 {
    let longest = step.wait.as_ref().and_then(|wait| wait.value.quantity.as_ref()?.base_bounds().1);
    let thousandths = longest.and_then(|seconds| Exact::fraction(1000, 60).and_then(|factor| seconds.times(factor)));
    thousandths.map_or(0, |value| u64::try_from(value.numerator() / value.denominator()).unwrap_or(0))
}
