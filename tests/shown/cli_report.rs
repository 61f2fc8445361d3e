//! What `check` reports, for people and for programs.

use crate::support::cli::{BOOK, CLEAN, FAULTY, Folder};
use serde_json::{Value, json};

/// One decimal comma after characters of two and four bytes.
const WIDE: &str = "# µ\nsetup \"wide\" {\n  settings {\n    \"µ😀 dial\": 0,5\n  }\n}\n";

fn only(document: &Value, code: &str) -> Value {
    let diagnostics = document["diagnostics"].as_array().unwrap();
    let mut found = diagnostics.iter().filter(|diagnostic| diagnostic["code"] == code);
    let one = found.next().unwrap_or_else(|| panic!("no {code} in {document}")).clone();
    assert!(found.next().is_none(), "{code} twice in {document}");
    one
}

fn point(line: u32, column: u32, byte: u32) -> Value {
    json!({"line": line, "column": column, "byte": byte})
}

#[test]
fn the_document_has_its_documented_shape() {
    let folder = Folder::with(&[("book.rotor", BOOK), ("sets/masses.rotor", FAULTY)]);
    let document = folder.run("check --format json").ends(1).json();
    let keys = |value: &Value| value.as_object().unwrap().keys().cloned().collect::<std::collections::BTreeSet<_>>();
    assert_eq!(keys(&document), ["book", "diagnostics", "summary", "version"].map(str::to_owned).into());
    assert_eq!((&document["version"], &document["book"]), (&1.into(), &".".into()));
    assert_eq!(document["summary"], json!({"files": 2, "items": 2, "errors": 1, "warnings": 0, "notes": 0}));
    let at = FAULTY.find("uncertanty").unwrap() as u32;
    let span = json!({"start": point(3, 3, at), "end": point(3, 13, at + 10)});
    assert_eq!(
        document["diagnostics"],
        json!([{
            "code": "unknown-key",
            "severity": "error",
            "message": document["diagnostics"][0]["message"],
            "help": "did you mean `uncertainty`?",
            "file": "sets/masses.rotor",
            "span": span,
            "related": [],
            "fixes": [{
                "title": "Write `uncertainty`",
                "edits": [{"file": "sets/masses.rotor", "span": span, "text": "uncertainty"}],
            }],
        }])
    );
}

#[test]
fn columns_count_characters_and_bytes_count_bytes() {
    let folder = Folder::with(&[("wide.rotor", WIDE)]);
    let document = folder.run("check --format json").json();
    let at = WIDE.find("0,5").unwrap() as u32;
    assert_eq!(
        only(&document, "decimal-comma")["span"],
        json!({"start": point(4, 16, at), "end": point(4, 19, at + 3)})
    );
}

#[test]
fn lines_are_counted_alike_whatever_ends_them() {
    let folder = Folder::with(&[("wide.rotor", &WIDE.replace('\n', "\r\n"))]);
    let document = folder.run("check --format json").json();
    assert_eq!(only(&document, "decimal-comma")["span"]["start"]["line"], 4);
    assert_eq!(only(&document, "decimal-comma")["span"]["start"]["column"], 16);
}

#[test]
fn a_clean_book_is_a_document_too() {
    let folder = Folder::with(&[("book.rotor", BOOK), ("masses.rotor", CLEAN)]);
    let ran = folder.run("check --format json");
    assert_eq!(ran.ends(0).json()["diagnostics"], json!([]));
    assert_eq!(ran.stderr(), "");
}

