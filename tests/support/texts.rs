//! Texts made at random for the tests that speak of any text.

use proptest::prelude::*;

/// Pieces that mean something to the reader, so that random texts come near to being right.
pub fn piece() -> impl Strategy<Value = String> {
    let pieces = [
        "rotor ",
        "plane ",
        "hub",
        "made of",
        " {",
        "}",
        "{ ",
        "\n",
        "\n\n",
        "\r\n",
        "  ",
        "\t",
        "mass",
        ": ",
        ":",
        " => ",
        "=>",
        "4.82",
        " kg",
        "g·mm",
        "°",
        "\"",
        "\"\"",
        "#",
        "# c",
        ", ",
        ",",
        "(",
        ")",
        " * ",
        " / ",
        "/",
        "-",
        "±",
        "+/-",
        " @ ",
        "(k=2)",
        "to ",
        "up to ",
        "from ",
        " at ",
        " on ",
        "G ",
        "g",
        "4:30",
        "2026-11-12",
        "o'clock",
        "<<<<<<< a\n",
        "=======\n",
        "||||||| b\n",
        ">>>>>>> c\n",
        "\u{0}",
        "\u{a0}",
        "\u{202e}",
        "\u{feff}",
        "é",
        "“",
        "”",
        "'",
        "1",
        "e9",
        ".",
        "..",
        "\\",
        "\\\"",
        "x",
    ];
    prop_oneof![8 => prop::sample::select(pieces.to_vec()).prop_map(str::to_owned), 1 => any::<char>().prop_map(String::from)]
}

/// `text` with pieces put in at some of its bytes.
pub fn strewn(text: &str, places: Vec<(usize, String)>) -> String {
    let mut text = text.to_owned();
    for (at, piece) in places {
        let at = (0..=at.min(text.len())).rev().find(|at| text.is_char_boundary(*at)).unwrap_or(0);
        text.insert_str(at, &piece);
    }
    text
}

/// A line as it may be in a sheet, at any indentation.
fn line() -> impl Strategy<Value = String> {
    let lines = [
        "rotor \"a\" {",
        "rotor a",
        "rotor \"a",
        "{",
        "}",
        "} # end",
        "}}",
        "plane hub {",
        "plane hub",
        "plane as found {",
        "plane hub { }",
        "plane hub { at: 3 mm",
        "plane hub: {",
        "} plane rim {",
        "tolerance {",
        "tolerance",
        "similar part {",
        "similar part",
        "machine m {",
        "readout {",
        "scale coarse {",
        "widget {",
        "trial t {",
        "mass: 3 kg",
        "mass: 3 kg }",
        "mass: 3 kg {",
        "mass: 4,82 kg",
        "k: 3 g*mm/kg.m # c",
        "weighed: 1 kg at 0 mm, 2 kg at 3 mm",
        "note: \"a\"",
        "note: \"a",
        "amount => 3 div",
        "",
        "",
        "",
        "# comment",
        "# comment",
        "mass 3 kg",
        "2nd plane: 3",
        "=======",
        "?",
        ": 3",
    ];
    let indent = prop::sample::select(vec!["", "", "  ", "    ", "      ", "\t"]);
    (indent, prop::sample::select(lines.to_vec())).prop_map(|(indent, line)| format!("{indent}{line}"))
}

/// Lines in any order.
pub fn lines() -> impl Strategy<Value = String> {
    prop::collection::vec(line(), 0..40).prop_map(|lines| lines.join("\n"))
}
