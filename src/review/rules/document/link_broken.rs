//! `link-broken`: a link leads to nothing.

use crate::finding::{Finding, RuleName, Severity};
use crate::guide::names::{Destination, step};
use crate::review::rule::{Check, Family, Rule, Subject};

pub(crate) const RULE: Rule =
    Rule::new(RuleName::LinkBroken, Family::Document, Severity::Query, Check::Guide(check), include_str!("link_broken.md"));

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    let guide = subject.guide;
    for address in guide.words().flat_map(|prose| &prose.addresses).filter(|address| address.safe) {
        let written = address.address.value.as_str();
        let remedy = match Destination::of(written) {
            Destination::Web => continue,
            Destination::Step(id) if step(guide, id).is_some() => continue,
            Destination::Guide(slug) if (subject.guide_exists)(slug) => continue,
            Destination::Step(_) => "use the id of a step, or write [words](step:its-id)",
            Destination::Guide(_) => "write the path of a guide that exists, for instance ../swivel-seat-base/guide.md",
            Destination::Unknown if subject.names.thing(written).is_some() || subject.names.spec(written).is_some() => {
                let scheme = subject.names.thing(written).map_or("spec", |thing| thing.sort());
                let remedy = format!("to refer to `{written}`, write ({scheme}:{written})");
                findings.push(RULE.at(guide.place(address.address.span), format!("the link to `{written}` leads to nothing"), remedy));
                continue;
            }
            Destination::Unknown => "link to a step (#its-id), another guide (../its-folder/guide.md) or a web address (https://...)",
        };
        findings.push(RULE.at(guide.place(address.address.span), format!("the link to `{written}` leads to nothing"), remedy));
    }
}
