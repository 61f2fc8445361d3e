//! `explain`, `new`, `completions`, and help.

use crate::support::cli::{BOOK, Folder};

#[test]
fn a_page_is_shown_and_an_unknown_code_is_misuse() {
    let folder = Folder::with(&[]);
    let page = folder.run("explain decimal-comma").ends(0).stdout();
    assert!(
        page.starts_with("error decimal-comma, since version 0.1.0\n\nA number is written with a decimal comma\n"),
        "{page}"
    );
    assert!(page.contains("\n    masses \"brass set\" {\n"), "{page}");
    assert!(page.lines().all(|line| line.chars().count() <= 100), "{page}");
    folder.run("explain decimal-coma").is_misuse("did you mean `decimal-comma`?");
    folder.run("explain").is_misuse("required arguments were not provided");
}

#[test]
fn all_pages_make_one_document() {
    let document = Folder::with(&[]).run("explain --all").ends(0).stdout();
    let headings: Vec<_> = document.lines().filter(|line| line.starts_with("# ")).collect();
    assert_eq!(headings, ["# Diagnostics"]);
    let pages = document.lines().filter(|line| line.starts_with("## ")).count();
    assert_eq!(pages, rotorbook::check::rules().len());
}

#[test]
fn a_new_sheet_replaces_no_file() {
    let folder = Folder::with(&[("book.rotor", BOOK)]);
    let ran = folder.run_with(&["new", "masses", "--name", "brass set", "-o", "masses.rotor"]);
    assert_eq!((ran.ends(0).stdout(), ran.stderr()), (String::new(), "masses.rotor written\n".to_owned()));
    assert!(folder.read("masses.rotor").starts_with("masses \"brass set\" {\n"));
    folder.run("check masses.rotor").ends(0);
    folder.run("new masses -o masses.rotor").is_misuse("`masses.rotor` cannot be written: it is there already");
    folder.run("new masses -o masses.rotor/masses.rotor").is_misuse("its folder is a file");
}

#[test]
fn facts_are_set_from_the_command_line() {
    let folder = Folder::with(&[]);
    let text = folder.run_with(&["new", "rotor", "--set", "mass=4.82 kg", "--set", "drawing=TQ-315-04 \"B\""]).stdout();
    assert!(text.contains("\n  mass: 4.82 kg\n"), "{text}");
    assert!(text.contains("\n  drawing: \"TQ-315-04 \"\"B\"\"\"\n"), "{text}");
    folder.run("new rotor --set mas=3").is_misuse("did you mean `mass`?");
    folder.run("new rotor --set mass").is_misuse("write it as `fact=value`");
    folder.run("new plane").is_misuse("invalid value 'plane'");
}

#[test]
fn every_shell_gets_its_completions() {
    let folder = Folder::with(&[]);
    for shell in ["bash", "zsh", "fish", "powershell", "elvish"] {
        let script = folder.run(&format!("completions {shell}")).ends(0).stdout();
        assert!(script.contains("rotorbook"), "{shell}");
    }
    folder.run("completions sh").is_misuse("invalid value 'sh'");
}

#[test]
fn help_is_no_misuse() {
    let folder = Folder::with(&[]);
    assert!(folder.run("--help").ends(0).stdout().contains("Example:\n  rotorbook check --deny warnings"));
    assert!(folder.run("--version").ends(0).stdout().starts_with("rotorbook "));
    assert!(folder.run("pin -h").ends(0).stdout().contains("Examples:\n  rotorbook pin\n"));
}