#[test]
fn sarif_names_rules_places_and_fixes() {
    let folder = Folder::with(&[("book.rotor", BOOK), ("sets/old brass.rotor", FAULTY)]);
    let document = folder.run("check --format sarif").ends(1).json();
    assert_eq!(document["version"], "2.1.0");
    let run = &document["runs"][0];
    assert_eq!(run["columnKind"], "unicodeCodePoints");
    let result = &run["results"][0];
    let index = result["ruleIndex"].as_u64().unwrap() as usize;
    let rule = &run["tool"]["driver"]["rules"][index];
    assert_eq!((&rule["id"], &rule["defaultConfiguration"]["level"]), (&"unknown-key".into(), &"error".into()));
    assert!(rule["help"]["markdown"].as_str().unwrap().contains("**Why it matters at the bench.**"));
    assert_eq!((&result["ruleId"], &result["level"]), (&"unknown-key".into(), &"error".into()));
    let region = json!({"startLine": 3, "startColumn": 3, "endLine": 3, "endColumn": 13});
    let location = &result["locations"][0]["physicalLocation"];
    assert_eq!(location["artifactLocation"]["uri"], "sets/old%20brass.rotor");
    assert_eq!(location["region"], region);
    let change = &result["fixes"][0]["artifactChanges"][0];
    assert_eq!(change["replacements"], json!([{"deletedRegion": region, "insertedContent": {"text": "uncertainty"}}]));
}

#[test]
fn sarif_of_several_books_is_one_document() {
    let folder = Folder::with(&[("a/book.rotor", BOOK), ("a/m.rotor", FAULTY), ("b/m.rotor", FAULTY)]);
    let document = folder.run("check --format sarif").ends(1).json();
    let results = document["runs"][0]["results"].as_array().unwrap();
    let files = results.iter().map(|result| &result["locations"][0]["physicalLocation"]["artifactLocation"]["uri"]);
    assert_eq!(files.collect::<Vec<_>>(), ["a/m.rotor", "b/m.rotor"]);
}

#[test]
fn annotations_are_one_line_each_and_escaped() {
    let folder = Folder::with(&[("book.rotor", BOOK), ("50 %, old.rotor", FAULTY)]);
    let ran = folder.run("check --format github");
    let stdout = ran.ends(1).stdout();
    let (head, message) = stdout.split_once(",title=unknown-key::").unwrap();
    assert_eq!(head, "::error file=50 %25%2C old.rotor,line=3,col=3,endLine=3,endColumn=13");
    assert!(message.ends_with("%0Adid you mean `uncertainty`?\n"), "{message}");
}

/// The report of one faulty file, as a terminal without colours shows it.
fn report(text: &str) -> String {
    let folder = Folder::with(&[("book.rotor", BOOK), ("sheet.rotor", text)]);
    let ran = folder.run("check sheet.rotor");
    format!("{}{}", ran.stdout(), ran.stderr())
}

#[test]
fn a_slip_of_the_finger() {
    insta::assert_snapshot!(report(FAULTY));
}

#[test]
fn two_findings_and_a_wide_line() {
    insta::assert_snapshot!(report(
        "masses \"brass µ😀\" {\n\tvalues: 0.50 g, 1,00 g # ½ and 1\n\tlimits: 0.01 g\n}\n"
    ));
}

#[test]
fn a_line_that_fills_screens() {
    let note = "a remark that goes on and on, ".repeat(20);
    insta::assert_snapshot!(report(&format!("masses \"brass set\" {{\n  values: 0.50 g, 1,00 g # {note}\n}}\n")));
}

#[test]
fn another_place_is_shown_below() {
    let rotor =
        "rotor \"fan wheel\" {\n  mass: 4.82 kg\n\n  tolerance {\n    grade: G 6.3\n    source: \"drawing\"\n  }\n}\n";
    let setup = "setup \"on the bench\" {\n  rotor: \"fan wheel\"\n  balancing speed: 1150 rpm\n}\n";
    let folder = Folder::with(&[("book.rotor", BOOK), ("rotor.rotor", rotor), ("setups/setup.rotor", setup)]);
    insta::assert_snapshot!(folder.run("check rotor.rotor").stdout());
}

#[test]
fn what_would_drive_the_terminal_is_not_shown() {
    let text =
        "masses \"brass set\" {\n  values: 1.00 g\n  # \u{1b}[2J\u{202e}gnp.exe\n  weight: 0.01 g # \u{9b}31m\n}\n";
    let report = report(text);
    assert!(report.chars().all(|c| c == '\n' || !c.is_control()) && !report.contains('\u{202e}'), "{report:?}");
    insta::assert_snapshot!(report);
}
