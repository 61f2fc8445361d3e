//! What holds of every text whatever: the reader takes it, its lines tile it, and time grows with length alone.

use std::fs;
use std::path::Path;

use crate::support::texts::{lines, piece, strewn};
use proptest::prelude::*;
use rayon::prelude::*;
use rotorbook::syntax::{LineKind, Node, SyntaxErrorKind, Tree, parse, parse_value};
use rotorbook::text::{LineIndex, Span};

const SHEET: &str = include_str!("../data/fan-wheel.rotor");
const LISTS: [&str; 4] = [
    include_str!("../data/odd-lines.txt"),
    include_str!("../data/odd-values.txt"),
    include_str!("../data/values.txt"),
    include_str!("../data/blocks.txt"),
];

/// Everything that the types promise but do not enforce.
fn check(text: &str) -> Tree {
    let tree = parse(text);
    lines_tile(text, &tree);
    let mut next = 0;
    nodes_in_order(&tree, &tree.top, &mut next);
    for error in &tree.errors {
        assert!(text.get(error.span.range()).is_some(), "{error:?}");
        assert!(error.replace.as_ref().is_none_or(|(span, _)| text.get(span.range()).is_some()), "{error:?}");
    }
    assert!(tree.errors.is_sorted_by_key(|error| error.span));
    tree
}

fn lines_tile(text: &str, tree: &Tree) {
    let mut at = if text.starts_with('\u{feff}') { 3 } else { 0 };
    for (index, line) in tree.lines.iter().enumerate() {
        assert_eq!(line.span.start as usize, at, "line {index} of {text:?}");
        let end = line.span.end as usize;
        assert!(line.comment.is_none_or(|comment| comment.end == line.span.end && line.span.contains(comment.start)));
        let rest = &text[end..];
        let returns = rest.len() - rest.trim_start_matches('\r').len();
        let ending = returns + usize::from(rest.len() > returns);
        assert!(rest.len() == returns || rest[..ending].ends_with('\n'));
        assert!(!line.span.of(text).ends_with('\r'));
        at = end + ending;
        for span in spans(&line.kind) {
            assert!(text.get(span.range()).is_some(), "{span:?} in {text:?}");
        }
    }
    assert_eq!(at, text.len());
    assert_eq!(tree.lines.len() as u32, LineIndex::new(text).lines());
}

/// The spans of a line and its value.
fn spans(kind: &LineKind) -> Vec<Span> {
    match kind {
        LineKind::Open(open) => vec![open.kind_span, open.brace],
        LineKind::Close(span) => vec![*span],
        LineKind::Fact(fact) => vec![fact.head.span, fact.colon, fact.value.span],
        LineKind::Pin(pin) => vec![pin.head.span, pin.arrow, pin.value.span],
        LineKind::Unfinished(head) => vec![head.span],
        LineKind::Blank | LineKind::Comment | LineKind::Junk | LineKind::Conflict => vec![],
    }
}

/// Each line is in at most one node, in the order of the text, and blocks are where their lines are.
fn nodes_in_order(tree: &Tree, nodes: &[Node], next: &mut u32) {
    for node in nodes {
        match node {
            Node::Line(line) => take(next, *line),
            Node::Block(block) => {
                take(next, block.open);
                assert!(matches!(tree.lines[block.open as usize].kind, LineKind::Open(_)));
                nodes_in_order(tree, &block.children, next);
                if let Some(close) = block.close {
                    take(next, close);
                    assert!(matches!(tree.lines[close as usize].kind, LineKind::Close(_)));
                }
                assert!(block.span.end <= tree.lines[*next as usize - 1].span.end.max(block.span.end));
            }
        }
    }
}

fn take(next: &mut u32, line: u32) {
    assert!(line >= *next, "line {line} comes after {next}");
    *next = line + 1;
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, cases: 512, ..ProptestConfig::default() })]

    #[test]
    fn random_text_is_read(pieces in prop::collection::vec(piece(), 0..60)) {
        check(&pieces.concat());
    }

    #[test]
    fn lines_in_any_order_are_read(text in lines()) {
        check(&text);
    }

    #[test]
    fn random_values_are_read(pieces in prop::collection::vec(piece(), 0..12)) {
        let value = pieces.concat().replace(['\n', '\r'], "");
        let (_, errors) = parse_value(&value, Span::new(0, value.len() as u32));
        prop_assert!(errors.iter().all(|error| value.get(error.span.range()).is_some()));
    }

    #[test]
    fn a_sheet_with_pieces_strewn_in_is_read(
        places in prop::collection::vec((0usize..2000, piece()), 1..6)
    ) {
        let text = strewn(SHEET, places);
        check(&text);
    }
}

#[test]
fn every_beginning_of_a_file_is_read() {
    for text in LISTS.iter().chain([&SHEET]) {
        for end in (0..=text.len()).filter(|end| text.is_char_boundary(*end)).step_by(3) {
            parse(&text[..end]);
        }
        check(text);
    }
}

