//! Sheets of each kind that are begun from nothing but the book.

use super::{Beginning, free_name, free_path};
use crate::book::{Book, FileId, ROOT_FILE, SourceFile};
use crate::check;
use crate::starting::{Context, Start};
use crate::syntax::Kind;

/// What can be begun in a book; a shop only where it has none.
pub fn starts(book: &Book) -> impl Iterator<Item = Start> {
    let has_shop = book.shop().is_some();
    Start::ALL.into_iter().filter(move |start| !(has_shop && start.kind() == Kind::Shop))
}

/// A sheet of a kind, with what the book alone can tell and a `?` for the rest; else why no item can have this name.
pub fn begin_named(book: &Book, start: Start, name: Option<&str>) -> Result<Beginning, String> {
    let name = name.map(str::trim).filter(|name| !name.is_empty());
    match name.and_then(check::fault_of_name) {
        Some(fault) => Err(fault),
        None => Ok(begin(book, start, name)),
    }
}

fn begin(book: &Book, start: Start, name: Option<&str>) -> Beginning {
    let called = name.map_or_else(|| format!("new {}", start.kind()), str::to_owned);
    let called = free_name(book, start.kind(), &called);
    let path = match start.kind() {
        Kind::Shop => ROOT_FILE.to_owned(),
        kind => free_path(book, kind, &called),
    };
    let context = Context { book: Some(book), ..Context::default() };
    Beginning { title: format!("New {}", start.words()), path, text: start.draft(&called, &context).complete().text() }
}

/// The sheets that can be begun on an empty line outside all items, each with what is to be written there.
pub fn beginnings_here(book: &Book, file: FileId, offset: u32) -> Vec<Beginning> {
    let source = book.file(file);
    let Some((before, after)) = gap(source, offset) else { return Vec::new() };
    let name = source.sheet.items.is_empty().then(|| name_of(source)).flatten();
    let begun = starts(book).map(|start| {
        let begun = begin(book, start, name.as_deref());
        Beginning { text: format!("{before}{}{after}", begun.text), ..begun }
    });
    begun.collect()
}

/// The line ends that part an item on the line of an offset from what is above and below; `None` where the line is not
/// empty, or lies in an item.
fn gap(source: &SourceFile, offset: u32) -> Option<(&'static str, &'static str)> {
    if source.problem.is_some()
        || source.sheet.items.iter().any(|item| item.span.start < offset && offset < item.span.end)
    {
        return None;
    }
    let (above, below) = source.text.split_at_checked(offset as usize)?;
    let is_blank = |line: Option<&str>| line.is_none_or(|line| line.trim().is_empty());
    let mut above = above.rsplit('\n');
    let mut below = below.split('\n');
    if !is_blank(above.next()) || !is_blank(below.next()) {
        return None;
    }
    let before = if is_blank(above.next()) { "" } else { "\n" };
    Some((before, if is_blank(below.next()) { "" } else { "\n" }))
}

/// What a file is called, as words: `rotors/fan-wheel-560.rotor` holds "fan wheel 560".
fn name_of(source: &SourceFile) -> Option<String> {
    let file = source.path.rsplit('/').next()?;
    let stem = file.strip_suffix(".rotor").unwrap_or(file);
    let is_name = !stem.to_lowercase().starts_with("untitled") && stem != "book";
    let name = stem.replace(['-', '_'], " ");
    (is_name && !check::quoted(&name).contains("\"\"")).then_some(name)
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use super::*;
    use crate::check::Severity;
    use crate::ide::testing::{SETUP, SHOP, fixture};

    fn errors_with(book: &Book, begun: &Beginning) -> Vec<String> {
        let files = book.files().map(|(id, _)| book.shared_file(id).clone());
        let new = Arc::new(SourceFile::read(begun.path.as_str(), begun.text.as_str()));
        let whole = Book::new(files.chain([new]).collect());
        let file = whole.file_at(&begun.path).unwrap();
        let said = check::check(&whole).into_iter().filter(|said| said.place.file == file);
        said.filter(|said| said.severity == Severity::Error).map(|said| said.message).collect()
    }

    #[test]
    fn each_kind_is_begun_soundly() {
        let book = fixture(&format!("{SHOP}{SETUP}}}\n")).book;
        let titles: Vec<String> = starts(&book).map(|start| begin(&book, start, None).title).collect();
        assert_eq!(titles[..4], ["New rotor", "New setup", "New setup by trial runs", "New record"]);
        assert!(!titles.contains(&"New shop".to_owned()), "{titles:?}");
        for start in starts(&book) {
            let begun = begin(&book, start, Some("shaft 12"));
            assert!(begun.text.starts_with(&format!("{} \"shaft 12\" {{\n", start.kind())), "{}", begun.text);
            assert_eq!(errors_with(&book, &begun), Vec::<String>::new(), "{}", begun.text);
            assert_eq!(crate::format::format(&begun.text).unwrap(), begun.text);
        }
    }

    #[test]
    fn trial_runs_are_asked_for_in_the_order_of_the_bench() {
        let book = fixture(SHOP).book;
        let begun = begin(&book, Start::SetupByTrials, Some("wheel by trials"));
        let mut last = 0;
        for line in [
            "  rotor: \"wheel\"\n",
            "  balancing speed: ? ",
            "  trial \"as found\" {\n    speed: ?",
            "    reading left: ? ",
            "  trial \"mass in hub\" {\n    mass in: hub\n    mass: ? ",
            "    trial mass: taken off\n    speed: ? ",
            "  trial \"mass in outer rim\" {\n    mass in: \"outer rim\"\n",
        ] {
            let at = begun.text[last..].find(line).unwrap_or_else(|| panic!("{line} in order in\n{}", begun.text));
            last += at;
        }
    }

    #[test]
    fn which_of_several_is_left_open() {
        let two = format!("{SHOP}#! b.rotor\nrotor disc {{\n}}\n");
        let begun = begin(&fixture(&two).book, Start::Item(Kind::Setup), None);
        assert!(begun.text.contains("  rotor: ? # the name of a rotor\n"), "{}", begun.text);
        assert!(begun.text.contains("  machine: \"soft bench\"\n"), "{}", begun.text);
    }

    #[test]
    fn an_empty_line_outside_items_takes_a_new_one() {
        let here = |text: &str| {
            let fixture = fixture(text);
            let found = beginnings_here(&fixture.book, fixture.file, fixture.offset);
            found.into_iter().next().map(|begun| begun.text)
        };
        assert!(here("#! rotors/fan-wheel-560.rotor\n$0").unwrap().starts_with("rotor \"fan wheel 560\" {\n"));
        assert!(here("#! Untitled-1.rotor\n$0").unwrap().starts_with("rotor \"new rotor\" {\n"));
        assert!(here("material x {\n}\n$0\nmaterial y {\n}\n").unwrap().starts_with("\nrotor \"new rotor\" {\n"));
        assert!(here("material x {\n}\n$0\nmaterial y {\n}\n").unwrap().ends_with("}\n\n"));
        for text in ["# $0\n", "material x {\n$0\n}\n", "material x {$0\n}\n", "m$0\n"] {
            assert_eq!(here(text), None, "{text}");
        }
    }
}
