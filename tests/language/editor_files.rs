//! What files of editors list is what the program knows. `UPDATE_EDITORS=1 cargo test --test language editor_files`
//! renews them; after a change of kinds, renew the parser too, as DEVELOPERS.md says.

use std::fs;
use std::path::{Path, PathBuf};

use rotorbook::syntax::Kind;

/// A list in a file, between two marks.
struct Listed {
    file: &'static str,
    begin: &'static str,
    end: &'static str,
    text: String,
}

/// The words of all kinds, each in `item`, joined.
fn kinds(item: impl Fn(&str) -> String, joiner: &str) -> String {
    let items: Vec<String> = Kind::ALL.iter().map(|kind| item(kind.words())).collect();
    items.join(joiner)
}

fn lists() -> Vec<Listed> {
    let quoted = |kind: &str| format!("{kind:?}");
    let spaced = |kind: &str| kind.replace(' ', "[ \\\\t]+");
    let listed = |file, begin, end, text| Listed { file, begin, end, text };
    vec![
        listed(
            "grammar/tree-sitter-rotor/vocabulary.json",
            "\"kinds\": [",
            "]",
            format!("\n    {}\n  ", kinds(quoted, ",\n    ")),
        ),
        listed("editors/vscode/syntaxes/rotor.tmLanguage.json", "^\\\\s*(", ")", kinds(spaced, "|")),
        listed("editors/kate/rotor.xml", "String=\"(?:", ")", kinds(|kind| kind.replace(' ', "[ \\t]+"), "|")),
        listed("editors/emacs/rotorbook-mode.el", "(defconst rotorbook-kinds\n  '(", ")", kinds(quoted, "\n    ")),
    ]
}

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

fn renewed(document: &str, list: &Listed) -> String {
    let from = document.find(list.begin).unwrap_or_else(|| panic!("{} has no {}", list.file, list.begin));
    let from = from + list.begin.len();
    let to = from + document[from..].find(list.end).unwrap();
    format!("{}{}{}", &document[..from], list.text, &document[to..])
}

#[test]
fn files_of_editors_list_the_programs_own_kinds() {
    for list in lists() {
        let path = root().join(list.file);
        let document = fs::read_to_string(&path).unwrap();
        let renewed = renewed(&document, &list);
        if std::env::var_os("UPDATE_EDITORS").is_some() {
            fs::write(&path, &renewed).unwrap();
        } else {
            let (file, renew) = (list.file, "UPDATE_EDITORS=1 cargo test --test language editor_files");
            assert!(document == renewed, "{file} is stale; {renew} renews it");
        }
    }
}

/// The parser is written from the vocabulary by a tool that is not at hand here; its own record of the grammar is.
#[test]
fn the_parser_was_written_from_the_vocabulary() {
    let grammar = fs::read_to_string(root().join("grammar/tree-sitter-rotor/src/grammar.json")).unwrap();
    let grammar: serde_json::Value = serde_json::from_str(&grammar).unwrap();
    let members = grammar["rules"]["kind"]["members"].as_array().unwrap();
    let words = |member: &serde_json::Value| match member["members"].as_array() {
        Some(parts) => parts.iter().map(|part| part["value"].as_str().unwrap()).collect::<Vec<_>>().join(" "),
        None => member["value"].as_str().unwrap().to_owned(),
    };
    let written: Vec<String> = members.iter().map(words).collect();
    assert_eq!(written, Kind::ALL.map(|kind| kind.words().to_owned()));
}

/// The version of every package is that of the program.
#[test]
fn packages_have_the_programs_version() {
    let version = env!("CARGO_PKG_VERSION");
    let packages = [
        ("editors/vscode/package.json", format!("\"version\": \"{version}\"")),
        ("editors/emacs/rotorbook-mode.el", format!(";; Version: {version}")),
        ("editors/zed/extension.toml", format!("version = \"{version}\"")),
        ("grammar/tree-sitter-rotor/tree-sitter.json", format!("\"version\": \"{version}\"")),
    ];
    for (file, line) in packages {
        let text = fs::read_to_string(root().join(file)).unwrap();
        assert!(text.contains(&line), "{file} does not say {line}");
    }
}

/// Each editor's folder says how to come from nothing to a first diagnostic.
#[test]
fn every_editor_has_its_readme() {
    let folders = fs::read_dir(root().join("editors")).unwrap().map(|entry| entry.unwrap().path());
    let folders: Vec<PathBuf> = folders.filter(|path| path.is_dir()).collect();
    assert!(folders.len() >= 6);
    for folder in folders {
        let readme = fs::read_to_string(folder.join("README.md")).unwrap();
        assert!(readme.contains("```"), "{}: nothing to copy", folder.display());
    }
}
