//! The workflows that `init --ci` writes: against the schemas that are published for them, and their steps as they run.
//!
//! `tests/data/schemas/README.md` says where the schemas are from. Forgejo publishes none; it reads the workflows of GitHub.

use std::path::Path;
use std::process::Command;

use serde_json::Value;
use yaml_rust2::{Yaml, YamlLoader};

use crate::support::git::{Repo, git};

const GITHUB: &str = include_str!("../data/schemas/github-workflow.json");
const GITLAB: &str = include_str!("../data/schemas/gitlab-ci.json");

fn json(yaml: &Yaml) -> Value {
    match yaml {
        Yaml::Real(number) => serde_json::from_str(number).unwrap(),
        Yaml::Integer(number) => (*number).into(),
        Yaml::String(text) => text.as_str().into(),
        Yaml::Boolean(yes) => (*yes).into(),
        Yaml::Array(all) => all.iter().map(json).collect(),
        Yaml::Hash(all) => all.iter().map(|(key, value)| (key.as_str().unwrap().to_owned(), json(value))).collect(),
        Yaml::Null => Value::Null,
        Yaml::Alias(_) | Yaml::BadValue => panic!("no plain YAML"),
    }
}

fn read(text: &str) -> Value {
    json(&YamlLoader::load_from_str(text).unwrap()[0])
}

fn holds(schema: &str, document: &Value, what: &str) {
    let schema = jsonschema::validator_for(&serde_json::from_str(schema).unwrap()).unwrap();
    let errors: Vec<String> =
        schema.iter_errors(document).map(|error| format!("{error} at {}", error.instance_path())).collect();
    assert!(errors.is_empty(), "{what}: {errors:#?}");
}

fn workflow(arguments: &[&str], path: &str) -> (Repo, Value) {
    let repo = Repo::with_shop("shop");
    repo.run(&[&["init", "--program", "https://tern.example/rotorbook \"1\".whl"], arguments].concat());
    let text = std::fs::read_to_string(repo.top().join(path)).unwrap();
    assert!(
        !text.contains("@INSTALL@")
            && !text.contains("@CHANGES@")
            && !text.contains("@KEEPING@")
            && !text.contains("@SINCE@"),
        "{text}"
    );
    (repo, read(&text))
}

#[test]
fn workflows_are_as_the_published_schemas_have_them() {
    let github = ".github/workflows/setup-sheets.yml";
    for (arguments, path, schema) in [
        (vec!["--ci", "github"], github, GITHUB),
        (vec!["--ci", "github", "--sarif"], github, GITHUB),
        (vec!["--ci", "forgejo"], ".forgejo/workflows/setup-sheets.yml", GITHUB),
        (vec!["--ci", "gitlab"], ".gitlab-ci.yml", GITLAB),
    ] {
        let (_, document) = workflow(&arguments, path);
        holds(schema, &document, &format!("{arguments:?}"));
        let mut wrong = document.clone();
        match schema == GITHUB {
            true => wrong["jobs"]["sheets"]["stpes"] = Value::Null,
            false => wrong["setup sheets"]["script"] = 3.into(),
        }
        let strict = jsonschema::validator_for(&serde_json::from_str(schema).unwrap()).unwrap();
        assert!(!strict.is_valid(&wrong), "the schema takes anything");
    }
}

#[test]
fn what_is_not_ours_is_pinned_by_its_commit() {
    let (_, document) = workflow(&["--ci", "github"], ".github/workflows/setup-sheets.yml");
    for step in document["jobs"]["sheets"]["steps"].as_array().unwrap() {
        let Some(action) = step["uses"].as_str() else { continue };
        let id = action.split('@').nth(1).unwrap();
        assert!(id.len() == 40 && id.bytes().all(|byte| byte.is_ascii_hexdigit()), "{action}");
    }
    assert_eq!(document["permissions"], serde_json::json!({ "contents": "read" }));
}

/// A step in a shell, as a runner starts it, with the program on the path.
fn step(folder: &Path, script: &str, variables: &[(&str, &str)]) -> (i32, String) {
    let program = assert_cmd::cargo::cargo_bin!("rotorbook").parent().unwrap().to_owned();
    let path = format!("{}:{}", program.display(), std::env::var("PATH").unwrap());
    let mut command = Command::new("bash");
    command.args(["-e", "-c", script]).current_dir(folder).env("PATH", path).envs(variables.iter().copied());
    let output = command.output().unwrap();
    let said = String::from_utf8([output.stdout, output.stderr].concat()).unwrap();
    (output.status.code().unwrap(), said)
}

