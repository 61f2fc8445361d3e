//! `check` as it is run: exit status, what goes where, which files are looked at.

use crate::support::cli::{BOOK, CLEAN, FAN, FAULTY, Folder, rotorbook};

/// The codes of all documents on stdout, with their files.
fn found(folder: &Folder, arguments: &str) -> Vec<String> {
    let ran = folder.run(&format!("check --format json {arguments}"));
    let documents = ran.documents();
    let diagnostics = documents.iter().flat_map(|document| document["diagnostics"].as_array().unwrap());
    diagnostics.map(|one| format!("{} {}", one["file"].as_str().unwrap(), one["code"].as_str().unwrap())).collect()
}

#[test]
fn a_clean_book_says_so_on_stderr_alone() {
    let folder = Folder::with(&[("book.rotor", BOOK), ("masses.rotor", CLEAN)]);
    let ran = folder.run("check");
    assert_eq!(ran.ends(0).stdout(), "");
    assert_eq!(ran.stderr(), "nothing to report in 2 files\n");
}

#[test]
fn findings_go_to_stdout_and_the_summary_to_stderr() {
    let folder = Folder::with(&[("book.rotor", BOOK), ("masses.rotor", FAULTY)]);
    let ran = folder.run("check");
    assert!(ran.ends(1).stdout().starts_with("error unknown-key\n"), "{}", ran.stdout());
    assert_eq!(ran.stderr(), "1 error in 2 files\n");
}

#[test]
fn what_cannot_be_done_ends_with_two() {
    let folder = Folder::with(&[("book.rotor", BOOK), ("notes.txt", "")]);
    folder.run("check no-such.rotor").is_misuse("error: there is no `no-such.rotor`\n");
    folder.run("check notes.txt").is_misuse("error: `notes.txt` is not a `.rotor` file\n");
    folder.run("check --book notes.txt").is_misuse("error: `--book notes.txt` is not a folder\n");
    folder.run("check --format xml").is_misuse("invalid value 'xml'");
    folder.run("chek").is_misuse("unrecognized subcommand 'chek'");
    let empty = Folder::with(&[]);
    assert_eq!(rotorbook(&empty.path("")).output().unwrap().status.code(), Some(2));
}

#[test]
fn what_is_found_a_hundred_times_is_shown_a_few_times_and_counted() {
    let sheet = format!("rotor \"wheel\" {{\n  mass: 3 kg\n{}}}\n", "  plane rim {\n    at: 1 mm\n  }\n".repeat(101));
    let folder = Folder::with(&[("book.rotor", BOOK), ("wheel.rotor", &sheet)]);
    let ran = folder.run("check");
    assert_eq!(ran.ends(1).stdout().matches("error block-twice\n").count(), 20);
    assert!(ran.stdout().contains("\n80 more block-twice in wheel.rotor, shown by --all\n"), "{}", ran.stdout());
    assert_eq!(folder.run("check --all").ends(1).stdout().matches("error block-twice\n").count(), 100);
}

#[test]
fn warnings_are_findings_only_when_they_are_denied() {
    let shop = "shop \"Tern Quay Rotor Shop\" {\n  format: 1\n\n  severity unknown-key {\n    level: warning\n    \
        because: \"old sheets\"\n  }\n}\n";
    let folder = Folder::with(&[("book.rotor", shop), ("masses.rotor", FAULTY)]);
    let ran = folder.run("check");
    assert!(ran.ends(0).stdout().starts_with("warning unknown-key\n"), "{}", ran.stdout());
    assert_eq!(folder.run("check --deny warnings").ends(1).stderr(), "1 warning in 2 files\n");
}

#[test]
fn a_file_is_judged_with_its_book_and_spoken_of_alone() {
    let folder = Folder::with(&[
        ("book.rotor", BOOK),
        ("sets/brass.rotor", FAULTY),
        ("sets/steel.rotor", CLEAN),
        ("old/brass.rotor", &FAULTY.replace("brass", "old")),
    ]);
    assert_eq!(found(&folder, "sets/steel.rotor"), [""; 0]);
    assert_eq!(found(&folder, "sets/brass.rotor"), ["sets/brass.rotor unknown-key"]);
    assert_eq!(found(&folder, "sets"), ["sets/brass.rotor unknown-key"]);
    assert_eq!(found(&folder, "sets old/brass.rotor"), ["old/brass.rotor unknown-key", "sets/brass.rotor unknown-key"]);
    let summary = &folder.run("check --format json sets").json()["summary"];
    assert_eq!((&summary["files"], &summary["items"]), (&2.into(), &2.into()));
}

