//! The commands of the README are run as they stand there.

use std::path::{Path, PathBuf};
use std::process::Command;

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

/// The lines of the README's shell blocks, in order.
fn commands() -> Vec<String> {
    let readme = include_str!("../../README.md");
    let mut commands = Vec::new();
    let mut inside = false;
    for line in readme.lines().map(str::trim) {
        match line {
            "```sh" => inside = true,
            "```" => inside = false,
            _ if inside && !line.is_empty() => commands.push(line.to_owned()),
            _ => {}
        }
    }
    commands
}

/// The words of a command line, quotes taken off.
fn words(line: &str) -> Vec<String> {
    let mut words = vec![String::new()];
    let mut quoted = false;
    for character in line.chars() {
        match character {
            '"' => quoted = !quoted,
            ' ' if !quoted => words.push(String::new()),
            other => words.last_mut().unwrap().push(other),
        }
    }
    words.retain(|word| !word.is_empty());
    words
}

fn run(arguments: &[String], folder: &Path) {
    let output = Command::new(env!("CARGO_BIN_EXE_rotorbook")).args(arguments).current_dir(folder).output().unwrap();
    let said = |bytes: &[u8]| String::from_utf8_lossy(bytes).into_owned();
    // Sheets to start from are drafts with blanks: a finding is an answer, a misuse is not.
    let allowed = if folder == root() { 0 } else { 1 };
    assert!(
        output.status.code().is_some_and(|code| code <= allowed),
        "{arguments:?}: {}\n{}{}",
        output.status,
        said(&output.stdout),
        said(&output.stderr)
    );
}

/// Git without the settings of machine and person.
fn git(arguments: &[String], folder: &Path) {
    let mut command = Command::new("git");
    command.env("GIT_CONFIG_NOSYSTEM", "1").env("GIT_CONFIG_GLOBAL", "/dev/null");
    for who in ["AUTHOR", "COMMITTER"] {
        command.env(format!("GIT_{who}_NAME"), "Tern").env(format!("GIT_{who}_EMAIL"), "shop@tern-quay.example");
    }
    let output = command.current_dir(folder).args(arguments).output().expect("git is needed by this test: install it");
    assert!(output.status.success(), "{arguments:?}: {}", String::from_utf8_lossy(&output.stderr));
}

#[test]
fn every_command_of_the_readme_works() {
    let scratch = tempfile::tempdir().unwrap();
    let commands = commands();
    assert!(commands.len() >= 10);
    for line in commands {
        let words = words(&line);
        match &words[..] {
            [cargo, run_word, release, dashes, rest @ ..]
                if [cargo, run_word, release, dashes].map(String::as_str) == ["cargo", "run", "--release", "--"] =>
            {
                run(rest, root());
            }
            // This test is part of what that command runs.
            [cargo, test] if cargo == "cargo" && test == "test" => {}
            [program, rest @ ..] if program == "rotorbook" => run(rest, scratch.path()),
            [program, rest @ ..] if program == "git" => git(rest, scratch.path()),
            _ => panic!("the README has a command that this test does not know: {line}"),
        }
    }
}

#[test]
fn the_sheet_in_the_readme_is_clean() {
    let readme = include_str!("../../README.md");
    let sheet = readme.split("```rotor\n").nth(1).and_then(|rest| rest.split("```").next()).unwrap();
    let file: PathBuf = tempfile::tempdir().unwrap().keep().join("sheet.rotor");
    std::fs::write(&file, sheet).unwrap();
    run(&["check".to_owned(), file.display().to_string()], root());
}

/// The shop's book in which the fan wheel runs slower than it did at the last commit.
#[test]
fn what_the_readme_shows_is_what_the_program_says() {
    let scratch = tempfile::tempdir().unwrap();
    let folder = scratch.path();
    for entry in walkdir::WalkDir::new(root().join("examples/tern-quay")) {
        let entry = entry.unwrap();
        let to = folder.join(entry.path().strip_prefix(root().join("examples/tern-quay")).unwrap());
        match entry.file_type().is_dir() {
            true => std::fs::create_dir_all(to).unwrap(),
            false => _ = std::fs::copy(entry.path(), to).unwrap(),
        }
    }
    let words = |line: &str| words(line);
    git(&words("init"), folder);
    git(&words("add -A"), folder);
    git(&words("commit -m first"), folder);
    let rotor = folder.join("rotors/fan-wheel-315.rotor");
    let text = std::fs::read_to_string(&rotor).unwrap();
    std::fs::write(&rotor, text.replace("highest service speed: 3550 rpm", "highest service speed: 2950 rpm")).unwrap();
    let said = |arguments: &str| {
        let mut command = Command::new(env!("CARGO_BIN_EXE_rotorbook"));
        let output = command.args(words(arguments)).current_dir(folder).output().unwrap();
        String::from_utf8(output.stdout).unwrap()
    };
    let shown: Vec<&str> = include_str!("../../README.md").split("```text\n").skip(1).collect();
    let shown: Vec<&str> = shown.into_iter().map(|rest| rest.split("```").next().unwrap()).collect();
    let (message, diff) = (shown[0], shown[1]);
    assert!(said("check").contains(message), "{}", said("check"));
    let program = said("diff");
    let mut rest = &*program;
    // The number of the commit is another each time, and where the picture leaves lines out it says so.
    for line in diff.lines().skip(1).filter(|line| !line.trim().is_empty() && line.trim() != "…") {
        let at = rest.find(line).unwrap_or_else(|| panic!("`{line}` is not in: {program}"));
        rest = &rest[at + line.len()..];
    }
    let head = |text: &str| text.lines().next().unwrap().split_once("→").unwrap().1.to_owned();
    assert_eq!(head(diff), head(&program));
}
