//! The tree-sitter grammar against the program's own reader: what the one calls an error, the other does too.

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};
use std::sync::OnceLock;

use rotorbook::syntax::{SyntaxErrorKind, parse};
use tree_sitter::{Language, Node, Parser, Query};
use tree_sitter_loader::{CompileConfig, Loader};
use walkdir::WalkDir;

/// What a tree for colours need not know, as the form of the line is the same with and without these: how large and how
/// deep something may be, where a block or a fact may stand, what cannot be seen, which words there are, and blanks
/// around operators.
const NOT_ASKED: [SyntaxErrorKind; 11] = [
    SyntaxErrorKind::BadClock,
    SyntaxErrorKind::BadValue,
    SyntaxErrorKind::EscapedQuote,
    SyntaxErrorKind::ExponentOutOfRange,
    SyntaxErrorKind::FactOutsideBlock,
    SyntaxErrorKind::GradeSpelling,
    SyntaxErrorKind::HiddenCharacter,
    SyntaxErrorKind::MisplacedBlock,
    SyntaxErrorKind::OperatorWithoutSpaces,
    SyntaxErrorKind::TooDeep,
    SyntaxErrorKind::TooManyDigits,
];

/// Words for limits in other notations, which have the form of a choice.
const LIMITS_IN_WORDS: [&str; 3] = [": max", ": min ", ": at least "];

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

/// The committed parser, compiled by the C compiler that Rust needs for linking anyway.
fn language() -> &'static Language {
    static LANGUAGE: OnceLock<Language> = OnceLock::new();
    LANGUAGE.get_or_init(compiled)
}

fn compiled() -> Language {
    let built = Path::new(env!("CARGO_TARGET_TMPDIR")).join("tree-sitter");
    fs::create_dir_all(&built).unwrap();
    let source = root().join("grammar/tree-sitter-rotor/src");
    Loader::with_parser_lib_path(built).load_language_at_path(CompileConfig::new(&source, None, None)).unwrap()
}

fn parser() -> Parser {
    let mut parser = Parser::new();
    parser.set_language(language()).unwrap();
    parser
}

fn is_error(node: Node<'_>) -> bool {
    node.is_error() || node.is_missing() || matches!(node.kind(), "junk" | "unfinished")
}

/// The lines, from 0, on which nodes for what is wrong begin and end.
fn errors(node: Node<'_>, found: &mut Vec<(usize, usize)>) {
    if is_error(node) {
        found.push((node.start_position().row, node.end_position().row));
    }
    for child in node.children(&mut node.walk()) {
        errors(child, found);
    }
}

fn tree_sitter_errors(parser: &mut Parser, text: &str) -> Vec<(usize, usize)> {
    let tree = parser.parse(text, None).unwrap();
    let root = tree.root_node();
    let mut found = Vec::new();
    errors(root, &mut found);
    // A line end that is missing has no node to be found by.
    if found.is_empty() && root.has_error() {
        found.push((root.start_position().row, root.end_position().row));
    }
    found
}

/// The rows, from 0, that errors of the program touch; with those of kinds that are asked.
struct OwnRows {
    all: BTreeSet<usize>,
    asked: BTreeSet<usize>,
}

fn own_rows(text: &str) -> OwnRows {
    let row = |offset: u32| text[..offset as usize].matches('\n').count();
    let errors = parse(text).errors;
    let kinds: Vec<SyntaxErrorKind> = errors.iter().map(|error| error.kind).collect();
    let mut rows = OwnRows { all: BTreeSet::new(), asked: BTreeSet::new() };
    for error in &errors {
        let touched = row(error.span.start)..=row(error.span.end);
        rows.all.extend(touched.clone());
        let line = text[..error.span.start as usize].rfind('\n').map_or(text, |end| &text[end + 1..]);
        let in_words = LIMITS_IN_WORDS.iter().any(|words| line.lines().next().unwrap_or("").contains(words));
        if is_asked(&error.kind, &kinds) && !(error.kind == SyntaxErrorKind::BadRange && in_words) {
            rows.asked.extend(touched);
        }
    }
    rows
}

/// Whether a kind of error must be seen by tree-sitter too, in a text with these.
fn is_asked(kind: &SyntaxErrorKind, all: &[SyntaxErrorKind]) -> bool {
    use SyntaxErrorKind::{MisplacedBlock, StrayClose, UnclosedBlock};
    let follows = all.contains(&MisplacedBlock) && matches!(kind, UnclosedBlock | StrayClose);
    !NOT_ASKED.contains(kind) && !follows
}

/// Braces that are on one line and count on another: which of them is the wrong one is a guess, and the two guess
/// differently. The same is true of the sides of a merge.
const BRACES: [SyntaxErrorKind; 5] = [
    SyntaxErrorKind::ConflictMarkers,
    SyntaxErrorKind::MisplacedBlock,
    SyntaxErrorKind::StrayClose,
    SyntaxErrorKind::TextAroundClose,
    SyntaxErrorKind::UnclosedBlock,
];

/// How many braces a line opens more than it closes, outside strings and comments.
fn surplus(line: &str) -> i64 {
    let (mut quoted, mut surplus) = (false, 0);
    for character in line.chars() {
        match character {
            '"' => quoted = !quoted,
            '#' if !quoted => break,
            '{' if !quoted => surplus += 1,
            '}' if !quoted => surplus -= 1,
            _ => {}
        }
    }
    surplus
}

/// Whether a brace of the text has no fellow where it should.
fn is_about_braces(text: &str, kinds: &[SyntaxErrorKind]) -> bool {
    kinds.iter().any(|kind| BRACES.contains(kind))
        || text.lines().map(surplus).sum::<i64>() != 0
        || text.lines().any(|line| line.trim() == "{")
}

