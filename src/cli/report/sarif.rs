//! `check --format sarif`: SARIF 2.1.0 (OASIS, property names from memory), one run over all books.

use std::fmt::Write;

use serde_json::{Value, json};

use super::Checked;
use super::places::{Extent, Places};
use crate::book::FileId;
use crate::check::{Diagnostic, Fix, Place, Rule, Told};
use crate::cli::load::Loaded;
use crate::cli::terminal::Terminal;
use crate::text::fingerprint;

pub(in crate::cli) fn write(terminal: &mut Terminal, checked: &[Checked], all: bool) {
    let told: Vec<Told<'_>> = checked.iter().map(|checked| checked.for_programs(all)).collect();
    let mut rules: Vec<&Rule> = told.iter().flat_map(|told| told.shown.iter().map(|one| one.rule)).collect();
    rules.sort_by_key(|rule| rule.code);
    rules.dedup();
    let results: Vec<Value> = checked
        .iter()
        .zip(&told)
        .flat_map(|(checked, told)| {
            let writer = Writer { loaded: &checked.loaded, places: Places::new(&checked.loaded.book), rules: &rules };
            told.shown.iter().map(|diagnostic| writer.result(diagnostic)).collect::<Vec<_>>()
        })
        .collect();
    let driver = json!({
        "name": "rotorbook",
        "version": env!("CARGO_PKG_VERSION"),
        "rules": rules.iter().map(|rule| rule_of(rule)).collect::<Vec<_>>(),
    });
    let mut run = json!({
        "tool": { "driver": driver },
        "columnKind": "unicodeCodePoints",
        "results": results,
    });
    let more = checked.iter().zip(&told).flat_map(|(checked, told)| told.more.iter().map(|more| checked.more(more)));
    let more: Vec<Value> = more
        .map(|more| json!({ "level": "note", "message": { "text": format!("{more}, not listed here") } }))
        .collect();
    if !more.is_empty() {
        run["invocations"] = json!([{ "executionSuccessful": true, "toolExecutionNotifications": more }]);
    }
    terminal.json(&json!({
        "$schema": "https://json.schemastore.org/sarif-2.1.0.json",
        "version": "2.1.0",
        "runs": [run],
    }));
}

fn rule_of(rule: &Rule) -> Value {
    json!({
        "id": rule.code,
        "shortDescription": { "text": rule.title },
        "help": { "text": rule.page, "markdown": rule.page },
        "defaultConfiguration": { "level": rule.severity.word() },
    })
}

struct Writer<'b> {
    loaded: &'b Loaded,
    places: Places<'b>,
    /// Those of which something is found, in their order in the report.
    rules: &'b [&'b Rule],
}

impl Writer<'_> {
    fn result(&self, diagnostic: &Diagnostic) -> Value {
        let help = diagnostic.help.as_deref().map(|help| format!("\n{help}")).unwrap_or_default();
        let mut result = json!({
            "ruleId": diagnostic.rule.code,
            "level": diagnostic.severity.word(),
            "message": { "text": format!("{}{help}", diagnostic.message) },
            "partialFingerprints": { "rotorbook/v1": self.fingerprint(diagnostic) },
            "locations": [{ "physicalLocation": self.location(diagnostic.place) }],
        });
        if let Some(index) = self.rules.iter().position(|rule| *rule == diagnostic.rule) {
            result["ruleIndex"] = json!(index);
        }
        if !diagnostic.related.is_empty() {
            let related = diagnostic.related.iter().enumerate().map(|(id, related)| {
                json!({
                    "id": id,
                    "message": { "text": related.message },
                    "physicalLocation": self.location(related.place),
                })
            });
            result["relatedLocations"] = related.collect();
        }
        if !diagnostic.fixes.is_empty() {
            result["fixes"] = diagnostic.fixes.iter().map(|fix| self.fix(fix)).collect();
        }
        result
    }

    /// The same for the same finding after lines were added above it.
    fn fingerprint(&self, diagnostic: &Diagnostic) -> String {
        let file = self.loaded.shown(diagnostic.place.file);
        format!("{:016x}", fingerprint(&format!("{}\0{file}\0{}", diagnostic.rule.code, diagnostic.message)))
    }

    fn fix(&self, fix: &Fix) -> Value {
        let mut files: Vec<FileId> = fix.edits.iter().map(|edit| edit.file).collect();
        files.dedup();
        let changes = files.into_iter().map(|file| {
            let edits = fix.edits.iter().filter(|edit| edit.file == file).map(|edit| {
                let extent = self.places.extent(Place { file, span: edit.edit.span });
                json!({ "deletedRegion": region(extent), "insertedContent": { "text": edit.edit.text } })
            });
            json!({ "artifactLocation": self.artifact(file), "replacements": edits.collect::<Vec<_>>() })
        });
        json!({ "description": { "text": fix.title }, "artifactChanges": changes.collect::<Vec<_>>() })
    }

    fn location(&self, place: Place) -> Value {
        json!({ "artifactLocation": self.artifact(place.file), "region": region(self.places.extent(place)) })
    }

    fn artifact(&self, file: FileId) -> Value {
        json!({ "uri": uri(&self.loaded.shown(file)) })
    }
}

fn region(extent: Extent) -> Value {
    json!({
        "startLine": extent.start.line,
        "startColumn": extent.start.column,
        "endLine": extent.end.line,
        "endColumn": extent.end.column,
    })
}

/// A path as a URI reference (RFC 3986): relative to the current folder, or of the file scheme.
fn uri(path: &str) -> String {
    let mut uri = String::with_capacity(path.len());
    if path.starts_with('/') {
        uri.push_str("file://");
    }
    for byte in path.bytes() {
        match byte {
            b'A'..=b'Z' | b'a'..=b'z' | b'0'..=b'9' | b'-' | b'.' | b'_' | b'~' | b'/' => uri.push(char::from(byte)),
            _ => {
                let _ = write!(uri, "%{byte:02X}");
            }
        }
    }
    uri
}

#[cfg(test)]
mod tests {
    use super::uri;

    #[test]
    fn a_path_becomes_a_uri() {
        assert_eq!(uri("setups/fan wheel µ.rotor"), "setups/fan%20wheel%20%C2%B5.rotor");
        assert_eq!(uri("/shop/a:b.rotor"), "file:///shop/a%3Ab.rotor");
    }
}
