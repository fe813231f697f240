//! The SARIF report (OASIS SARIF 2.1.0 with errata 01), which code hosts and editors read. Paths in it are
//! relative to the folder that holds `guides/`: it says nothing of the machine it was written on.

use std::collections::HashMap;

use serde_json::{Map, Value, json};
use sha2::{Digest, Sha256};

use super::{PROGRAM, Results, excerpt};
use crate::finding::{Finding, Severity};
use crate::review::rule::Rule;
use crate::review::rules;
use crate::source::{FileId, Place, Span};

/// The name that stands for the folder which holds `guides/`.
const BASE: &str = "SHOP";
/// The name of our fingerprint. Its number rises when the way it is made changes.
const FINGERPRINT: &str = "bayleafFinding/v1";

/// The report as text.
pub fn text(results: &Results<'_>) -> String {
    let mut text = serde_json::to_string_pretty(&log(results)).unwrap_or_default();
    text.push('\n');
    text
}

fn log(results: &Results<'_>) -> Value {
    let mut writer = Writer { results, alike: HashMap::new() };
    let mut rows: Vec<Value> = results.findings.iter().map(|finding| writer.result(finding, None)).collect();
    rows.extend(results.accepted.iter().map(|(finding, reason)| writer.result(finding, Some(reason))));
    json!({
        "$schema": "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json",
        "version": "2.1.0",
        "runs": [{
            "tool": { "driver": {
                "name": "bayleaf",
                "version": PROGRAM,
                "semanticVersion": PROGRAM,
                "rules": rules::ALL.iter().map(|rule| descriptor(rule)).collect::<Vec<_>>(),
            } },
            "invocations": [{ "executionSuccessful": results.complete }],
            "columnKind": "unicodeCodePoints",
            "originalUriBaseIds": { BASE: { "description": { "text": "The folder that holds guides/." } } },
            "artifacts": results.sources.keys().filter_map(|&file| writer.artifact(file)).collect::<Vec<_>>(),
            "results": rows,
        }],
    })
}

fn level(severity: Severity) -> &'static str {
    match severity {
        Severity::Hold => "error",
        Severity::Query => "warning",
        Severity::Remark => "note",
    }
}

fn descriptor(rule: &Rule) -> Value {
    json!({
        "id": rule.name.name(),
        "shortDescription": { "text": plain(rule.text.summary) },
        "fullDescription": { "text": plain(rule.text.why) },
        "help": { "text": plain(&format!("{} Basis: {}.", rule.text.mend, rule.text.basis.trim_end_matches('.'))) },
        "defaultConfiguration": { "level": level(rule.severity) },
        "properties": { "tags": [rule.family.title()] },
    })
}

struct Writer<'w, 'r> {
    results: &'w Results<'r>,
    /// How many findings had the same rule, path and excerpt so far.
    alike: HashMap<String, usize>,
}

impl Writer<'_, '_> {
    fn result(&mut self, finding: &Finding, accepted: Option<&str>) -> Value {
        let mut result = json!({
            "ruleId": finding.rule.name(),
            "level": level(finding.severity),
            "message": { "text": plain(&format!("{} {}", sentence(&finding.message), sentence(&finding.remedy))) },
            "locations": [{ "physicalLocation": self.location(finding.place) }],
            "partialFingerprints": { FINGERPRINT: self.fingerprint(finding) },
        });
        let mut more = Map::new();
        if let Some(at) = rules::ALL.iter().position(|rule| rule.name == finding.rule) {
            more.insert("ruleIndex".to_owned(), json!(at));
        }
        if !finding.related.is_empty() {
            let related = finding.related.iter().enumerate().map(|(at, related)| {
                json!({ "id": at + 1, "physicalLocation": self.location(related.place), "message": { "text": plain(&sentence(&related.label)) } })
            });
            more.insert("relatedLocations".to_owned(), related.collect());
        }
        if let Some(edit) = &finding.edit {
            let place = Place { file: finding.place.file, span: edit.span };
            more.insert(
                "fixes".to_owned(),
                json!([{
                    "description": { "text": plain(&sentence(&finding.remedy)) },
                    "artifactChanges": [{
                        "artifactLocation": self.artifact_location(place.file),
                        "replacements": [{ "deletedRegion": self.region(place), "insertedContent": { "text": edit.text } }],
                    }],
                    "properties": { "certain": edit.certain },
                }]),
            );
        }
        if let Some(reason) = accepted {
            more.insert("suppressions".to_owned(), json!([{ "kind": "inSource", "status": "accepted", "justification": reason }]));
        }
        if let Value::Object(fields) = &mut result {
            fields.append(&mut more);
        }
        result
    }

