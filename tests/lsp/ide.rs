//! Every feature of an editor at every place of every example: none may fail, whatever the text, and what each says must
//! hold together.

use std::collections::HashSet;
use std::fs;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use crate::support::{faulty, texts};
use proptest::prelude::*;
use rotorbook::book::{Book, Computing, FileId, SourceFile};
use rotorbook::check;
use rotorbook::ide::{self, HintsShown};
use rotorbook::text::{self, Span};

fn sheets(folder: &str) -> Vec<(String, String)> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("examples").join(folder);
    let mut found = Vec::new();
    let mut open = vec![root.clone()];
    while let Some(folder) = open.pop() {
        let mut entries: Vec<PathBuf> = fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path()).collect();
        entries.sort();
        for path in entries {
            if path.is_dir() {
                open.push(path);
            } else if path.extension().is_some_and(|extension| extension == "rotor")
                && let Ok(text) = fs::read_to_string(&path)
            {
                let name = path.strip_prefix(&root).unwrap().to_string_lossy().replace('\\', "/");
                found.push((name, text));
            }
        }
    }
    found
}

fn book(sheets: &[(String, String)]) -> Book {
    Book::new(sheets.iter().map(|(path, text)| Arc::new(SourceFile::read(&**path, &**text))).collect())
}

/// Asks everything that does not depend on a place.
fn ask_whole(book: &Book, file: FileId) {
    let computing = Computing::new(book);
    let source = book.file(file);
    let whole = Span::new(0, source.text.len() as u32);
    for hint in ide::hints(&computing, file, whole, HintsShown::All) {
        assert!(!hint.label.is_empty() && !hint.tooltip.is_empty(), "{hint:?}");
        text::apply(&source.text, &hint.edits).unwrap();
    }
    let mut end = 0;
    for token in ide::tokens(source, None) {
        assert!(end <= token.span.start && token.span.start < token.span.end, "{token:?}");
        assert!(!token.span.of(&source.text).contains('\n'), "{token:?}");
        end = token.span.end;
    }
    text::apply(&source.text, &ide::format(source)).unwrap();
    text::apply(&source.text, &ide::pin_all(&computing, file)).unwrap();
    for fold in ide::folds(source) {
        assert!(fold.span.start < fold.span.end);
    }
    ide::symbols(&computing, file);
    ide::lenses(book, file);
    ide::links(source, &|_| true);
}

/// Asks everything about one place.
fn ask(book: &Book, computing: &Computing<'_>, diagnostics: &[check::Diagnostic], file: FileId, offset: u32) {
    let source = book.file(file);
    let text = &source.text;
    if let Some(hover) = ide::hover(computing, file, offset) {
        assert!(hover.span.start <= offset && offset <= hover.span.end && !hover.markdown.is_empty(), "{hover:?}");
    }
    for completion in ide::completions(computing, file, offset) {
        let replace = completion.replace;
        assert!(replace.start <= offset && offset <= replace.end, "{completion:?}");
        assert!(!replace.of(text).contains('\n'), "{completion:?}");
    }
    if let Some(signature) = ide::signature(book, file, offset) {
        let written = &signature.forms[signature.form];
        assert!(!written.parts[signature.part].0.of(&written.label).is_empty(), "{signature:?}");
    }
    assert!(ide::beginnings_here(book, file, offset).iter().all(|begun| begun.text.trim_end().ends_with('}')));
    let selections = ide::selections(source, offset);
    assert_eq!(selections.last().copied(), Some(Span::new(0, text.len() as u32)));
    for pair in selections.windows(2) {
        assert!(pair[1].start <= pair[0].start && pair[0].end <= pair[1].end, "{selections:?}");
    }
    ide::definition(book, file, offset);
    ide::highlights(book, file, offset);
    if let Ok(name) = ide::prepare_rename(book, file, offset) {
        assert_eq!(name.span.of(text).replace("\"\"", "\""), name.name);
    }
    for action in ide::actions(computing, file, Span::at(offset), diagnostics) {
        for (id, source) in book.files() {
            let edits: Vec<_> =
                action.edits.iter().filter(|edit| edit.file == id).map(|edit| edit.edit.clone()).collect();
            text::apply(&source.text, &edits).unwrap();
        }
    }
    text::apply(text, &ide::format_on_type(source, offset, '\n')).unwrap();
    text::apply(text, &ide::format_range(source, Span::at(offset))).unwrap();
}