#[test]
fn a_path_above_books_means_each_of_them() {
    let folder = Folder::with(&[
        ("a/book.rotor", BOOK),
        ("a/masses.rotor", FAULTY),
        ("a/inner/book.rotor", BOOK),
        ("a/inner/masses.rotor", CLEAN),
        ("b/loose.rotor", FAULTY),
    ]);
    let documents = folder.run("check --format json").ends(1).documents();
    let books: Vec<_> = documents.iter().map(|document| document["book"].as_str().unwrap()).collect();
    assert_eq!(books, ["a", "a/inner", "b"]);
    let files: Vec<_> = documents.iter().map(|document| document["summary"]["files"].as_u64().unwrap()).collect();
    assert_eq!(files, [2, 2, 1], "the inner book ends the outer one");
}

#[test]
fn a_book_is_named_from_outside() {
    let folder = Folder::with(&[("shop/book.rotor", BOOK), ("shop/masses.rotor", FAULTY), ("other.rotor", CLEAN)]);
    assert_eq!(found(&folder, "--book shop"), ["masses.rotor unknown-key"]);
    assert_eq!(found(&folder, "--book shop shop/book.rotor"), [""; 0]);
    folder.run("check --book shop other.rotor").is_misuse("error: `other.rotor` is not in the book `shop`\n");
    // A folder without `book.rotor` is taken as a book when it is named as one.
    let folder = Folder::with(&[("a.rotor", CLEAN), ("b.rotor", CLEAN)]);
    assert_eq!(folder.run("check --book . --format json").documents().len(), 1);
}

#[test]
fn files_without_a_book_are_checked_one_by_one_and_that_is_said() {
    let folder = Folder::with(&[("a.rotor", FAULTY), ("b.rotor", FAULTY)]);
    let ran = folder.run("check --format json");
    assert_eq!(ran.ends(1).documents().len(), 2);
    assert!(ran.stderr().starts_with("warning: 2 files have no `book.rotor`"), "{}", ran.stderr());
}

#[test]
fn hidden_folders_are_not_looked_into() {
    let folder = Folder::with(&[("book.rotor", BOOK), (".drafts/masses.rotor", FAULTY)]);
    assert_eq!(found(&folder, ""), [""; 0]);
    // One that is named is: it is outside the book around it.
    assert_eq!(found(&folder, ".drafts"), ["masses.rotor unknown-key"]);
    assert_eq!(found(&folder, ".drafts/masses.rotor"), ["masses.rotor unknown-key"]);
}

#[cfg(unix)]
#[test]
fn links_are_not_followed_and_a_circle_of_them_ends() {
    use std::os::unix::fs::symlink;
    let folder = Folder::with(&[("book.rotor", BOOK), ("masses.rotor", FAULTY)]);
    symlink(folder.path(""), folder.path("again")).unwrap();
    symlink(folder.path("masses.rotor"), folder.path("link.rotor")).unwrap();
    assert_eq!(found(&folder, ""), ["masses.rotor unknown-key"]);
    // A link that is named means the file it leads to.
    assert_eq!(found(&folder, "link.rotor"), ["masses.rotor unknown-key"]);
    assert_eq!(found(&folder, "again/masses.rotor"), ["masses.rotor unknown-key"]);
}

#[cfg(unix)]
#[test]
fn a_folder_that_cannot_be_read_is_named_and_the_rest_is_checked() {
    use std::fs::{Permissions, read_dir, set_permissions};
    use std::os::unix::fs::PermissionsExt;
    let folder = Folder::with(&[("book.rotor", BOOK), ("masses.rotor", FAULTY), ("closed/a.rotor", CLEAN)]);
    set_permissions(folder.path("closed"), Permissions::from_mode(0o000)).unwrap();
    if read_dir(folder.path("closed")).is_ok() {
        eprintln!("skipped: the superuser reads every folder");
        return;
    }
    assert_eq!(found(&folder, ""), ["closed cannot-read", "masses.rotor unknown-key"]);
    let ran = folder.run("check");
    assert!(ran.ends(1).stdout().contains("`closed` cannot be read: permission denied"), "{}", ran.stdout());
    set_permissions(folder.path("closed"), Permissions::from_mode(0o700)).unwrap();
}

