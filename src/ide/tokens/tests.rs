use super::*;

/// Each token as its kind's letters and its text: `key radius`.
fn painted(text: &str) -> Vec<String> {
    let source = SourceFile::read("a.rotor", text);
    let mut last = 0;
    let of = |token: &Token| {
        assert!(token.span.start >= last, "tokens overlap");
        last = token.span.end;
        let kind = format!("{:?}", token.kind).to_lowercase();
        let marks = [(token.describes, "!"), (token.pinned, "=")];
        let marks: String = marks.iter().filter(|(on, _)| *on).map(|(_, mark)| *mark).collect();
        format!("{kind}{marks} {}", token.span.of(text))
    };
    tokens(&source, None).iter().map(of).collect()
}

#[test]
fn kinds_keys_names_numbers_and_units() {
    let text = "rotor \"a b\" { # c\n  weighed: 2 kg at 0 mm, 3 kg at 4 mm\n  correct only in: hub, rim\n}\n";
    let expected = [
        "kind rotor",
        "name! \"a b\"",
        "comment # c",
        "key weighed",
        "number 2",
        "unit kg",
        "operator at",
        "number 0",
        "unit mm",
        "number 3",
        "unit kg",
        "operator at",
        "number 4",
        "unit mm",
        "key correct only in",
        "name hub",
        "name rim",
    ];
    assert_eq!(painted(text), expected);
}

#[test]
fn limits_ranges_readings_and_arithmetic() {
    let text = "setup a {\n  calibrate hub {\n    radius: (268.4 mm + 1 in) / 2\n    mass: 3.00 g ± 0.01 g (k=2)\n    reading: 2 mark on coarse @ 310 deg\n    taken as: one position\n    reading left: 3\n  }\n}\n";
    let found = painted(text);
    let expected = [
        "kind setup",
        "name! a",
        "kind calibrate",
        "name hub",
        "key radius",
        "operator (",
        "number 268.4",
        "unit mm",
        "operator +",
        "number 1",
        "unit in",
        "operator )",
        "operator /",
        "number 2",
        "key mass",
        "number 3.00",
        "unit g",
        "operator ±",
        "number 0.01",
        "unit g",
        "operator (k=2)",
        "key reading",
        "number 2",
        "unit mark",
        "operator on",
        "name coarse",
        "operator @",
        "number 310",
        "unit deg",
        "key taken as",
        "choice one position",
        // A calibration reads no channel of its own.
        "number 3",
    ];
    assert_eq!(found, expected);
}

#[test]
fn pinned_results_settings_and_text() {
    let text = "setup a {\n  settings {\n    \"left, fine\": 64\n    side: off\n    note: \"n\"\n  }\n  channel left: hub\n  motor speed => 876 rpm\n  leave out: \"calibrate rim\"\n}\n";
    let expected = [
        "kind setup",
        "name! a",
        "kind settings",
        "name \"left, fine\"",
        "number 64",
        "name side",
        "choice off",
        "key note",
        "text \"n\"",
        "key channel",
        "name left",
        "name hub",
        "key= motor speed",
        "operator= =>",
        "number= 876",
        "unit= rpm",
        "key leave out",
        "name \"calibrate rim\"",
    ];
    assert_eq!(painted(text), expected);
}

#[test]
fn a_broken_line_stays_plain_and_the_others_do_not() {
    let text = "rotor a {\n  mass: 12O g\n  gizmo {\n    at: 3 mm\n  }\n  ma\n  datum: \"x\"\n}\n";
    let expected = ["kind rotor", "name! a", "key mass", "number 3", "unit mm", "key datum", "text \"x\""];
    assert_eq!(painted(text), expected);
}

#[test]
fn a_range_takes_its_lines_alone() {
    let text = "rotor a {\n  plane hub {\n    at: 3 mm\n    radius: 4 mm\n  }\n}\n";
    let source = SourceFile::read("a.rotor", text);
    let at = text.find("radius").unwrap() as u32;
    let found = tokens(&source, Some(Span::new(at, at + 3)));
    assert_eq!(found.iter().map(|token| token.span.of(text)).collect::<Vec<_>>(), ["radius", "4", "mm"]);
}