fn offsets(text: &str, step: usize) -> impl Iterator<Item = u32> {
    (0..=text.len()).filter(|at| text.is_char_boundary(*at)).step_by(step).map(|at| at as u32)
}

/// At one letter in so many.
fn every_feature_at(one_in: usize) {
    let book = book(&sheets("tern-quay"));
    let computing = Computing::new(&book);
    let diagnostics = check::check(&book);
    let files: Vec<FileId> = book.files().map(|(id, _)| id).collect();
    for file in files {
        ask_whole(&book, file);
        for offset in offsets(&book.file(file).text, one_in) {
            ask(&book, &computing, &diagnostics, file, offset);
        }
    }
}

#[test]
fn every_feature_at_places_of_the_example_book() {
    every_feature_at(59);
}

#[test]
#[ignore = "two minutes without optimisation"]
fn every_feature_at_many_places_of_the_example_book() {
    every_feature_at(17);
}

/// A sheet that its card bars is released nowhere: what is said of it where it is named is what the card is stamped with.
#[test]
fn a_setup_is_told_by_its_stamp_where_it_is_named() {
    let record = "records/fan-wheel-315.rotor";
    let told = |edit: &dyn Fn(&str) -> String| {
        let sheets: Vec<_> = sheets("tern-quay").into_iter().map(|(path, text)| (path, edit(&text))).collect();
        let book = book(&sheets);
        let computing = Computing::new(&book);
        let file = book.file_at(record).unwrap();
        let at = book.file(file).text.find("\"fan wheel 315 on the soft bench\"").unwrap() as u32 + 3;
        let setup = book.find(rotorbook::syntax::Kind::Setup, "fan wheel 315 on the soft bench").unwrap();
        let hover = ide::hover(&computing, file, at).unwrap().markdown;
        (hover, ide::show_item(&computing, setup))
    };
    let (hover, shown) = told(&str::to_owned);
    assert!(
        hover.contains("RELEASED C once committed") && shown.contains("RELEASED C once committed"),
        "{hover}\n{shown}"
    );
    // The masses that it is calibrated with are no more.
    let (hover, shown) = told(&|text| text.replace("masses \"brass set\" {", "masses \"brass\" {"));
    assert!(hover.contains("NOT TO BE USED") && !hover.contains("RELEASED"), "{hover}");
    assert!(shown.lines().take(4).any(|line| line.contains("NOT TO BE USED")), "{shown}");
}

#[test]
fn every_feature_in_faulty_sheets() {
    for sheet in faulty::all() {
        let Ok(text) = String::from_utf8(sheet.bytes) else { continue };
        let book = book(&[(format!("{}.rotor", sheet.code), text)]);
        let computing = Computing::new(&book);
        let diagnostics = check::check(&book);
        ask_whole(&book, FileId(0));
        for offset in offsets(&book.file(FileId(0)).text, 457) {
            ask(&book, &computing, &diagnostics, FileId(0), offset);
        }
    }
}

#[test]
fn a_name_of_the_example_book_is_renamed_and_back_without_a_trace() {
    let before = sheets("tern-quay");
    let plain = book(&before);
    let clean = |book: &Book| check::check(book).into_iter().map(|found| found.message).collect::<Vec<_>>();
    let mut tried = 0;
    let mut names = HashSet::new();
    let before_it = clean(&plain).len();
    for (path, text) in &before {
        let file = plain.file_at(path).unwrap();
        for offset in offsets(text, 397) {
            let Ok(name) = ide::prepare_rename(&plain, file, offset) else { continue };
            if !names.insert(name.name.clone()) {
                continue;
            }
            let Ok(edits) = ide::rename(&plain, file, offset, "quite \"another\" name") else { continue };
            let changed: Vec<(String, String)> = plain
                .files()
                .map(|(id, source)| {
                    let of_file: Vec<_> =
                        edits.iter().filter(|edit| edit.file == id).map(|edit| edit.edit.clone()).collect();
                    (source.path.to_string(), text::apply(&source.text, &of_file).unwrap())
                })
                .collect();
            let renamed = book(&changed);
            let found = clean(&renamed).join("\n");
            assert!(!found.contains("has no ") && !found.contains("unknown"), "{}: {found}", name.name);
            assert_eq!(found.lines().count(), before_it, "{}: {found}", name.name);
            tried += 1;
        }
    }
    assert!(tried > 12, "{tried}");
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 60, ..ProptestConfig::default() })]

    #[test]
    fn no_feature_fails_on_any_text(
        lines in texts::lines(),
        places in prop::collection::vec((0usize..2000, texts::piece()), 0..8),
        at in 0usize..2000,
    ) {
        let text = texts::strewn(&lines, places);
        let at = (0..=at.min(text.len())).rev().find(|at| text.is_char_boundary(*at)).unwrap_or(0);
        let book = book(&[("a.rotor".to_owned(), text)]);
        let computing = Computing::new(&book);
        let diagnostics = check::check(&book);
        ask_whole(&book, FileId(0));
        ask(&book, &computing, &diagnostics, FileId(0), at as u32);
    }
}

