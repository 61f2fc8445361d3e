//! Files that are given another name or place: the texts that lead to them lead there still.

use super::links::{self, DocumentLink, joined};
use crate::book::{Book, SourceFile};
use crate::check::FileEdit;
use crate::text::Edit;

/// The edits that keep paths in sheets right when files move. `moves` gives the new path in the book of what lay at a
/// path; `is_there` says whether a file lies at a path now. Edits are of the sheets as they lie now.
pub fn moved(book: &Book, moves: &dyn Fn(&str) -> Option<String>, is_there: &dyn Fn(&str) -> bool) -> Vec<FileEdit> {
    let mut edits = Vec::new();
    for (file, source) in book.files() {
        let itself = moves(&source.path);
        let leads = |path: &str| moves(path).is_some() || (itself.is_some() && is_there(path));
        if links::links(source, &leads).is_empty() {
            continue;
        }
        let there = |path: &str| moves(path).is_some() || is_there(path);
        for link in links::links(source, &there) {
            let written = link.span.of(&source.text);
            let new = rewritten(source, &link, moves, itself.as_deref());
            if new != written.replace('\\', "/") {
                edits.push(FileEdit { file, edit: Edit::replace(link.span, new.replace('"', "\"\"")) });
            }
        }
    }
    edits
}

/// The path as it is to be written, counted from where it was counted from.
fn rewritten(
    source: &SourceFile,
    link: &DocumentLink,
    moves: &dyn Fn(&str) -> Option<String>,
    itself: Option<&str>,
) -> String {
    let target = moves(&link.path).unwrap_or_else(|| link.path.clone());
    let written = link.span.of(&source.text).replace('\\', "/");
    let from_folder = joined(folder(&source.path), &written).as_deref() == Some(&*link.path);
    match from_folder {
        true => relative(folder(itself.unwrap_or(&source.path)), &target),
        false => target,
    }
}

fn folder(path: &str) -> &str {
    path.rsplit_once('/').map_or("", |(folder, _)| folder)
}

/// The way from a folder of the book to a file of it.
fn relative(folder: &str, target: &str) -> String {
    let from: Vec<&str> = folder.split('/').filter(|part| !part.is_empty()).collect();
    let to: Vec<&str> = target.split('/').collect();
    let common = from.iter().zip(&to).take_while(|(from, to)| from == to).count().min(to.len() - 1);
    let mut parts = vec![".."; from.len() - common];
    parts.extend(&to[common..]);
    parts.join("/")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ide::testing::fixture;

    const SHEETS: &str = "#! rotors/a.rotor
rotor a$0 {
  drawing: \"../drawings/a.pdf\"
}
#! rotors/b.rotor
rotor b {
  drawing: \"drawings/a.pdf\"
  datum: \"drawings/b.pdf\"
}
";

    fn after(from: &'static str, to: &'static str) -> String {
        let fixture = fixture(SHEETS);
        let moves = |path: &str| path.strip_prefix(from).map(|rest| format!("{to}{rest}"));
        let is_there = |path: &str| matches!(path, "drawings/a.pdf" | "drawings/b.pdf");
        fixture.changes(&moved(&fixture.book, &moves, &is_there))
    }

    #[test]
    fn a_drawing_that_moves_is_found_where_it_is_now() {
        let expected = "#! rotors/a.rotor
-  drawing: \"../drawings/a.pdf\"
+  drawing: \"../drawings/old/a 1.pdf\"
#! rotors/b.rotor
-  drawing: \"drawings/a.pdf\"
+  drawing: \"drawings/old/a 1.pdf\"
";
        assert_eq!(after("drawings/a.pdf", "drawings/old/a 1.pdf"), expected);
    }

    #[test]
    fn a_sheet_that_moves_leads_to_its_drawing_still() {
        let expected = "#! rotors/a.rotor\n-  drawing: \"../drawings/a.pdf\"\n+  drawing: \"../../drawings/a.pdf\"\n";
        assert_eq!(after("rotors/a.rotor", "rotors/fans/a.rotor"), expected);
        assert_eq!(after("rotors/", "drawings/").lines().last(), Some("+  drawing: \"a.pdf\""));
    }

    #[test]
    fn what_moves_together_stays_as_it_is() {
        assert_eq!(after("elsewhere/", "drawings/"), "");
        let folder = after("drawings/", "sheets/drawings/");
        assert_eq!(folder.matches("\n+").count(), 3, "{folder}");
    }
}
