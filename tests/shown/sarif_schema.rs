//! `check --format sarif` against the schema that OASIS publishes for SARIF 2.1.0.
//!
//! `tests/data/sarif-schema-2.1.0.json` is a copy of `Schemata/sarif-schema-2.1.0.json` of the OASIS repository
//! `sarif-spec`, as the crate `serde-sarif` 0.8.0 (MIT) carries it.

use std::path::Path;

use crate::support::cli::{BOOK, FAULTY, Folder, rotorbook};
use crate::support::faulty;
use serde_json::Value;

fn schema() -> jsonschema::Validator {
    // A stray bracket in the pattern of a language: written out, strict readers of regular expressions take it too.
    let text = include_str!("../data/sarif-schema-2.1.0.json").replace("{2}]?$", "{2}\\\\]?$");
    let schema: Value = serde_json::from_str(&text).unwrap();
    jsonschema::options().should_validate_formats(true).build(&schema).unwrap()
}

fn holds(schema: &jsonschema::Validator, document: &Value, what: &str) {
    let errors: Vec<String> =
        schema.iter_errors(document).map(|error| format!("{} at {}", error, error.instance_path())).collect();
    assert!(errors.is_empty(), "{what}: {errors:#?}");
}

#[test]
fn every_diagnostic_there_is_makes_a_valid_document() {
    let schema = schema();
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let whole = tempfile::tempdir().unwrap();
    for sheet in faulty::all() {
        std::fs::write(whole.path().join(format!("{}.rotor", sheet.code)), sheet.bytes).unwrap();
    }
    for place in [whole.path().to_str().unwrap(), "examples/tern-quay"] {
        let output = rotorbook(root).args(["check", "--format", "sarif", place]).output().unwrap();
        let document: Value = serde_json::from_slice(&output.stdout).unwrap();
        let results = document["runs"][0]["results"].as_array().unwrap().len();
        assert!(results > 0, "{place}");
        holds(&schema, &document, place);
    }
}

#[test]
fn odd_paths_and_texts_make_a_valid_document() {
    let odd = FAULTY.replace("brass set", "a \\ <b> ]]> 100 %");
    let folder = Folder::with(&[("book.rotor", BOOK), ("sets #1/50 % [a] µ?.rotor", &odd)]);
    let document = folder.run("check --format sarif").json();
    assert!(!document["runs"][0]["results"].as_array().unwrap().is_empty());
    holds(&schema(), &document, "odd paths");
}

#[test]
fn the_schema_refuses_what_is_none() {
    let document = serde_json::json!({ "version": "2.1.0", "runs": [{ "tool": {}, "results": [] }] });
    assert!(!schema().is_valid(&document), "a tool without a driver");
}