/// A sheet that is being typed is a beginning of itself. Many beginnings of each sheet, from another one on in each.
#[test]
fn every_beginning_of_every_example_is_read() {
    for (folder, step) in [("examples/tern-quay", 7), ("tests/data/faulty", 29)] {
        let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join(folder);
        let walk = walkdir::WalkDir::new(folder).into_iter().filter_map(Result::ok);
        let files: Vec<String> = walk.filter_map(|entry| fs::read_to_string(entry.path()).ok()).collect();
        assert!(files.len() > 30);
        files.par_iter().enumerate().for_each(|(n, text)| {
            for (end, _) in text.char_indices().skip(n % step).step_by(step) {
                parse(&text[..end]);
            }
        });
    }
}

#[test]
fn a_line_reads_the_same_wherever_the_text_is_cut_for_reading() {
    // Long enough to be read in several pieces: each copy must come out like the first.
    let copies = 40;
    let tree = check(&SHEET.repeat(copies));
    let one = check(SHEET);
    assert!(tree.errors.is_empty());
    assert_eq!(tree.lines.len(), (one.lines.len() - 1) * copies + 1);
    assert_eq!(tree.top.len(), (one.top.len() - 1) * copies + 1);
}

#[test]
fn line_ends_and_a_byte_order_mark_change_nothing() {
    let plain = check(SHEET);
    let text = format!("\u{feff}{}", SHEET.replace('\n', "\r\n"));
    let tree = check(&text);
    assert!(tree.errors.is_empty());
    assert_eq!(tree.lines.len(), plain.lines.len());
    let facts = |tree: &Tree| tree.lines.iter().filter(|line| matches!(line.kind, LineKind::Fact(_))).count();
    assert_eq!(facts(&tree), facts(&plain));
}

fn only_error(line: &str) -> SyntaxErrorKind {
    let text = format!("rotor x {{\n{line}\n}}");
    let kinds: Vec<_> = check(&text).errors.iter().map(|error| error.kind).collect();
    assert_eq!(kinds.len(), 1, "{line:?} {kinds:?}");
    kinds[0]
}

#[test]
fn hidden_characters_are_one_error_each() {
    assert_eq!(only_error("ma\0ss: 3 kg"), SyntaxErrorKind::ControlCharacter);
    assert_eq!(only_error("mass: 4\u{a0}kg"), SyntaxErrorKind::ControlCharacter);
    assert_eq!(only_error("mass: 4 kg\r "), SyntaxErrorKind::ControlCharacter);
    assert_eq!(only_error("note: \"a\u{202e}b\""), SyntaxErrorKind::HiddenCharacter);
    assert_eq!(only_error("mass: 4 kg # a\u{200b}b"), SyntaxErrorKind::HiddenCharacter);
}

#[test]
fn no_depth_is_too_deep() {
    let deep = 100_000;
    let tree = check(&"trial a {\n".repeat(deep));
    assert!(tree.errors.iter().filter(|error| error.kind == SyntaxErrorKind::TooDeep).count() > deep - 100);
    let closed = check(&format!("{}{}", "trial a {\n".repeat(deep), "}\n".repeat(deep)));
    assert!(closed.errors.iter().all(|error| error.kind != SyntaxErrorKind::StrayClose));
    check(&"{".repeat(deep));
    check(&"}".repeat(deep));
    let line = |value: String| format!("rotor x {{\nk: {value}\n}}");
    check(&line(format!("{}1{}", "(".repeat(deep), ")".repeat(deep))));
    check(&line(format!("1{}", " + 1".repeat(deep))));
    check(&line(format!("1{}", " * -1".repeat(deep))));
    assert!(check(&line(format!("{}1{}", "(".repeat(32), ")".repeat(32)))).errors.is_empty());
    assert_eq!(only_error(&format!("k: {}1{}", "(".repeat(33), ")".repeat(33))), SyntaxErrorKind::TooDeep);
}

#[test]
fn long_numbers_and_names_are_read() {
    assert_eq!(only_error(&format!("k: {} kg", "1".repeat(1_000_000))), SyntaxErrorKind::TooManyDigits);
    assert_eq!(only_error(&format!("k: 1e{} kg", "9".repeat(100_000))), SyntaxErrorKind::ExponentOutOfRange);
    check(&"a".repeat(1_000_000));
    check(&format!("rotor x {{\nk: {}\n}}", "a, ".repeat(200_000)));
    check(&format!("rotor x {{\nk: {}\n}}", "1,".repeat(200_000)));
}

/// What would take the square of its length would not come to an end here; how long it takes the benchmark `parse` says.
#[test]
fn long_lines_of_one_piece_are_read() {
    for piece in PIECES {
        check(&format!("rotor x {{\nk: {}", piece.repeat(100_000 / piece.len())));
    }
    let line = |start: &str| format!("rotor x {{\n{start}{}\n}}", "\"\\".repeat(50_000));
    for start in ["note: ", "", "plane ", "\"a\" "] {
        check(&line(start));
    }
}

#[path = "../bench/pieces.rs"]
mod pieces;
use pieces::PIECES;

#[test]
fn a_large_file_is_read() {
    let text = SHEET.repeat(10_000_000 / SHEET.len() + 1);
    assert!(parse(&text).errors.is_empty());
}
