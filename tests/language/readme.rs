//! The commands of the README are run as they are there.

use std::path::Path;
use std::process::Output;

use super::support::pages;

const README: &str = include_str!("../../README.md");

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

fn assert_ends(line: &str, output: &Output, worst: i32) {
    let ended = output.status.code().is_some_and(|code| code <= worst);
    assert!(ended, "{line}: {}\n{}", output.status, pages::said(output));
}

#[test]
fn every_command_of_the_readme_works() {
    let scratch = tempfile::tempdir().unwrap();
    let shell = pages::blocks(README).into_iter().filter(|block| block.language == "sh");
    let commands: Vec<&str> = shell.flat_map(|block| block.text.lines()).map(str::trim).collect();
    assert!(commands.len() >= 10);
    for line in commands.into_iter().filter(|line| !line.is_empty()) {
        if let Some(rest) = line.strip_prefix("cargo run --release -- ") {
            assert_ends(line, &pages::run(&format!("rotorbook {rest}"), root()), 0);
        } else if line != "cargo test" {
            // That command runs this test. Sheets to start from are drafts with blanks: a finding is an answer, a misuse is not.
            assert_ends(line, &pages::run(line, scratch.path()), 1);
        }
    }
}

#[test]
fn the_sheet_in_the_readme_is_clean() {
    let blocks = pages::blocks(README);
    let sheet = blocks.iter().find(|block| block.language == "rotor").unwrap();
    let folder = tempfile::tempdir().unwrap();
    std::fs::write(folder.path().join("sheet.rotor"), sheet.text).unwrap();
    assert_ends("check", &pages::run("rotorbook check sheet.rotor", folder.path()), 0);
}

/// The shop's book in which the fan wheel runs slower than it did at the last commit.
#[test]
fn what_the_readme_shows_is_what_the_program_says() {
    let scratch = tempfile::tempdir().unwrap();
    let folder = scratch.path();
    pages::copy(&root().join("examples/tern-quay"), folder);
    for line in ["git init", "git add -A", "git commit -m first"] {
        assert_ends(line, &pages::run(line, folder), 0);
    }
    let rotor = folder.join("rotors/fan-wheel-315.rotor");
    let text = std::fs::read_to_string(&rotor).unwrap();
    std::fs::write(&rotor, text.replace("highest service speed: 3550 rpm", "highest service speed: 2950 rpm")).unwrap();
    let program = |line: &str| String::from_utf8(pages::run(line, folder).stdout).unwrap();
    let shown: Vec<_> = pages::blocks(README).into_iter().filter(|block| block.language == "text").collect();
    let (message, diff) = (shown[0].text, shown[1].text);
    assert!(program("rotorbook check").contains(message), "{}", program("rotorbook check"));
    let said = program("rotorbook diff");
    // The number of the commit is another each time.
    let head = |text: &str| text.lines().next().unwrap().split_once("→").unwrap().1.to_owned();
    assert_eq!(head(diff), head(&said));
    pages::assert_quotes(diff.split_once('\n').unwrap().1, &said);
}
