//! `address-refused`: a link has an address that could run a script or open a local file.

use crate::review::rule::{Check, Family, Rule, Subject};
use crate::finding::{Finding, Severity};

pub(crate) const RULE: Rule = Rule {
    name: "address-refused",
    family: Family::Document,
    severity: Severity::Query,
    summary: "A link has an address that could run a script or open a local file.",
    why: "The published page would carry it into a customer's browser; the link is left out of the page.",
    mend: "Link to a web page, a mail address or another guide.",
    basis: "RFC 3986 for schemes; common practice",
    bad: r##"+++
title = "Fit the bracket"
+++

## Fit the bracket

See [this](javascript:alert(1)).
"##,
    good: r##"+++
title = "Fit the bracket"
+++

## Fit the bracket

See [this](https://example.org/).
"##,
    check: Check::Guide(check),
};

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    for address in subject.guide.words().flat_map(|prose| &prose.addresses).filter(|address| !address.safe) {
        findings.push(RULE.at(
            subject.guide.place(address.address.span),
            format!("the address `{}` is not followed on a page", address.address.value),
            "use an address that starts with https:, http:, mailto: or tel:, or the path of another guide",
        ));
    }
}