#[test]
fn the_steps_do_what_they_say_for_every_book_of_a_repository() {
    let (repo, document) = workflow(&["--ci", "github"], ".github/workflows/setup-sheets.yml");
    // A second book, in a folder whose name has a blank.
    std::fs::create_dir_all(repo.top().join("other shop/rotors")).unwrap();
    let shop = "shop \"Tern Quay, upper yard\" {\n  format: 1\n}\n";
    std::fs::write(repo.top().join("other shop/book.rotor"), shop).unwrap();
    let rotor = repo.read("rotors/fan-wheel-315.rotor");
    std::fs::write(repo.top().join("other shop/rotors/fan.rotor"), &rotor).unwrap();
    repo.commit("two books");
    let base = repo.git("rev-parse HEAD").trim().to_owned();
    repo.edit("rotors/fan-wheel-315.rotor", "rotation: clockwise", "rotation: anticlockwise");
    let looser = rotor.replace("grade: G 6.3", "grade: G 16");
    std::fs::write(repo.top().join("other shop/rotors/fan.rotor"), looser).unwrap();
    repo.commit("both changed");
    // As it is checked out by a runner.
    let clone = tempfile::tempdir().unwrap();
    let cloned = git(repo.top()).args(["clone", "-q", ".", clone.path().to_str().unwrap()]).status().unwrap();
    assert!(cloned.success());
    let steps = document["jobs"]["sheets"]["steps"].as_array().unwrap();
    let run = |name: &str| {
        let is_it = |step: &&Value| step["name"] == name;
        steps.iter().find(is_it).and_then(|step| step["run"].as_str()).unwrap_or_else(|| panic!("no step {name}"))
    };
    let summary = clone.path().join("summary");
    let variables = [
        ("BASE", base.as_str()),
        ("PICTURES", "https://run.example#"),
        ("GITHUB_STEP_SUMMARY", summary.to_str().unwrap()),
    ];
    let (code, said) = step(clone.path(), run("what changes"), &variables);
    assert_eq!(code, 0, "{said}");
    let text = std::fs::read_to_string(&summary).unwrap();
    assert_eq!(text.matches("### Setup sheets:").count(), 2, "{text}");
    assert!(text.contains("convention changed") && text.contains("tolerance loosened"), "{text}");
    assert!(text.contains("](<https://run.example#1.html>)") && clone.path().join("pictures/2.html").is_file());
    // The released sheet of the first book still passes; the pin of the second is stale.
    let (_, said) = step(clone.path(), run("check"), &variables);
    assert!(said.contains("::warning") || said.contains("::error"), "annotations: {said}");
    let (code, said) = step(clone.path(), run("layout and pins"), &variables);
    assert_eq!(code, 1, "{said}");
    // What a proof was made with is written otherwise, and nothing that it read: only the change shows it.
    let proof = "setups/fan-wheel-315.rotor";
    let before = repo.read(proof);
    repo.edit(proof, "date: 2026-04-14\n    by", "date: 2026-05-20\n    by");
    repo.commit("another day");
    assert!(git(clone.path()).args(["pull", "-q"]).status().unwrap().success());
    let (_, said) = step(clone.path(), run("check"), &variables);
    assert!(!said.contains("proof-rewritten"), "{said}");
    let (code, said) = step(clone.path(), run("what the change brings"), &variables);
    assert!(code != 0 && said.contains("proof-rewritten"), "{said}");
    repo.write(proof, &before);
    repo.commit("as it was");
    assert!(git(clone.path()).args(["pull", "-q"]).status().unwrap().success());
    let (_, said) = step(clone.path(), run("what the change brings"), &variables);
    assert!(!said.contains("proof-rewritten"), "{said}");
    let (code, said) = step(clone.path(), run("what the change brings"), &[("BASE", &"0".repeat(40))]);
    assert_eq!((code, said.as_str()), (0, ""));
    // Until the program is named, the job says so in one sentence.
    let (code, said) = step(clone.path(), run("rotorbook"), &[("ROTORBOOK", "")]);
    assert_eq!((code, said.trim_end()), (1, "Name the wheel or the address of rotorbook as ROTORBOOK in this file."));
}
