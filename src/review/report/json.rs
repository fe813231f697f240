//! The JSON report: plain types of its own with a version, so that other programs can rely on them while the
//! findings' own types change. The list of fields in the handbook is made from the types below.

use super::{PROGRAM, Results, excerpt};
use crate::described::objects;
use crate::finding::{Finding, Severity};
use crate::source::{Place, Span};

/// What the field `format` says.
pub const FORMAT: &str = "bayleaf-review";
/// The version of the report; it rises when a field changes its meaning or goes.
pub const VERSION: u32 = 1;

objects! {
    /// The whole report.
    Report "The report" {
        /// Always `bayleaf-review`.
        format: &'static str,
        /// Which version of this description holds. It rises when a field changes its meaning or goes; fields may be added at any time.
        version: u32,
        /// The version of bayleaf that wrote the report.
        program: &'static str,
        /// Whether every guide could be read from the disk.
        complete: bool,
        /// The guides that were reviewed, in the order of their paths.
        guides: Vec<GuideRow>,
        /// What stands, in the order of file and place.
        findings: Vec<FindingRow>,
        /// What authors accepted with a reason.
        accepted: Vec<AcceptedRow>,
        /// Rules that the shop weighs in its own way.
        weighed: Vec<WeighedRow>,
        /// How many of each.
        totals: Totals,
    }

    /// A guide that was reviewed.
    GuideRow "Guide" {
        /// Its file, from the folder that holds `guides/`, with `/` between the parts.
        path: String,
        /// Its name in addresses of the site.
        slug: String,
    }

    /// A finding.
    FindingRow "Finding" {
        /// The name of the rule. `bayleaf review --rule NAME` explains it.
        rule: &'static str,
        /// `hold`, `query` or `remark`.
        severity: &'static str,
        /// Where it is.
        place: PlaceRow,
        /// What is wrong: a phrase without a full stop.
        message: String,
        /// What to do about it, in the same form.
        remedy: String,
        /// The lines of the file that the finding marks, starting with the line of its place; each cut after 1000 characters. Of a finding that marks more than four lines only the first line stands here.
        excerpt: Vec<String>,
        /// Other places that belong to it.
        related: Vec<RelatedRow>,
        /// A repair, if bayleaf has one to offer.
        edit: Option<EditRow>,
    }

    /// A second place.
    RelatedRow "Related place" {
        /// Why it is shown, in a few words.
        label: String,
        /// Where it is.
        place: PlaceRow,
    }

    /// A repair.
    EditRow "Edit" {
        /// What is replaced; where the length is 0, the text is put in there.
        place: PlaceRow,
        /// What stands there afterwards.
        text: String,
        /// Whether only this can have been meant and no value changes: then `bayleaf review --mend` makes it. Otherwise it is a guess.
        certain: bool,
    }

    /// A place in a file.
    PlaceRow "Place" {
        /// The file, from the folder that holds `guides/`, with `/` between the parts.
        path: String,
        /// The line, from 1.
        line: usize,
        /// The column in characters (Unicode code points), from 1.
        column: usize,
        /// The line of the first character behind it.
        end_line: usize,
        /// The column of the first character behind it.
        end_column: usize,
        /// The first byte in the file, from 0. In a file that is not UTF-8 it counts the text as it was read.
        offset: u32,
        /// How many bytes.
        length: u32,
    }

    /// A finding that an author accepted.
    AcceptedRow "Accepted finding" {
        /// The finding, as it would stand without the acceptance.
        finding: FindingRow,
        /// The author's reason.
        reason: String,
    }

    /// A rule that the shop weighs in its own way.
    WeighedRow "Weighed rule" {
        /// The name of the rule.
        rule: String,
        /// `hold`, `query`, `remark`, or `off`: then its findings are not in the report.
        severity: String,
        /// The shop's reason.
        reason: String,
    }

    /// How many of each.
    Totals "Totals" {
        /// Guides that were reviewed.
        guides: usize,
        /// Findings that keep a guide out of the site.
        holds: usize,
        /// Findings that the author has to answer.
        queries: usize,
        /// Findings worth a look.
        remarks: usize,
        /// Findings that were accepted.
        accepted: usize,
    }
}

/// The report as data.
pub fn report(results: &Results<'_>) -> Report {
    let guides = results.guides.iter().filter_map(|guide| {
        let source = results.sources.get(&guide.file)?;
        Some(GuideRow { path: results.path(source).to_owned(), slug: guide.slug.clone() })
    });
    Report {
        format: FORMAT,
        version: VERSION,
        program: PROGRAM,
        complete: results.complete,
        guides: guides.collect(),
        findings: results.findings.iter().map(|one| finding(one, results)).collect(),
        accepted: results
            .accepted
            .iter()
            .map(|(one, reason)| AcceptedRow { finding: finding(one, results), reason: (*reason).to_owned() })
            .collect(),
        weighed: results
            .weights
            .iter()
            .map(|weight| WeighedRow {
                rule: weight.rule.value.clone(),
                severity: weight.severity.value.clone(),
                reason: weight.reason.value.clone(),
            })
            .collect(),
        totals: Totals {
            guides: results.guides.len(),
            holds: results.count(Severity::Hold),
            queries: results.count(Severity::Query),
            remarks: results.count(Severity::Remark),
            accepted: results.accepted.len(),
        },
    }
}