/// The book with one file's text changed.
fn with_text(book: &Book, path: &str, text: String) -> Book {
    book.with_file(Arc::new(SourceFile::read(path, text)))
}

/// The labels that are offered when a line is typed as far as `typed`, the rest of it not being there yet.
fn offered(book: &Book, path: &str, line: Span, typed: usize) -> Vec<String> {
    let text = &book.file(book.file_at(path).unwrap()).text;
    let at = line.start as usize + typed;
    let text = format!("{}{}", &text[..at], &text[line.end as usize..]);
    let book = with_text(book, path, text);
    let file = book.file_at(path).unwrap();
    let computing = Computing::new(&book);
    ide::completions(&computing, file, at as u32).into_iter().map(|offered| offered.label).collect()
}

/// Each line of the example book that says something: its file, its place and its text.
fn lines_of(book: &Book) -> Vec<(String, Span, String)> {
    let mut lines = Vec::new();
    for (_, source) in book.files() {
        for line in &source.tree().lines {
            let written = line.span.of(&source.text);
            let code = written.trim();
            if !code.is_empty() && !code.starts_with(['#', '}']) {
                lines.push((source.path.to_string(), line.span, written.to_owned()));
            }
        }
    }
    lines
}

#[test]
fn whatever_line_of_the_example_book_is_typed_is_offered() {
    let book = book(&sheets("tern-quay"));
    for (path, span, written) in lines_of(&book).into_iter().step_by(5) {
        let indent = written.len() - written.trim_start().len();
        let code = &written[indent..];
        // A calibration that is void is to be mended, and is not offered to be kept.
        if code.contains("=> \"void: ") {
            continue;
        }
        let first_word = code.split([':', ' ', '=']).next().unwrap();
        if let Some(quoted) = code.strip_prefix('"') {
            // Controls and planes, whose names need their quotes.
            let name = quoted.split('"').next().unwrap();
            let found = offered(&book, &path, span, indent + 2);
            assert!(found.iter().any(|label| label == name), "{path}: {code}: {name} in {found:?}");
            continue;
        }
        let begins = |label: &String| code.starts_with(label.trim_end_matches(" =>"));
        let found = offered(&book, &path, span, indent + 1);
        assert!(found.iter().any(begins), "{path}: {code}: {first_word} in {found:?}");
    }
}

#[test]
fn units_choices_and_names_of_the_example_book_are_offered() {
    let book = book(&sheets("tern-quay"));
    let mut tried = 0;
    for (path, span, written) in lines_of(&book).into_iter().step_by(3) {
        let code = written.split(" #").next().unwrap();
        let Some((head, value)) = code.split_once(": ") else { continue };
        let value_at = head.len() + 2;
        let source = book.file(book.file_at(&path).unwrap());
        for token in ide::tokens(source, Some(Span::at(span.start + 1))) {
            let from = (token.span.start - span.start) as usize;
            if token.span.start < span.start || token.span.end > span.end || from < value_at {
                continue;
            }
            let wanted = token.span.of(&source.text).trim_matches('"');
            // Positions of a control and channels of a machine are the sheet's own words.
            let own = ["positions", "channels"].contains(&head.trim());
            match token.kind {
                ide::TokenKind::Unit | ide::TokenKind::Choice | ide::TokenKind::Name if !own => {
                    let found = offered(&book, &path, span, from);
                    assert!(
                        found.iter().any(|label| label == wanted),
                        "{path}: {head}: {value}: {wanted} in {found:?}"
                    );
                    tried += 1;
                }
                _ => {}
            }
        }
    }
    assert!(tried > 160, "{tried}");
}

