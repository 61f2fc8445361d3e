//! The recipes: their sheets are clean, their commands run, and their answers are the program's.

use std::fs;
use std::path::{Path, PathBuf};

use super::support::pages;

fn recipes() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("examples/recipes")
}

/// The folders of the recipes with their pages, by name.
fn all() -> Vec<(String, String)> {
    let folders = fs::read_dir(recipes()).unwrap().map(|entry| entry.unwrap().path());
    let pages = folders.filter(|path| path.is_dir() && !path.ends_with("shop")).map(|path| {
        let page = fs::read_to_string(path.join("README.md")).unwrap_or_else(|error| panic!("{path:?}: {error}"));
        (path.file_name().unwrap().to_string_lossy().into_owned(), page)
    });
    let mut pages: Vec<_> = pages.collect();
    pages.sort();
    pages
}

fn sheets(folder: &Path) -> Vec<(String, String)> {
    let files = fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path());
    let sheets = files.filter(|path| path.extension().is_some_and(|end| end == "rotor"));
    let named =
        |path: PathBuf| (path.file_name().unwrap().to_string_lossy().into_owned(), fs::read_to_string(&path).unwrap());
    sheets.map(named).collect()
}

#[test]
fn nothing_is_to_be_reported_of_any_recipe() {
    let output = pages::run("rotorbook check", &recipes());
    let said = pages::said(&output);
    assert!(output.status.success() && said.contains("nothing to report"), "{said}");
}

#[test]
fn every_command_is_run_and_every_answer_is_the_programs() {
    for (name, page) in all() {
        // Each in a copy of its own: some change their sheets.
        let scratch = tempfile::tempdir().unwrap();
        pages::copy(&recipes(), scratch.path());
        let folder = scratch.path().join(&name);
        let mut said = String::new();
        for block in pages::blocks(&page) {
            match block.language {
                "sh" => {
                    said.clear();
                    for line in block.text.lines() {
                        let output = pages::run(line, &folder);
                        // A check of changed sheets finds something.
                        let code = output.status.code();
                        let wrong = |code| code > i32::from(line.starts_with("rotorbook check"));
                        assert!(!code.is_none_or(wrong), "{name}: {line}: {}", pages::said(&output));
                        said.push_str(&pages::said(&output));
                    }
                }
                "text" => pages::assert_quotes(block.text, &said),
                "rotor" => {
                    let held = |(_, sheet): &(String, String)| {
                        block.text.split("  …\n").all(|part| sheet.contains(part.trim_end()))
                    };
                    assert!(sheets(&folder).iter().any(held), "{name}: not in a sheet: {}", block.text);
                }
                other => panic!("{name}: a block of {other}"),
            }
        }
        assert!(said.contains("card.svg") || name == "reviewing-a-change", "{name}: no card");
    }
}

#[test]
fn every_recipe_has_all_its_parts() {
    let front = fs::read_to_string(recipes().join("README.md")).unwrap();
    let all = all();
    assert!(all.len() >= 12);
    for (name, page) in all {
        let parts = ["# ", "**Use it**", "## At the ", "## The sheet", "## What the program answers", "## By hand"];
        for part in parts.into_iter().chain(["## What to check", "## Cautions", "## Sources"]) {
            assert!(page.lines().any(|line| line.starts_with(part)), "{name}: no {part}");
        }
        assert!(page.to_lowercase().contains("local rules"), "{name}: cautions defer to local rules");
        assert!(front.contains(&format!("({name}/README.md)")), "{name} is not on the first page");
        for (sheet, _) in sheets(&recipes().join(&name)) {
            assert!(page.contains(&format!("({sheet})")), "{name}: {sheet} is not named");
        }
    }
}
