//! What the reader makes of lines, values and blocks, in order and out of order: every case of the lists in
//! `tests/data/` beside its outline, with each error, the text it is at and the line as its fix would leave it.

use rotorbook::syntax::{SyntaxErrorKind, outline, parse};

fn outlined(text: &str) -> String {
    let tree = parse(text);
    outline(text, &tree, &|unit: &str| format!("[{unit}]"))
}

fn shown(cases: impl Iterator<Item = String>, wrap: impl Fn(&str) -> String) -> String {
    let mut out = String::new();
    for case in cases {
        out.push_str(&case);
        out.push('\n');
        for row in outlined(&wrap(&case)).lines() {
            out.push_str(&format!("      | {row}\n"));
        }
    }
    out
}

/// A value alone, as the value of some key.
fn value(value: &str) -> String {
    let text = format!("rotor x {{\nk: {value}\n}}");
    let rows = outlined(&text);
    rows.lines().skip(1).filter(|row| !row.starts_with("close")).map(|row| format!("{}\n", row.trim())).collect()
}

fn values(list: &str) -> String {
    list.lines().map(|case| format!("{case}\n{}", indented(&value(case)))).collect()
}

fn indented(rows: &str) -> String {
    rows.lines().map(|row| format!("      | {row}\n")).collect()
}

#[test]
fn odd_lines() {
    let lines = include_str!("../data/odd-lines.txt").lines().map(str::to_owned);
    insta::assert_snapshot!(shown(lines, str::to_owned));
}

#[test]
fn odd_values() {
    insta::assert_snapshot!(values(include_str!("../data/odd-values.txt")));
}

#[test]
fn many_values() {
    insta::assert_snapshot!(values(include_str!("../data/values.txt")));
}

#[test]
fn blocks() {
    let cases = include_str!("../data/blocks.txt").trim_end().split("\n----\n").map(str::to_owned);
    insta::assert_snapshot!(shown(cases, str::to_owned));
}

#[test]
fn a_whole_sheet() {
    insta::assert_snapshot!(outlined(include_str!("../data/fan-wheel.rotor")));
}

/// Each line of the list of odd lines by itself, and the errors that it is decided to have. A line outside every block
/// has one error more for that, which is left out.
#[test]
fn odd_lines_have_the_errors_decided_for_them() {
    use SyntaxErrorKind::*;
    let expected: &[(&str, &[SyntaxErrorKind])] = &[
        (r#"rotor "a # b" { # comment"#, &[]),
        ("  mass: 4 kg#no space", &[]),
        (r##"  note: "he said \"#1\"" # real"##, &[EscapedQuote]),
        (r#"  "dial: left" : 5"#, &[]),
        ("  calibrate hub {", &[]),
        ("  correction hub {", &[]),
        ("  run as found {", &[BadBlockName]),
        (r#"  indexed run "180" {"#, &[UnknownKind]),
        ("  word word: value", &[]),
        ("  rate: a: b", &[TextAfterValue]),
        ("  key => 3 => 4", &[TextAfterValue]),
        ("  mass 3 kg", &[UnfinishedLine]),
        ("  mass:", &[MissingValue]),
        ("  mass: 3 kg {", &[TextAfterValue]),
        ("  control x { range: 0 to 9 }", &[TextAfterBrace]),
        ("  plane hub { }", &[TextAfterBrace]),
        ("  } # end", &[StrayClose]),
        ("  } }", &[StrayClose]),
        ("  }}", &[StrayClose]),
        (r#"  note: "unterminated # here"#, &[UnclosedQuote]),
        (r#"  note: it's 12" wide"#, &[UnclosedQuote]),
        ("  Größe: 3 mm", &[]),
        ("  2nd plane: 3 mm", &[BadKey]),
        ("  O'Brien: 3", &[BadKey]),
        ("  like: none", &[]),
        ("  hub : 3 div", &[]),
        (r#"  plane "hub" "rim" {"#, &[BadBlockName]),
        ("  plane {", &[]),
        (r#"  "dial": 3"#, &[]),
        ("  : 3", &[BadKey]),
        ("  => 3", &[BadKey]),
        ("<<<<<<< HEAD", &[ConflictMarkers]),
        ("=======", &[ConflictMarkers]),
        (">>>>>>> x", &[ConflictMarkers]),
        ("  amount => 3 div # pinned", &[]),
        ("  max depth (mm): 3", &[BadKey]),
        ("  note: “curly”", &[CurlyQuotes]),
        ("  plane hub{", &[]),
        ("  plane hub", &[UnfinishedLine]),
        ("  {", &[UnknownKind]),
    ];
    let listed: Vec<&str> = include_str!("../data/odd-lines.txt").lines().collect();
    assert_eq!(listed, expected.iter().map(|(line, _)| *line).collect::<Vec<_>>());
    for (line, kinds) in expected {
        let errors = parse(line).errors.into_iter().map(|error| error.kind);
        let told: Vec<_> = errors.filter(|k| !matches!(k, FactOutsideBlock | MisplacedBlock | UnclosedBlock)).collect();
        assert_eq!(told, *kinds, "{line}");
    }
}

/// A fix does away with its error: what is left, if anything, is another one.
#[test]
fn fixes_mend_what_they_are_for() {
    let values = include_str!("../data/values.txt").lines().map(|value| format!("rotor x {{\n  k: {value}\n}}"));
    let blocks = include_str!("../data/blocks.txt").trim_end().split("\n----\n").map(str::to_owned);
    for text in values.chain(blocks) {
        let errors = parse(&text).errors;
        for error in &errors {
            let Some((span, instead)) = &error.replace else { continue };
            let edit = rotorbook::text::Edit::replace(*span, instead.clone());
            let mended = rotorbook::text::apply(&text, &[edit]).unwrap();
            let left = parse(&mended).errors;
            let same = left.iter().any(|other| other.kind == error.kind && other.span.start <= error.span.start);
            let before = errors.iter().filter(|other| other.kind == error.kind).count();
            let after = left.iter().filter(|other| other.kind == error.kind).count();
            assert!(after < before || !same, "{:?}\n{text}\n{mended}", error.kind);
        }
    }
}