    /// The index of a file among the artifacts.
    fn index(&self, file: FileId) -> Option<usize> {
        self.results.sources.keys().position(|&other| other == file)
    }

    fn uri(&self, file: FileId) -> Option<String> {
        Some(percent_encoded(self.results.path(self.results.sources.get(&file)?)))
    }

    fn artifact(&self, file: FileId) -> Option<Value> {
        let uri = self.uri(file)?;
        let kind = if uri.ends_with(".toml") { "application/toml" } else { "text/markdown" };
        Some(json!({ "location": { "uri": uri, "uriBaseId": BASE }, "roles": ["analysisTarget"], "mimeType": kind, "encoding": "UTF-8" }))
    }

    fn artifact_location(&self, file: FileId) -> Value {
        match (self.uri(file), self.index(file)) {
            (Some(uri), Some(index)) => json!({ "uri": uri, "uriBaseId": BASE, "index": index }),
            _ => json!({}),
        }
    }

    fn location(&self, place: Place) -> Value {
        json!({ "artifactLocation": self.artifact_location(place.file), "region": self.region(place) })
    }

    fn region(&self, place: Place) -> Value {
        let Some(source) = self.results.sources.get(&place.file) else { return json!({ "startLine": 1 }) };
        let span = Span::new(source.clamp(place.span));
        let (start, end) = (source.position(span.start), source.position(span.end));
        json!({
            "startLine": start.line,
            "startColumn": start.column,
            "endLine": end.line,
            "endColumn": end.column,
            "byteOffset": source.before + span.start,
            "byteLength": span.end - span.start,
        })
    }

    /// The same finding has the same fingerprint when lines above it come or go.
    fn fingerprint(&mut self, finding: &Finding) -> String {
        let source = self.results.sources.get(&finding.place.file);
        let path = source.map_or("", |source| self.results.path(source));
        let lines = source.map(|source| excerpt(source, finding.place.span)).unwrap_or_default();
        let lines: Vec<&str> = lines.iter().map(|line| line.trim()).collect();
        let key = format!("{}\n{path}\n{}", finding.rule, lines.join("\n"));
        let count = self.alike.entry(key.clone()).or_default();
        *count += 1;
        let hash = Sha256::digest(format!("{key}\n{count}"));
        hash.iter().take(16).map(|byte| format!("{byte:02x}")).collect()
    }
}

/// A phrase as a sentence: a capital in front, a full stop behind.
fn sentence(phrase: &str) -> String {
    let mut chars = phrase.chars();
    let start: String = chars.next().map(|first| first.to_uppercase().chain(chars).collect()).unwrap_or_default();
    if start.ends_with(['.', '?', '!']) { start } else { format!("{start}.") }
}

/// Text that means nothing but itself in a SARIF message: braces would be placeholders (3.11.5) and `[words](target)`
/// a link (3.11.6).
fn plain(text: &str) -> String {
    let text = text.replace('{', "{{").replace('}', "}}");
    if text.contains("](") { text.replace('\\', "\\\\").replace('[', "\\[").replace(']', "\\]") } else { text }
}

/// A path as a relative URI reference (RFC 3986).
fn percent_encoded(path: &str) -> String {
    let mut uri = String::with_capacity(path.len());
    for byte in path.bytes() {
        match byte {
            b'/' | b'-' | b'.' | b'_' | b'~' => uri.push(char::from(byte)),
            byte if byte.is_ascii_alphanumeric() => uri.push(char::from(byte)),
            byte => uri.push_str(&format!("%{byte:02X}")),
        }
    }
    uri
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn paths_and_messages_are_escaped_as_the_standards_say() {
        assert_eq!(percent_encoded("guides/Sitz ½ #1/guide.md"), "guides/Sitz%20%C2%BD%20%231/guide.md");
        assert_eq!(plain("write sources = { a = \"b\" } in a [[spec]]"), "write sources = {{ a = \"b\" }} in a [[spec]]");
        assert_eq!(plain("refer to it: [](spec:a)"), "refer to it: \\[\\](spec:a)");
        assert_eq!(sentence("write `a`; did you mean `b`?"), "Write `a`; did you mean `b`?");
        assert_eq!(sentence(""), ".");
    }
}
