//! What people expect of every command line: standard input, `--fix`, `help`, `--quiet`, colours, versions.

use crate::support::cli::{BOOK, CLEAN, FAULTY, Folder, Ran, rotorbook};

fn with_input(folder: &Folder, arguments: &[&str], input: &str) -> Ran {
    Ran::of(rotorbook(&folder.path("")).args(arguments).write_stdin(input).output().unwrap())
}

#[test]
fn a_sheet_on_standard_input_stands_for_a_file_of_its_book() {
    let folder = Folder::with(&[("book.rotor", BOOK), ("sets/masses.rotor", CLEAN), ("other.rotor", FAULTY)]);
    let ran = with_input(&folder, &["check", "-", "--stdin-filename", "sets/masses.rotor"], FAULTY);
    assert!(ran.ends(1).stdout().contains("sets/masses.rotor:3"), "{}", ran.stdout());
    // The other file has the same name in it, which is told of this one alone.
    assert!(!ran.stdout().contains("other.rotor:3"), "{}", ran.stdout());
    let ran = with_input(&folder, &["check", "-", "--stdin-filename", "sets/new.rotor", "--format", "json"], CLEAN);
    let codes: Vec<_> = ran.json()["diagnostics"].as_array().unwrap().iter().map(|one| one["code"].clone()).collect();
    assert_eq!(codes, ["name-used-twice"]);
    let alone = Folder::with(&[]);
    with_input(&alone, &["check", "-"], FAULTY).ends(1);
    assert_eq!(with_input(&alone, &["check", "-", "-q"], CLEAN).ends(0).stderr(), "");
}

#[test]
fn what_cannot_stand_for_a_file_is_said() {
    let folder = Folder::with(&[("book.rotor", BOOK)]);
    for (arguments, says) in [
        (&["check", "-", "book.rotor"][..], "give no other path with it"),
        (&["check", "--stdin-filename", "a.rotor"], "`--stdin-filename` needs `-`"),
        (&["check", "-", "--stdin-filename", "a.txt"], "`a.txt` is not a `.rotor` file"),
        (&["check", "-", "--stdin-filename", "none/a.rotor"], "its folder: "),
        (&["check", "-", "--fix"], "can be checked, not put right"),
    ] {
        with_input(&folder, arguments, CLEAN).is_misuse(says);
    }
}

#[test]
fn the_layout_of_standard_input_goes_to_standard_output() {
    let folder = Folder::with(&[]);
    let ragged = CLEAN.replace("  values", "values");
    assert_eq!(with_input(&folder, &["fmt", "-"], &ragged).ends(0).stdout(), CLEAN);
    assert_eq!(with_input(&folder, &["fmt", "-"], CLEAN).ends(0).stdout(), CLEAN);
    assert_eq!(with_input(&folder, &["fmt", "-", "--check"], &ragged).ends(1).stdout(), "stdin.rotor\n");
    let conflict = format!("<<<<<<< ours\n{CLEAN}=======\n>>>>>>> theirs\n");
    let ran = with_input(&folder, &["fmt", "-"], &conflict);
    assert_eq!(ran.ends(1).stdout(), conflict);
    assert!(ran.stderr().contains("stdin.rotor is left as it is: a conflict is not resolved"), "{}", ran.stderr());
    // A sheet of a newer format is nobody's to lay out.
    let newer = Folder::with(&[("book.rotor", &BOOK.replace("format: 1", "format: 99"))]);
    assert_eq!(with_input(&newer, &["fmt", "-"], &ragged).ends(1).stdout(), ragged);
}

#[test]
fn fixes_that_need_nobody_are_made_and_the_rest_is_told() {
    let sheet = "rotor \"fan wheel\" {\n  mass: 4,82 kg\n  colour: red\n}\n";
    let folder = Folder::with(&[("book.rotor", BOOK), ("a.rotor", sheet), ("b/b.rotor", &sheet.replace("fan", "b"))]);
    let ran = folder.run("check --fix a.rotor");
    assert!(ran.ends(1).stderr().starts_with("1 edit made in 1 file\n"), "{}", ran.stderr());
    assert_eq!(folder.read("a.rotor"), sheet.replace("4,82", "4.82"));
    assert!(folder.read("b/b.rotor").contains("4,82"));
    assert!(ran.stdout().contains("unknown-key") && !ran.stdout().contains("decimal-comma"), "{}", ran.stdout());
    let before = folder.read("a.rotor");
    assert!(folder.run("check --fix a.rotor").stderr().starts_with("0 edits made in 0 files\n"));
    assert_eq!(folder.read("a.rotor"), before);
    folder.run("check --fix --staged").is_misuse("cannot be used with");
}

/// A sheet with each of the mistakes that have one fix: after `--fix` none of them is left.
#[test]
fn nothing_with_a_fix_is_left_of_the_faulty_sheets() {
    for code in ["decimal-comma", "unit-spelling", "comma-without-space"] {
        let Some(sheet) = crate::support::faulty::of(code) else { continue };
        let folder = Folder::with(&[("book.rotor", BOOK)]);
        folder.write("a.rotor", &sheet.bytes);
        folder.run("check --fix");
        let left = folder.run("check --format json").json();
        let codes = left["diagnostics"].as_array().unwrap().iter().map(|one| one["code"].as_str().unwrap().to_owned());
        assert!(codes.into_iter().all(|other| other != code), "{code}");
    }
}

#[test]
fn a_folder_without_sheets_is_clean_and_said_to_be_empty() {
    let empty = Folder::with(&[]);
    for command in ["check", "fmt", "fmt --check"] {
        assert!(empty.run(command).ends(0).stderr().contains("no `.rotor` file was found"), "{command}");
    }
}

#[test]
fn quiet_leaves_findings_and_errors() {
    let folder = Folder::with(&[("book.rotor", BOOK), ("masses.rotor", FAULTY)]);
    let ran = folder.run("-q check");
    assert!(ran.ends(1).stdout().starts_with("error unknown-key\n"));
    assert_eq!(ran.stderr(), "");
    folder.run("check --quiet no-such.rotor").is_misuse("error: there is no `no-such.rotor`");
}

#[test]
fn help_is_a_command_too_and_the_version_names_the_format() {
    let folder = Folder::with(&[]);
    assert_eq!(folder.run("help check").ends(0).stdout(), folder.run("check --help").ends(0).stdout());
    let version = folder.run("--version").ends(0).stdout();
    assert!(version.starts_with(&format!("rotorbook {} (format 1", env!("CARGO_PKG_VERSION"))), "{version}");
}

#[test]
fn colours_follow_the_usual_variables() {
    let folder = Folder::with(&[("book.rotor", BOOK), ("masses.rotor", FAULTY)]);
    let is_coloured = |set: &[(&str, &str)]| {
        let mut command = rotorbook(&folder.path(""));
        command.arg("check").env_remove("CLICOLOR").envs(set.iter().copied());
        Ran::of(command.output().unwrap()).stdout().contains('\x1b')
    };
    assert!(!is_coloured(&[]));
    assert!(is_coloured(&[("CLICOLOR_FORCE", "1")]));
    assert!(!is_coloured(&[("CLICOLOR_FORCE", "1"), ("NO_COLOR", "1")]));
}
