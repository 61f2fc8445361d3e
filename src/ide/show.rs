//! Everything computed of one item, as Markdown for a preview.

use std::fmt::Write as _;

use super::explain;
use super::headline::headline_by_sheets;
use super::item_near;
use super::markdown::{plain, sentence};
use super::progress::Progress;
use crate::book::{self, Computing, Entry, FileId, ItemId, Outcome, Path};

/// What is computed of the item nearest to `offset`, with formulas and sources, block by block; `None` without an item.
pub fn show(computing: &Computing<'_>, file: FileId, offset: u32) -> Option<String> {
    let id = item_near(computing.book(), file, offset, |_| true)?;
    Some(show_item(computing, id))
}

/// The same of any item of the book.
pub fn show_item(computing: &Computing<'_>, id: ItemId) -> String {
    let book = computing.book();
    let mut text = format!("# {}\n", plain(&explain::called(book, id)));
    let computed = computing.item(id);
    let headline = headline_by_sheets(computing, id);
    if !headline.is_empty() {
        let _ = writeln!(text, "\n{}", plain(&headline));
    }
    if let Some(progress) = Progress::of(book.item(id), computed.effective()) {
        let _ = writeln!(text, "\n{}", plain(&progress.words()));
    }
    let entries = computed.entries();
    if entries.is_empty() {
        text.push_str("\nNothing is computed of it.\n");
        return text;
    }
    let mut paths: Vec<&Path> = Vec::new();
    for entry in entries {
        if !paths.contains(&&entry.path) {
            paths.push(&entry.path);
        }
    }
    for path in paths {
        let blocks: Vec<String> = path.headings().collect();
        if !blocks.is_empty() {
            let _ = writeln!(text, "\n## {}", plain(&blocks.join(", ")));
        }
        for entry in entries.iter().filter(|entry| entry.path == *path) {
            let _ = writeln!(text, "\n{}", result(computing, id, entry));
        }
    }
    text
}

fn result(computing: &Computing<'_>, id: ItemId, entry: &Entry) -> String {
    let book = computing.book();
    match &entry.outcome {
        Outcome::Missing(missing) => {
            format!("**{}** not computed: {}", plain(&entry.name()), sentence(&book::why(book, missing)))
        }
        _ => explain::result(book, id, entry).unwrap_or_default(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ide::testing::{SHOP, fixture};

    fn shown(text: &str) -> Option<String> {
        let fixture = fixture(text);
        show(&Computing::new(&fixture.book), fixture.file, fixture.offset)
    }

    #[test]
    fn results_stand_under_their_blocks() {
        let text = shown(&SHOP.replace("mass: 4 kg", "ma$0ss: 4 kg")).unwrap();
        assert!(text.starts_with("# rotor \"wheel\"\n\n4 kg, permissible 80.0 g·mm\n"), "{text}");
        let plane = text.find("\n## plane hub\n\n**tolerance** 40.0 g·mm").unwrap();
        assert!(text[plane..].contains("*Source: statics of a rigid body"), "{text}");
    }

    #[test]
    fn a_hole_says_what_is_missing() {
        let text = shown("rotor a {\n  tolerance {$0\n    grade: G 6.3\n  }\n}\n").unwrap();
        assert!(text.contains("**permissible unbalance** not computed: `mass` in rotor \"a\" is missing"), "{text}");
        assert_eq!(shown("# c$0\n"), None);
    }
}
