//! One faulty sheet a diagnostic: it must be found there, and nothing else worth a warning with it.

use std::sync::Arc;

use rotorbook::book::{Book, SourceFile};
use rotorbook::check::{self, Diagnostic, Fix, Severity};

use crate::support::faulty;

/// A file of a sheet by its path.
pub type File = (String, Vec<u8>);

/// The files of a sheet: one, or several where lines `#! path` begin them.
pub fn files(bytes: Vec<u8>) -> Vec<File> {
    let Ok(text) = std::str::from_utf8(&bytes) else { return vec![("faulty.rotor".to_owned(), bytes)] };
    let mut files: Vec<File> = Vec::new();
    for line in text.split_inclusive('\n') {
        match (line.strip_prefix("#! "), files.last_mut()) {
            (Some(path), _) => files.push((path.trim().to_owned(), line.into())),
            (None, Some((_, text))) => text.extend(line.bytes()),
            (None, None) => files.push(("faulty.rotor".to_owned(), line.into())),
        }
    }
    files
}

/// What is found in files, and the paths of the book in the order of their numbers.
pub fn check_files(files: &[File]) -> (Vec<Diagnostic>, Vec<String>) {
    let read = |(path, bytes): &File| Arc::new(SourceFile::from_bytes(path.as_str(), bytes.clone()));
    let book = Book::new(files.iter().map(read).collect());
    let paths = book.files().map(|(_, file)| file.path.to_string()).collect();
    (check::check(&book), paths)
}

/// What no sheet can show: it is about files that cannot be read, or about two versions of a book.
const WITHOUT_A_SHEET: [&str; 3] = ["cannot-read", "proof-rewritten", "revision-goes-back"];

#[test]
fn every_diagnostic_has_a_faulty_sheet_that_shows_it_alone_and_in_these_words() {
    let mut failures = Vec::new();
    for rule in check::rules().iter().filter(|rule| !WITHOUT_A_SHEET.contains(&rule.code)) {
        let Some(sheet) = faulty::of(rule.code) else {
            failures.push(format!("{}: no faulty sheet", rule.code));
            continue;
        };
        let (found, _) = check_files(&files(sheet.bytes.clone()));
        let own = || found.iter().filter(|diagnostic| diagnostic.rule == *rule);
        let said: Vec<&str> = own().map(|diagnostic| &*diagnostic.message).collect();
        let with_numbers = |text: &&str| text.contains(|letter: char| letter.is_ascii_digit());
        let helps: Vec<&str> = own().filter_map(|one| one.help.as_deref()).filter(with_numbers).collect();
        let fixes = own().flat_map(|one| &one.fixes).map(|fix| &*fix.title);
        let offers: Vec<&str> = fixes.filter(with_numbers).collect();
        // One sheet is no text, and has no such lines.
        let is_text = std::str::from_utf8(&sheet.bytes).is_ok();
        let both = [("helps", helps, &sheet.helps), ("offers", offers, &sheet.offers)];
        for (word, found, written) in both.into_iter().filter(|_| is_text) {
            if found != *written {
                let lines: Vec<String> = found.iter().map(|line| format!("#= {word} {line}")).collect();
                failures.push(format!("{}: not as its sheet writes, but\n{}", rule.code, lines.join("\n")));
            }
        }
        if said.is_empty() {
            failures.push(format!("{}: its sheet does not show it, but {found:#?}", rule.code));
        }
        if !sheet.says.is_empty() && said != sheet.says {
            failures.push(format!("{}: it says {said:#?}, not {:#?}", rule.code, sheet.says));
        }
        for other in found.iter().filter(|diagnostic| diagnostic.severity != Severity::Note) {
            if other.rule != *rule && !sheet.allowed.iter().any(|code| code == other.rule.code) {
                failures.push(format!("{}: its sheet also shows {}: {}", rule.code, other.rule.code, other.message));
            }
        }
    }
    assert!(failures.is_empty(), "{}", failures.join("\n"));
}

#[test]
fn nothing_is_wrong_with_the_book_that_faulty_sheets_differ_from() {
    let base = ("base.rotor".to_owned(), std::fs::read(faulty::folder().join("base.rotor")).unwrap());
    assert!(check_files(&[base]).0.is_empty());
}

#[test]
fn every_faulty_sheet_belongs_to_a_diagnostic() {
    for faulty::Faulty { code, .. } in faulty::all() {
        assert!(check::rule(&code).is_some(), "{code}.rotor belongs to no diagnostic");
    }
}

#[test]
fn every_page_says_what_a_page_must_say() {
    for rule in check::rules() {
        let page = rule.page;
        assert!(page.starts_with(&format!("# {}\n", rule.title)), "{}: the page begins with the title", rule.code);
        for part in
            ["**What it flags.**", "**Why it matters at the bench.**", "**How to put it right.**", "**Source.**"]
        {
            assert!(page.contains(part), "{}: the page lacks {part}", rule.code);
        }
        let has_example = page.contains("```rotor\n");
        assert!(has_example || WITHOUT_A_SHEET.contains(&rule.code), "{}: the page has no example", rule.code);
    }
}

/// A page shows lines of the faulty sheet, so that what is printed is what is tested.
#[test]
fn every_page_shows_lines_of_its_faulty_sheet() {
    for rule in check::rules() {
        let Some(sheet) = faulty::of(rule.code) else { continue };
        let sheet = String::from_utf8_lossy(&sheet.bytes);
        let mut sheet = sheet.lines().map(str::trim);
        let example = rule.page.split("```rotor\n").nth(1).and_then(|rest| rest.split("```").next()).unwrap_or("");
        for line in example.lines().map(str::trim).filter(|line| !line.is_empty() && *line != "…") {
            assert!(sheet.any(|other| other == line), "{}: `{line}` is not in the faulty sheet, in order", rule.code);
        }
    }
}

/// The files with a fix applied; `paths` are those of the book, by the numbers that edits name files with.
fn mended(files: &[File], fix: &Fix, paths: &[String]) -> Vec<File> {
    let mend = |(path, bytes): &File| {
        let text = String::from_utf8_lossy(bytes);
        let here = fix.edits.iter().filter(|edit| paths[edit.file.0 as usize] == *path);
        let edits: Vec<_> = here.map(|edit| edit.edit.clone()).collect();
        (path.clone(), rotorbook::text::apply(&text, &edits).expect("no two edits of a fix overlap").into_bytes())
    };
    files.iter().map(mend).collect()
}

#[test]
fn fixes_put_right_what_they_are_offered_for() {
    for rule in check::rules() {
        let Some(sheet) = faulty::of(rule.code) else { continue };
        let files = files(sheet.bytes);
        let (before, paths) = check_files(&files);
        let count = |found: &[Diagnostic]| found.iter().filter(|diagnostic| diagnostic.rule == *rule).count();
        for diagnostic in before.iter().filter(|diagnostic| diagnostic.rule == *rule) {
            for fix in &diagnostic.fixes {
                let mended = mended(&files, fix, &paths);
                let (after, _) = check_files(&mended);
                assert!(count(&after) < count(&before), "{}: `{}` does not help", rule.code, fix.title);
            }
        }
    }
}
