//! Pages with commands, and what these answer: each block between fences is read, run or looked for.

use std::fs;
use std::path::Path;
use std::process::{Command, Output};

/// What is between two fences of a page.
pub struct Block<'a> {
    pub language: &'a str,
    pub text: &'a str,
}

pub fn blocks(page: &str) -> Vec<Block<'_>> {
    let mut blocks = Vec::new();
    let mut rest = page;
    while let Some((_, after)) = rest.split_once("```") {
        let (language, after) = after.split_once('\n').unwrap();
        let (text, after) = after.split_once("```").unwrap_or_else(|| panic!("```{language} is not closed"));
        blocks.push(Block { language, text });
        rest = after;
    }
    blocks
}

/// The words of a command line, quotes taken off.
pub fn words(line: &str) -> Vec<String> {
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

/// Runs a line of a page in a folder; git without the settings of machine and person.
pub fn run(line: &str, folder: &Path) -> Output {
    let words = words(line);
    let mut command = match &*words[0] {
        "rotorbook" => Command::new(env!("CARGO_BIN_EXE_rotorbook")),
        program @ ("git" | "sed") => Command::new(program),
        _ => panic!("a page has a command that this test does not know: {line}"),
    };
    command.env("GIT_CONFIG_NOSYSTEM", "1").env("GIT_CONFIG_GLOBAL", "/dev/null");
    for who in ["AUTHOR", "COMMITTER"] {
        command.env(format!("GIT_{who}_NAME"), "Tern").env(format!("GIT_{who}_EMAIL"), "shop@tern-quay.example");
    }
    command.current_dir(folder).args(&words[1..]).output().unwrap_or_else(|error| panic!("{line}: {error}"))
}

/// What a command wrote, results before messages.
pub fn said(output: &Output) -> String {
    [&output.stdout, &output.stderr].map(|bytes| String::from_utf8_lossy(bytes).into_owned()).concat()
}

/// Whether each quoted line is there, in this order; `…` is where a page leaves lines out.
pub fn assert_quotes(quoted: &str, said: &str) {
    let mut rest = said;
    for line in quoted.lines().filter(|line| !line.trim().is_empty() && line.trim() != "…") {
        let at = rest.find(line).unwrap_or_else(|| panic!("`{line}` is not in, or not in this order:\n{said}"));
        rest = &rest[at + line.len()..];
    }
}

/// A folder with all that is below it, elsewhere.
pub fn copy(from: &Path, to: &Path) {
    for entry in walkdir::WalkDir::new(from) {
        let entry = entry.unwrap();
        let to = to.join(entry.path().strip_prefix(from).unwrap());
        match entry.file_type().is_dir() {
            true => fs::create_dir_all(to).unwrap(),
            false => _ = fs::copy(entry.path(), to).unwrap(),
        }
    }
}
