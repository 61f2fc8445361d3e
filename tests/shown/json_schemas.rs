//! What commands write as JSON against the schemas in `grammar/json`. A document must not have a field of which the schema
//! says nothing, though those who read documents have to bear it: so a new field comes with its description.

use std::path::{Path, PathBuf};

use jsonschema::Validator;
use serde_json::{Value, json};

use crate::support::cli::{Folder, rotorbook};
use crate::support::faulty;
use crate::support::git::Repo;

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("grammar/json")
}

/// No object has more than the properties that are listed for it.
fn without_more(schema: &mut Value) {
    match schema {
        Value::Object(object) => {
            object.values_mut().for_each(without_more);
            if object.contains_key("properties") {
                object.insert("additionalProperties".to_owned(), json!(false));
            }
        }
        Value::Array(values) => values.iter_mut().for_each(without_more),
        _ => {}
    }
}

fn schema(command: &str) -> Validator {
    let text = std::fs::read_to_string(folder().join(format!("{command}.schema.json"))).unwrap();
    let mut schema: Value = serde_json::from_str(&text).unwrap();
    without_more(&mut schema);
    jsonschema::options().should_validate_formats(true).build(&schema).unwrap()
}

fn documents(bytes: &[u8]) -> Vec<Value> {
    serde_json::Deserializer::from_slice(bytes).into_iter().map(Result::unwrap).collect()
}

fn assert_holds(schema: &Validator, documents: &[Value], what: &str) {
    assert!(!documents.is_empty(), "{what} writes nothing");
    for document in documents {
        let errors: Vec<String> =
            schema.iter_errors(document).map(|error| format!("{} at {}", error, error.instance_path())).collect();
        assert!(errors.is_empty(), "{what}: {errors:#?}");
    }
}

/// Runs a command in one of the books of the examples.
fn documents_of(book: &str, arguments: &[&str]) -> Vec<Value> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("examples").join(book);
    let output = rotorbook(&folder).args(arguments).args(["--format", "json"]).output().unwrap();
    documents(&output.stdout)
}

#[test]
fn every_finding_there_is_makes_a_valid_document() {
    let schema = schema("check");
    let folder = Folder::with(&[]);
    for sheet in faulty::all() {
        folder.write(&format!("{}.rotor", sheet.code), &sheet.bytes);
    }
    assert_holds(&schema, &documents(folder.run("check --format json").stdout().as_bytes()), "faulty sheets");
    for book in ["tern-quay", "recipes"] {
        assert_holds(&schema, &documents_of(book, &["check"]), book);
    }
}

#[test]
fn every_item_there_is_makes_a_valid_document() {
    for book in ["tern-quay", "recipes"] {
        assert_holds(&schema("list"), &documents_of(book, &["list", "--column", "tolerance / grade"]), book);
        assert_holds(&schema("overview"), &documents_of(book, &["overview"]), book);
    }
    let listed = documents_of("recipes", &["list"]);
    assert_holds(&schema("list"), &listed, "list");
    let shown = schema("show");
    // One in eight: each is a start of the program.
    for item in listed[0]["items"].as_array().unwrap().iter().step_by(8) {
        let (kind, name) = (item["kind"].as_str().unwrap(), item["name"].as_str().unwrap());
        assert_holds(&shown, &documents_of("recipes", &["show", name, "--kind", kind]), name);
    }
}

#[test]
fn a_machine_and_its_rotors_make_valid_documents() {
    for machine in ["soft bench", "stiff bench", "swing cradle", "long bed"] {
        assert_holds(&schema("trend"), &documents_of("tern-quay", &["trend", machine]), machine);
    }
    let setup = "fan wheel 315 on the soft bench";
    let rehearsed = ["rehearse", setup, "--rotors", "25", "--what-if", "mountings = 3"];
    assert_holds(&schema("rehearse"), &documents_of("tern-quay", &rehearsed), setup);
}

#[test]
fn a_change_makes_valid_documents() {
    let repo = Repo::with_shop("");
    repo.edit("rotors/fan-wheel-315.rotor", "highest service speed: 3550 rpm", "highest service speed: 2950 rpm");
    repo.edit("setups/fan-wheel-315.rotor", "\"left strength\": 212", "\"left strength\": 230");
    let changed = repo.json(&["diff"]);
    let has =
        |list: &str| changed["items"].as_array().unwrap().iter().any(|item| !item[list].as_array().unwrap().is_empty());
    for list in ["facts", "results", "cards", "alerts", "findings"] {
        assert!(has(list), "no {list} to hold against the schema");
    }
    assert_holds(&schema("diff"), &[changed], "diff");
    let history = repo.json(&["history", "fan wheel 315", "--kind", "rotor"]);
    assert_holds(&schema("history"), &[history], "history");
}

#[test]
fn every_schema_is_named_on_the_page_and_refuses_another_version() {
    let page = std::fs::read_to_string(folder().join("README.md")).unwrap();
    let mut commands = 0;
    for entry in std::fs::read_dir(folder()).unwrap() {
        let name = entry.unwrap().file_name().into_string().unwrap();
        let Some(command) = name.strip_suffix(".schema.json") else { continue };
        assert!(page.contains(&format!("({name})")), "{name} is not on the page");
        assert!(!schema(command).is_valid(&json!({ "version": 2 })), "{name}");
        commands += 1;
    }
    assert_eq!(commands, 8);
}
