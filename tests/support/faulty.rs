//! Faulty sheets, one a diagnostic, as differences from a book in which nothing is wrong.
//!
//! `#= base machine, rotor` takes these items of `base.rotor`. What follows is laid over them: a line or block of the same
//! head is in place of the one of the base, others are added, `#= without plane rim` takes one away. `#= says …` is a
//! message that must be found, word for word, `#= helps …` its help and `#= offers …` the title of a fix, wherever these
//! have a number; `#= with code` allows another diagnostic beside it.

use std::fs;
use std::path::{Path, PathBuf};

/// A sheet as it is checked, and what it says of itself.
#[derive(Default)]
pub struct Faulty {
    pub code: String,
    /// The whole sheet; not always text.
    pub bytes: Vec<u8>,
    pub says: Vec<String>,
    pub helps: Vec<String>,
    pub offers: Vec<String>,
    pub allowed: Vec<String>,
}

pub fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/data/faulty")
}

/// Every faulty sheet, by code.
pub fn all() -> Vec<Faulty> {
    let mut paths: Vec<PathBuf> = fs::read_dir(folder()).unwrap().map(|entry| entry.unwrap().path()).collect();
    paths.retain(|path| path.file_name().is_some_and(|name| name != "base.rotor"));
    paths.sort();
    paths.iter().map(|path| read(path)).collect()
}

/// The sheet of one diagnostic.
pub fn of(code: &str) -> Option<Faulty> {
    let path = folder().join(format!("{code}.rotor"));
    path.exists().then(|| read(&path))
}

fn read(path: &Path) -> Faulty {
    let code = path.file_stem().unwrap().to_str().unwrap().to_owned();
    let bytes = fs::read(path).unwrap();
    let Ok(text) = std::str::from_utf8(&bytes) else {
        return Faulty { code, bytes, ..Faulty::default() };
    };
    let told = |word: &str| -> Vec<String> {
        text.lines().filter_map(|line| line.strip_prefix("#= ")?.strip_prefix(word)).map(str::to_owned).collect()
    };
    let allowed = told("with ").iter().flat_map(|codes| codes.split(", ")).map(str::to_owned).collect();
    let (says, helps, offers) = (told("says "), told("helps "), told("offers "));
    let whole = match told("base ").first() {
        Some(kinds) => on_the_base(kinds, text),
        None => {
            let own = text.split_inclusive('\n').filter(|line| !line.starts_with("#= "));
            own.collect()
        }
    };
    Faulty { code, bytes: whole.into_bytes(), says, helps, offers, allowed }
}

/// A line with its head, or a block with its lines.
#[derive(Clone)]
struct Part {
    /// `radius`, `reading =>`, `plane rim`; empty for a comment.
    head: String,
    line: String,
    block: Option<Vec<Part>>,
}

fn on_the_base(kinds: &str, text: &str) -> String {
    let base = fs::read_to_string(folder().join("base.rotor")).unwrap();
    let taken = |part: &Part| kinds.split(", ").any(|kind| part.head.split(" \"").next() == Some(kind));
    let base: Vec<Part> = parts(&mut base.lines()).into_iter().filter(taken).collect();
    let mut whole = String::new();
    write(&laid_over(base, parts(&mut text.lines())), 0, &mut whole);
    whole
}

/// The lines and blocks up to the brace that closes them.
fn parts<'a>(lines: &mut impl Iterator<Item = &'a str>) -> Vec<Part> {
    let mut found = Vec::new();
    while let Some(line) = lines.next().map(str::trim) {
        if line == "}" {
            break;
        }
        if line.is_empty() {
            continue;
        }
        let line = line.to_owned();
        found.push(match (line.strip_suffix('{'), line.starts_with('#')) {
            (_, true) => Part { head: String::new(), line, block: None },
            (Some(head), _) => Part { head: head.trim_end().to_owned(), block: Some(parts(lines)), line },
            (None, _) => Part { head: head_of(&line).to_owned(), line, block: None },
        });
    }
    found
}

/// What comes before the colon, or all up to the arrow with it. A colon inside quotes is part of the head.
fn head_of(line: &str) -> &str {
    let mut quoted = false;
    for (at, letter) in line.char_indices() {
        quoted ^= letter == '"';
        match letter {
            ':' if !quoted => return &line[..at],
            '=' if !quoted => return &line[..at + 2],
            _ => {}
        }
    }
    line
}

fn laid_over(mut base: Vec<Part>, over: Vec<Part>) -> Vec<Part> {
    for head in over.iter().filter_map(|part| part.line.strip_prefix("#= without ")) {
        let before = base.len();
        base.retain(|part| part.head != head);
        assert!(base.len() < before, "the base has no `{head}` to be taken away");
    }
    for part in over.into_iter().filter(|part| !part.line.starts_with("#= ")) {
        let same = |other: &&mut Part| {
            !part.head.is_empty() && other.head == part.head && other.block.is_some() == part.block.is_some()
        };
        match (base.iter_mut().find(same), &part.block) {
            (Some(there), Some(block)) => {
                let lines = there.block.take().unwrap_or_default();
                there.block = Some(laid_over(lines, block.clone()));
            }
            (Some(there), None) => *there = part,
            (None, Some(block)) => {
                let block = Some(laid_over(Vec::new(), block.clone()));
                base.push(Part { block, ..part });
            }
            // A line goes where lines stand, before the blocks.
            (None, None) => {
                let after = base.iter().rposition(|other| other.block.is_none()).map_or(0, |last| last + 1);
                base.insert(after, part);
            }
        }
    }
    base
}

fn write(parts: &[Part], depth: usize, into: &mut String) {
    let indent = "  ".repeat(depth);
    for (n, part) in parts.iter().enumerate() {
        if part.block.is_some() && n > 0 {
            into.push('\n');
        }
        into.push_str(&format!("{indent}{}\n", part.line));
        if let Some(block) = &part.block {
            write(block, depth + 1, into);
            into.push_str(&format!("{indent}}}\n"));
        }
    }
}
