//! `rule-unknown`: a rule is named that does not exist, is called otherwise now, or cannot be weighed.

use crate::finding::{Finding, Former, Known, RuleName, Severity};
use crate::guide::model::{Shop, Text};
use crate::near::{did_you_mean, nearest};
use crate::review;
use crate::review::rule::{Check, Family, Rule};
use crate::source::{FileId, Place};

pub(crate) const RULE: Rule =
    Rule::new(RuleName::RuleUnknown, Family::Document, Severity::Hold, Check::Shop(check), include_str!("rule_unknown.md"));

fn check(shop: &Shop, file: FileId, findings: &mut Vec<Finding>) {
    for (at, weight) in shop.weights.iter().enumerate() {
        let name = weight.rule.value.as_str();
        let place = Place { file, span: weight.rule.span };
        findings.extend(old_name(&weight.rule, file));
        match RuleName::known(name) {
            Known::Never => {
                let near = nearest(name, RuleName::ALL.iter().map(|rule| rule.name()));
                let remedy = format!("use the name from a finding, or take the block out{}", did_you_mean(near));
                findings.push(RULE.at(place, format!("there is no rule `{name}`"), remedy));
            }
            Known::Former(Former::Retired(why)) => {
                let message = format!("there is no rule `{name}` any more: {why}");
                findings.push(Finding::query(RULE.name, place, message, "take the block out"));
            }
            Known::Current(rule) | Known::Former(Former::Renamed(rule)) => {
                if !review::rule(rule).can_be_accepted() {
                    let message = format!("`{name}` cannot be weighed otherwise: what could not be read always holds");
                    findings.push(RULE.at(place, message, "take the block out"));
                } else if let Some(earlier) = shop.weights[..at].iter().find(|earlier| RuleName::meant(&earlier.rule.value) == Some(rule)) {
                    let finding = RULE.at(place, format!("`{rule}` is weighed twice"), "take one of the two blocks out");
                    findings.push(finding.with_related(Place { file, span: earlier.rule.span }, "the first one"));
                }
            }
        }
    }
}

/// The finding for a rule that is called by the name it had once. What was written goes on working.
pub(crate) fn old_name(written: &Text, file: FileId) -> Option<Finding> {
    let Known::Former(Former::Renamed(now)) = RuleName::known(&written.value) else { return None };
    let message = format!("the rule `{}` is now called `{now}`", written.value);
    let finding = Finding::remark(RULE.name, Place { file, span: written.span }, message, format!("write `{now}`"));
    Some(finding.with_edit(written.span, now.name()))
}

#[cfg(test)]
mod tests {
    use crate::finding::{Finding, Severity};
    use crate::guide::picture::Pictures;
    use crate::guide::{self, model::Shop};
    use crate::review::{review, review_shop};
    use crate::source::{FileId, SourceFile};

    fn shop(text: &str) -> (Shop, Vec<Finding>) {
        let (shop, findings) = guide::read_shop(&SourceFile::new("guides/shop.toml", format!("name = \"S\"\n{text}")), FileId(0));
        let findings = review_shop(&shop, findings);
        (shop, findings)
    }

    fn said(findings: &[Finding]) -> Vec<(&str, &str)> {
        findings.iter().map(|finding| (finding.rule.name(), finding.message.as_str())).collect()
    }

    #[test]
    fn a_rule_is_weighed_by_its_old_name_and_the_new_one_is_told() {
        let weigh = |name: &str| format!("[[rule]]\nname = \"{name}\"\nseverity = \"remark\"\nreason = \"we know\"\n");
        let (_, findings) = shop(&weigh("torque-absent"));
        assert_eq!(said(&findings), [("rule-unknown", "the rule `torque-absent` is now called `torque-missing`")]);
        assert_eq!(findings[0].severity, Severity::Remark);
        assert_eq!(findings[0].edit.as_ref().map(|edit| (edit.text.as_str(), edit.certain)), Some(("torque-missing", true)));
        let (_, findings) = shop(&(weigh("torque-absent") + &weigh("torque-missing")));
        assert_eq!(said(&findings)[1], ("rule-unknown", "`torque-missing` is weighed twice"));
        let (_, findings) = shop(&weigh("torque-odd"));
        assert!(findings[0].message.starts_with("there is no rule `torque-odd` any more: "), "{}", findings[0].message);
    }

    #[test]
    fn a_finding_is_accepted_by_its_rule_s_old_name() {
        let text = "+++\ntitle = \"T\"\n[[hardware]]\nid = \"b\"\nname = \"Bolt\"\non_vehicle = 1\n[[item]]\nid = \"i\"\nname = \"Item\"\n+++\n\n## Step\n\n+++\n\
            do = [{ loosen = \"i\", hardware = \"1 x b\" }, { tighten = \"i\", hardware = \"1 x b\" }]\n\
            accept = [{ rule = \"NAME\", reason = \"none is given\" }]\n+++\n\nLoosen and tighten.\n";
        let (shop, _) = shop("");
        let found = |name: &str| {
            let source = SourceFile::new("guides/t.md", text.replace("NAME", name));
            let (guide, findings) = guide::read(&source, FileId(1), "t", &shop);
            let outcome = review(&guide, &shop, &Pictures::default(), &|_| true, findings);
            let about: Vec<String> = outcome
                .findings
                .iter()
                .filter(|finding| ["rule-unknown", "acceptance-unused", "torque-missing"].contains(&finding.rule.name()))
                .map(|finding| finding.message.clone())
                .collect();
            (outcome.accepted.iter().map(|(finding, _)| finding.rule.name()).collect::<Vec<_>>(), about)
        };
        assert_eq!(found("torque-missing"), (vec!["torque-missing"], vec![]));
        let told = "the rule `torque-absent` is now called `torque-missing`".to_owned();
        assert_eq!(found("torque-absent"), (vec!["torque-missing"], vec![told]));
        let (accepted, about) = found("torque-odd");
        assert!(
            accepted.is_empty() && about.iter().any(|message| message.starts_with("there is no rule `torque-odd` any more: ")),
            "{about:?}"
        );
    }
}
