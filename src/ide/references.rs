//! Everywhere a thing is named.

use super::names;
use crate::book::{Book, FileId};
use crate::check::Place;

/// Every place in the book that names what the name at `offset` names, in the order of files; with the place where it
/// is described when that is wanted too.
pub fn references(book: &Book, file: FileId, offset: u32, with_description: bool) -> Vec<Place> {
    let Some(mention) = names::mention_at(book, file, offset) else { return Vec::new() };
    let found = names::everywhere(book, &mention.of).into_iter();
    let found = found.filter(|(_, mention)| with_description || mention.described.is_none());
    found.map(|(item, mention)| Place { file: item.file, span: mention.span }).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ide::testing::{SETUP, SHOP, fixture};

    fn found(text: &str, with_description: bool) -> Vec<String> {
        let fixture = fixture(text);
        let places = references(&fixture.book, fixture.file, fixture.offset, with_description);
        let line = |place: &Place| {
            let source = fixture.book.file(place.file);
            format!("{}: {}", source.path, crate::ide::testing::line_of(&source.text, place.span.start))
        };
        places.iter().map(line).collect()
    }

    #[test]
    fn a_plane_is_found_in_every_sheet_of_its_rotor() {
        let rotor = SHOP.replace("plane hub", "plane h$0ub").replace("total: 80 g·mm", "hub: 40 g·mm");
        let other = "#! rotors/other.rotor\nrotor other {\n  plane hub {\n    at: 3 mm\n  }\n}\n";
        let setups = "  calibrate hub {\n  }\n}\n#! setups/x.rotor\nsetup x {\n  like: \"wheel on the soft bench\"\n  leave out: \"calibrate hub\"\n}\n";
        let records = "#! records/a.rotor\nrecord a {\n  setup: x\n  correction hub {\n  }\n}\n";
        let text = format!("{rotor}{other}{SETUP}{setups}{records}");
        let uses = [
            "records/a.rotor: correction hub {",
            "rotors/wheel.rotor: hub: 40 g·mm",
            "setups/wheel.rotor: channel left: hub",
            "setups/wheel.rotor: calibrate hub {",
            "setups/x.rotor: leave out: \"calibrate hub\"",
        ];
        assert_eq!(found(&text, false), uses);
        assert_eq!(found(&text, true).len(), uses.len() + 1);
    }

    #[test]
    fn a_rotor_is_found_where_it_is_named() {
        let rotor = SHOP.replace("rotor wheel", "rotor whe$0el");
        let pair = "#! rotors/pair.rotor\nrotor pair {\n  made of wheel {\n    at: 3 mm\n  }\n}\n";
        let text = format!("{rotor}{pair}{SETUP}}}\n");
        assert_eq!(found(&text, false), ["rotors/pair.rotor: made of wheel {", "setups/wheel.rotor: rotor: wheel"]);
    }

    #[test]
    fn names_of_the_same_words_that_mean_something_else_are_not_found() {
        let text =
            format!("{SHOP}#! a.rotor\nrotor hub {{\n  drawing: \"wheel\"\n}}\nsetup w$0heel {{\n  rotor: wheel\n}}\n");
        assert_eq!(found(&text, false), Vec::<String>::new());
    }
}