#[test]
fn a_line_that_is_being_typed_costs_no_other_line_its_hint() {
    let sheets = sheets("tern-quay");
    let whole = book(&sheets);
    let path = "setups/fan-wheel-315-soft-bench.rotor";
    let labels = |book: &Book| {
        let file = book.file_at(path).unwrap();
        let end = book.file(file).text.len() as u32;
        let hints = ide::hints(&Computing::new(book), file, Span::new(0, end), HintsShown::All);
        // What may be read at most rests on every line: one that is not known yet counts for nothing.
        let labels = hints.into_iter().map(|hint| hint.label).filter(|label| !label.contains("read at most"));
        labels.collect::<Vec<_>>()
    };
    let before = labels(&whole);
    assert!(before.len() > 20);
    let text = whole.file(whole.file_at(path).unwrap()).text.to_string();
    for begins in ["caution", "by:", "\"left strength\"", "shows:", "indicates", "date:"] {
        let at = text.find(&format!("  {begins}")).unwrap() + 2;
        let end = at + text[at..].find('\n').unwrap();
        // What is left of a number is a number too: a setting loses its whole value.
        let most = text[at..end].find("\": ").map_or(end - at - 1, |quote| quote + 2);
        for keep in [1, most / 2, most] {
            let keep = (0..=keep).rev().find(|keep| text.is_char_boundary(at + keep)).unwrap();
            let half = format!("{}{}", &text[..at + keep], &text[end..]);
            assert_eq!(labels(&with_text(&whole, path, half)), before, "{begins} {keep}");
        }
    }
}

#[test]
fn what_is_pinned_holds() {
    let book = book(&sheets("tern-quay"));
    let computing = Computing::new(&book);
    let mut pinned = book.clone();
    let mut count = 0;
    for (file, source) in book.files() {
        let mut edits = Vec::new();
        for item in &source.sheet.items {
            let place = Span::at(item.heading.start);
            let actions = ide::actions(&computing, file, place, &[]);
            let all =
                actions.into_iter().find(|action| action.title.starts_with("Pin ") && action.title.contains(" of "));
            edits.extend(all.into_iter().flat_map(|action| action.edits).map(|edit| edit.edit));
        }
        count += edits.len();
        pinned = with_text(&pinned, &source.path, text::apply(&source.text, &edits).unwrap());
    }
    assert!(count > 60, "{count}");
    let new = |found: &check::Diagnostic| found.rule.code.contains("pin") || found.rule.code == "given-twice";
    let wrong: Vec<String> = check::check(&pinned).into_iter().filter(new).map(|found| found.message).collect();
    assert!(wrong.is_empty(), "{wrong:#?}");
}

/// What is shown is read beside a sheet of eighty columns, and what is accepted is what was shown.
#[test]
fn a_run_of_two_planes_says_in_few_words_which_is_which() {
    let book = book(&sheets("tern-quay"));
    let computing = Computing::new(&book);
    let file = book.file_at("records/fan-wheel-560.rotor").unwrap();
    let whole = Span::new(0, book.file(file).text.len() as u32);
    let hints = ide::hints(&computing, file, whole, HintsShown::All);
    let runs: Vec<&ide::Hint> = hints.iter().filter(|hint| hint.label.contains(" ×")).collect();
    assert!(!runs.is_empty());
    for hint in &runs {
        assert!(hint.label.starts_with("back plate ") && hint.label.contains(" ×, shroud "), "{}", hint.label);
        assert!(hint.label.len() < 60 && hint.tooltip.contains("unbalance"), "{}", hint.label);
    }
    for hint in &hints {
        let written: usize = hint.edits.iter().map(|edit| edit.text.matches('@').count()).sum();
        assert!(written <= hint.label.matches('@').count(), "{} writes {:?}", hint.label, hint.edits);
    }
}