/// How the two disagree about the rows of a text that are wrong, if they do.
fn disagreement(parser: &mut Parser, text: &str) -> Option<String> {
    let own = own_rows(text);
    let kinds: Vec<SyntaxErrorKind> = parse(text).errors.into_iter().map(|error| error.kind).collect();
    let found: BTreeSet<usize> =
        tree_sitter_errors(parser, text).into_iter().flat_map(|(from, to)| from..=to).collect();
    let agree = if is_about_braces(text, &kinds) {
        own.asked.is_empty() || !found.is_disjoint(&own.all)
    } else {
        own.asked.is_subset(&found) && found.is_subset(&own.all)
    };
    (!agree).then(|| format!("{text}\n  the program: rows {:?}, {kinds:?}\n  tree-sitter: rows {found:?}", own.all))
}

fn assert_agree(texts: impl Iterator<Item = String>) {
    let mut parser = parser();
    let disagreements: Vec<String> = texts.filter_map(|text| disagreement(&mut parser, &text)).collect();
    assert!(disagreements.is_empty(), "{}\n{} in all", disagreements.join("\n\n"), disagreements.len());
}

fn sheets(folder: &str) -> Vec<PathBuf> {
    let files = WalkDir::new(root().join(folder)).sort_by_file_name().into_iter().map(|entry| entry.unwrap());
    files.map(walkdir::DirEntry::into_path).filter(|path| path.extension().is_some_and(|end| end == "rotor")).collect()
}

/// The sheets of a folder as text; those that are none are about that.
fn texts(folder: &str) -> impl Iterator<Item = String> {
    sheets(folder).into_iter().filter_map(|path| fs::read_to_string(path).ok())
}

fn blocks() -> impl Iterator<Item = String> {
    include_str!("../data/blocks.txt").trim_end().split("\n----\n").map(str::to_owned)
}

#[test]
fn both_read_the_example_book_without_an_error() {
    let mut parser = parser();
    for path in sheets("examples/tern-quay") {
        let found = tree_sitter_errors(&mut parser, &fs::read_to_string(&path).unwrap());
        assert_eq!(found, [], "{}", path.display());
    }
}

#[test]
fn both_agree_on_the_sheets_of_the_tests() {
    assert_agree(texts("tests/data"));
}

#[test]
fn both_agree_on_values() {
    let values = include_str!("../data/values.txt").lines().chain(include_str!("../data/odd-values.txt").lines());
    assert_agree(values.map(|value| format!("rotor x {{\n  k: {value}\n}}\n")));
}

#[test]
fn both_agree_on_lines() {
    let lines = include_str!("../data/odd-lines.txt").lines();
    let closed = |line: &str| if line.trim_end().ends_with('{') { "  }\n" } else { "" };
    assert_agree(lines.map(|line| format!("rotor x {{\n{line}\n{}}}\n", closed(line))));
}

/// A row of the slips has the blocks around the line, a stroke, and the line; `\n` in it is a line end.
fn slip(row: &str) -> Option<String> {
    let (path, line) = row.split_once("| ")?;
    let blocks: Vec<&str> = path.trim().split('/').filter(|block| !block.is_empty()).collect();
    let before: String = blocks.iter().map(|block| format!("{block} {{\n")).collect();
    let line = line.replace("\\n", "\n").replace("\\t", "\t").replace("\\u00a0", "\u{a0}");
    Some(format!("{before}{line}\n{}", "}\n".repeat(blocks.len())))
}

#[test]
fn both_agree_on_slips() {
    assert_agree(include_str!("../data/slips.txt").lines().filter_map(slip));
}

#[test]
fn both_agree_on_blocks() {
    assert_agree(blocks());
}

/// The sheet of the tests, with one line of the list of odd ones put in at each of its lines: colours are lost on that
/// line at most, also where it opens and closes a block.
#[test]
fn a_broken_line_costs_one_line() {
    let mut parser = parser();
    let sheet = include_str!("../data/fan-wheel.rotor");
    let lines: Vec<&str> = sheet.lines().collect();
    let closed =
        ["  plane hub {}", "  tolerance {}", "  plane rim { at: \"} 3\" } # {", "  foo { bar { x: 3 } }", "  {} {}"];
    let odd = include_str!("../data/odd-lines.txt").lines().chain(closed);
    for odd in odd.filter(|line| surplus(line) == 0 && !line.contains(['<', '>'])) {
        for at in 2..lines.len() {
            let mut edited = lines.clone();
            edited.insert(at, odd);
            for (from, to) in tree_sitter_errors(&mut parser, &edited.join("\n")) {
                assert!(from >= at && to <= at, "`{odd}` at line {at} costs lines {from} to {to}");
            }
        }
    }
}

/// Older editors take no newer one.
#[test]
fn the_parser_is_of_a_version_that_all_editors_take() {
    assert_eq!(language().abi_version(), 14);
}

#[test]
fn every_query_fits_the_grammar() {
    let language = language();
    let queries = WalkDir::new(root())
        .into_iter()
        .filter_entry(|entry| !matches!(entry.file_name().to_str(), Some("target" | "node_modules" | ".git" | "src")));
    let mut number = 0;
    for entry in
        queries.map(|entry| entry.unwrap()).filter(|entry| entry.path().extension().is_some_and(|e| e == "scm"))
    {
        let text = fs::read_to_string(entry.path()).unwrap();
        if let Err(error) = Query::new(language, &text) {
            panic!("{}: {error}", entry.path().display());
        }
        number += 1;
    }
    assert!(number >= 8, "only {number} queries were found");
}