/// The report as text.
pub fn text(results: &Results<'_>) -> String {
    // Types that hold nothing but texts and numbers can always be written.
    let mut text = serde_json::to_string_pretty(&report(results)).unwrap_or_default();
    text.push('\n');
    text
}

fn finding(finding: &Finding, results: &Results<'_>) -> FindingRow {
    let source = results.sources.get(&finding.place.file);
    FindingRow {
        rule: finding.rule.name(),
        severity: finding.severity.word(),
        place: place(finding.place, results),
        message: finding.message.clone(),
        remedy: finding.remedy.clone(),
        excerpt: source.map(|source| excerpt(source, finding.place.span)).unwrap_or_default(),
        related: finding
            .related
            .iter()
            .map(|related| RelatedRow { label: related.label.clone(), place: place(related.place, results) })
            .collect(),
        edit: finding.edit.as_ref().map(|edit| EditRow {
            place: place(Place { file: finding.place.file, span: edit.span }, results),
            text: edit.text.clone(),
            certain: edit.certain,
        }),
    }
}

fn place(place: Place, results: &Results<'_>) -> PlaceRow {
    let Some(source) = results.sources.get(&place.file) else {
        return PlaceRow { path: String::new(), line: 1, column: 1, end_line: 1, end_column: 1, offset: 0, length: 0 };
    };
    let span = Span::new(source.clamp(place.span));
    let (start, end) = (source.position(span.start), source.position(span.end));
    PlaceRow {
        path: results.path(source).to_owned(),
        line: start.line,
        column: start.column,
        end_line: end.line,
        end_column: end.column,
        offset: source.before + span.start,
        length: span.end - span.start,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::finding::RuleName;
    use std::collections::{BTreeMap, BTreeSet};

    use crate::review::report::{Reviewed, Sources};
    use crate::source::{FileId, SourceFile};
    use serde_json::Value;

    fn sample() -> Value {
        let bytes = "\u{feff}½ torqe = \"x\"\r\nnext\n".as_bytes().to_vec();
        let sources = Sources::from([(FileId(1), SourceFile::from_bytes("somewhere/guides/a.md".into(), bytes).0)]);
        let span = Span { start: 3, end: 8 };
        let place = Place { file: FileId(1), span };
        let one = Finding::hold(RuleName::KeyUnknown, place, "wrong", "mend it").with_related(place, "here").with_edit(span, "torque");
        let two = Finding::query(RuleName::ToolUnused, place, "unused", "take it out");
        let results = Results {
            guides: vec![Reviewed { file: FileId(1), slug: "a".into() }],
            findings: vec![&one],
            accepted: vec![(&two, "because")],
            weights: &[],
            sources: &sources,
            folder: "somewhere/",
            complete: true,
        };
        serde_json::from_str(&text(&results)).unwrap()
    }

    #[test]
    fn places_count_characters_and_bytes_of_the_file() {
        let report = sample();
        let finding = &report["findings"][0];
        assert_eq!((&report["format"], &report["version"]), (&Value::from("bayleaf-review"), &Value::from(1)));
        let place =
            serde_json::json!({ "path": "guides/a.md", "line": 1, "column": 3, "end_line": 1, "end_column": 8, "offset": 6, "length": 5 });
        assert_eq!(finding["place"], place);
        assert_eq!(finding["excerpt"], serde_json::json!(["½ torqe = \"x\""]));
        assert_eq!(finding["edit"], serde_json::json!({ "place": place, "text": "torque", "certain": true }));
        assert_eq!(report["accepted"][0]["reason"], "because");
        assert_eq!(report["totals"], serde_json::json!({ "guides": 1, "holds": 1, "queries": 0, "remarks": 0, "accepted": 1 }));
    }

    /// Gathers the names of the fields of every object in a report, by the path to it.
    fn gather(value: &Value, path: &str, seen: &mut BTreeMap<String, BTreeSet<String>>) {
        match value {
            Value::Array(values) => values.iter().for_each(|value| gather(value, path, seen)),
            Value::Object(fields) => {
                for (name, value) in fields {
                    seen.entry(path.to_owned()).or_default().insert(name.clone());
                    gather(value, name, seen);
                }
            }
            _ => {}
        }
    }

    #[test]
    fn the_described_fields_are_the_written_ones() {
        let mut seen = BTreeMap::new();
        gather(&sample(), "report", &mut seen);
        let described = objects();
        for (path, object) in [
            ("report", "Report"),
            ("guides", "GuideRow"),
            ("findings", "FindingRow"),
            ("finding", "FindingRow"),
            ("related", "RelatedRow"),
            ("edit", "EditRow"),
            ("place", "PlaceRow"),
            ("accepted", "AcceptedRow"),
            ("totals", "Totals"),
        ] {
            let (.., fields) = described.iter().find(|(name, ..)| *name == object).unwrap();
            let names: BTreeSet<String> = fields.iter().map(|field| field.name.to_owned()).collect();
            assert_eq!(seen.remove(path).unwrap_or_default(), names, "{path}");
        }
        assert!(seen.is_empty(), "not described: {seen:?}");
        for field in described.iter().flat_map(|(.., fields)| fields) {
            assert!(
                field.meaning.ends_with('.') && !field.describe(&described).contains(['<', '&']),
                "{field:?}: {}",
                field.describe(&described)
            );
        }
    }
}