#[test]
fn a_file_that_is_not_utf_8_is_named_with_its_place_and_the_rest_is_checked() {
    let folder = Folder::with(&[("book.rotor", BOOK), ("masses.rotor", FAULTY)]);
    folder.write("latin.rotor", b"# \xc2\xb5\nmasses \"old\" {\n  # \xc2\xb5 \xb1 3 g\n  uncertanty: 0,1 g\n}\n");
    assert_eq!(found(&folder, ""), ["latin.rotor not-utf-8", "masses.rotor unknown-key"]);
    let document = folder.run("check --format json latin.rotor").ends(1).json();
    let start = serde_json::json!({"line": 3, "column": 7, "byte": 27});
    assert_eq!(document["diagnostics"][0]["span"], serde_json::json!({"start": start, "end": start}));
    let report = folder.run("check latin.rotor").stdout();
    assert!(report.contains("the byte B1 is not UTF-8") && report.contains("latin.rotor:3:7"), "{report}");
}

#[test]
fn nothing_that_a_file_holds_makes_the_program_fail() {
    let folder = Folder::with(&[("book.rotor", BOOK), ("empty.rotor", ""), ("bom.rotor", "\u{feff}# a\r\n")]);
    folder.write("nul.rotor", b"rotor \"a\0b\" {\n  mass: 3\0 kg\n}\n");
    folder.write("noise.rotor", &(0..=255).cycle().take(5000).collect::<Vec<u8>>());
    folder.write("wide.rotor", &"rotor \"a\" {".encode_utf16().flat_map(u16::to_le_bytes).collect::<Vec<_>>());
    folder.write("deep.rotor", "plane hub {\n".repeat(20_000).as_bytes());
    folder.write("long.rotor", format!("masses \"a\" {{\n  {}: 3 g\n}}\n", "x".repeat(100_000)).as_bytes());
    for format in ["human", "json", "sarif", "github"] {
        let ran = folder.run(&format!("check --format {format}"));
        ran.ends(1);
        assert!(!ran.stderr().contains("panicked"), "{}", ran.stderr());
    }
    let found = found(&folder, "");
    assert!(found.contains(&"noise.rotor not-utf-8".to_owned()), "{found:?}");
    assert!(found.contains(&"wide.rotor not-utf-8".to_owned()), "{found:?}");
}

#[test]
fn a_file_too_large_for_a_sheet_is_not_read() {
    let folder = Folder::with(&[("book.rotor", BOOK)]);
    let file = std::fs::File::create(folder.path("large.rotor")).unwrap();
    file.set_len(64 * 1024 * 1024 + 1).unwrap();
    assert_eq!(found(&folder, ""), ["large.rotor cannot-read"]);
    assert!(folder.run("check").stdout().contains("it has more than 64 MiB"), "the reason is said");
}

#[test]
fn there_are_no_colours_where_none_are_wanted() {
    let folder = Folder::with(&[("book.rotor", BOOK), ("masses.rotor", &FAULTY.replace("brass", "br\u{1b}[31mass"))]);
    let escapes = |command: &mut assert_cmd::Command| {
        let output = command.output().unwrap();
        output.stdout.iter().chain(&output.stderr).filter(|byte| **byte == 0x1b).count()
    };
    let check = || {
        let mut command = rotorbook(&folder.path(""));
        command.arg("check");
        command
    };
    assert_eq!(escapes(&mut check()), 0, "stdout is no terminal");
    assert_eq!(escapes(check().env("NO_COLOR", "1")), 0);
    assert_eq!(escapes(check().args(["--color", "never"])), 0);
    assert_ne!(escapes(check().args(["--color", "always"])), 0);
    assert_ne!(escapes(check().args(["--color", "always"]).env("NO_COLOR", "1")), 0, "the command line decides");
    assert_eq!(escapes(check().args(["--color", "never", "--help"])), 0);
    assert_ne!(escapes(check().args(["--color", "always", "--help"])), 0);
}

#[test]
fn a_reader_that_has_had_enough_is_no_failure() {
    use std::process::{Command, Stdio};
    let folder = Folder::with(&[("book.rotor", BOOK), ("fan.rotor", FAN)]);
    for n in 0..300 {
        folder.write(&format!("masses-{n}.rotor"), FAULTY.replace("brass", &n.to_string()).as_bytes());
    }
    let mut command = Command::new(assert_cmd::cargo::cargo_bin!("rotorbook"));
    let command = command.current_dir(folder.path("")).arg("check").stdout(Stdio::piped()).stderr(Stdio::piped());
    let mut child = command.spawn().unwrap();
    drop(child.stdout.take());
    let output = child.wait_with_output().unwrap();
    assert_eq!(output.status.code(), Some(1));
    let stderr = String::from_utf8(output.stderr).unwrap();
    assert!(stderr.contains(" errors") && stderr.lines().count() == 1, "{stderr}");
}
