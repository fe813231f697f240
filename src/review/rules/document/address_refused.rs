//! `address-refused`: a link has an address that could run a script or open a local file.

use crate::finding::{Finding, RuleName, Severity};
use crate::guide::facts::is_id;
use crate::guide::prose::RefKind;
use crate::near::nearest;
use crate::review::rule::{Check, Family, Rule, Subject};

pub(crate) const RULE: Rule =
    Rule::new(RuleName::AddressRefused, Family::Document, Severity::Query, Check::Guide(check), include_str!("address_refused.md"));

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    for address in subject.guide.words().flat_map(|prose| &prose.addresses).filter(|address| !address.safe) {
        let written = address.address.value.as_str();
        let near = written
            .split_once(':')
            .and_then(|(scheme, id)| Some((nearest(scheme, RefKind::ALL.iter().map(|(_, word)| *word))?, id)).filter(|(_, id)| is_id(id)));
        if let Some((scheme, id)) = near {
            let mut finding = RULE.at(
                subject.guide.place(address.address.span),
                format!("`{written}` refers to nothing, and the page would show nothing in its place"),
                format!("write `{scheme}:{id}`"),
            );
            finding.severity = Severity::Hold;
            findings.push(finding.with_suggestion(address.address.span, format!("{scheme}:{id}")));
            continue;
        }
        findings.push(RULE.at(
            subject.guide.place(address.address.span),
            format!("the address `{}` is not followed on a page", address.address.value),
            "use an address that starts with https:, http:, mailto: or tel:, or the path of another guide",
        ));
    }
}
