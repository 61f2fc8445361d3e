//! Sheets begun from what the book knows: a setup of a rotor on a machine, a record of a setup, a setup like another.
//!
//! What they hold is decided in `starting` alone: nothing that nobody has looked at.

mod plain;

pub use plain::{begin_named, beginnings_here, starts};

use std::fmt::Write as _;

use crate::book::{Book, Computing, FileId, ItemId, effective};
use crate::check;
use crate::likeness::{self, Near};
use crate::sheet::FieldValue;
use crate::starting::{Context, Start, file_name, setup_like};
use crate::syntax::Kind;
use crate::text::Span;
use crate::vocabulary::setup;

/// Machines and rotors offered at a time.
const MOST: usize = 6;

/// A sheet that can be begun.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Beginning {
    /// `Set this rotor up on "soft bench"`
    pub title: String,
    /// Where it would lie, in the book; nothing lies there.
    pub path: String,
    pub text: String,
}

/// All that can be begun in a book, with the item that each is begun from.
pub fn all_beginnings(book: &Book) -> Vec<(String, Beginning)> {
    const ALL: usize = 500;
    let begun = book.items().flat_map(|id| {
        let item = book.item(id);
        let from = format!("{} {}", item.kind, check::quoted(item.name_text()));
        let begun = match item.kind {
            Kind::Rotor => on_machines(book, id),
            Kind::Setup => vec![recorded(book, id)],
            _ => Vec::new(),
        };
        begun.into_iter().map(move |one| (from.clone(), one))
    });
    begun.take(ALL).collect()
}

/// What can be begun at the heading of an item.
pub fn beginnings(book: &Book, file: FileId, range: Span) -> Vec<Beginning> {
    let items = &book.file(file).sheet.items;
    let Some(index) = items.iter().position(|item| item.heading.touches(range)) else { return Vec::new() };
    let id = ItemId { file, index: index as u32 };
    match items[index].kind {
        Kind::Rotor => like_nearest(book, id).into_iter().chain(on_machines(book, id)).collect(),
        Kind::Setup => std::iter::once(recorded(book, id)).chain(for_rotors(book, id)).collect(),
        _ => Vec::new(),
    }
}

fn on_machines(book: &Book, rotor: ItemId) -> Vec<Beginning> {
    let name = book.item(rotor).name_text();
    let on = |(machine, id): (&str, ItemId)| {
        let called = free_name(book, Kind::Setup, &format!("{name} on the {machine}"));
        Beginning {
            title: format!("Set this rotor up on \"{machine}\""),
            path: free_path(book, Kind::Setup, &called),
            text: drafted(book, Start::Item(Kind::Setup), &[rotor, id], &called),
        }
    };
    book.names_of(Kind::Machine).take(MOST).map(on).collect()
}

fn recorded(book: &Book, id: ItemId) -> Beginning {
    let item = book.item(id);
    let whole = effective(book, id).0;
    let rotor = whole.field(setup::ROTOR).and_then(|field| match &field.field.value {
        FieldValue::Name(name) => Some(name.text.to_string()),
        _ => None,
    });
    let number = book.naming(Kind::Setup, item.name_text()).len() + 1;
    let called = format!("{}, no. {number}", rotor.as_deref().unwrap_or(item.name_text()));
    let called = free_name(book, Kind::Record, &called);
    let text = drafted(book, Start::Item(Kind::Record), &[id], &called);
    Beginning { title: "Record a run of this setup".to_owned(), path: free_path(book, Kind::Record, &called), text }
}

/// Like the nearest sheet that is proven.
fn like_nearest(book: &Book, rotor: ItemId) -> Option<Beginning> {
    let computing = Computing::without_explanations(book);
    let found = likeness::nearest(&computing, rotor);
    like_proven(book, found.first().filter(|near| near.is_near())?, rotor, None)
}

/// A setup of a rotor like one that is proven, with what differs and why dials may not carry over. `None` where that names
/// no machine.
pub fn like_proven(book: &Book, near: &Near, rotor: ItemId, called: Option<&str>) -> Option<Beginning> {
    let begun = like(book, near.setup, rotor, called)?;
    let mut text = format!("# Nearest proven sheet: {}.\n", check::quoted(&near.name));
    if !near.void.is_empty() {
        let _ = writeln!(text, "# Its calibration is VOID: {}.", near.void.join("; "));
    }
    for differs in &near.differs {
        let _ = writeln!(text, "# Differs: {differs}.");
    }
    let _ = writeln!(text, "# Dials: {}.", near.dials);
    let title = format!("Set this rotor up like \"{}\", the nearest proven sheet", near.name);
    Some(Beginning { title, text: text + &begun.text, ..begun })
}

fn for_rotors(book: &Book, id: ItemId) -> Vec<Beginning> {
    let whole = effective(book, id).0;
    let own = whole.field(setup::ROTOR).and_then(|field| match &field.field.value {
        FieldValue::Name(name) => book.find(Kind::Rotor, &name.text).ok(),
        _ => None,
    });
    // Rotors that nobody has set up yet come first: it is they that somebody has in hand.
    let mut rotors: Vec<(&str, ItemId)> = book.names_of(Kind::Rotor).filter(|(_, other)| Some(*other) != own).collect();
    rotors.sort_by_key(|(_, other)| !book.users().setups(*other).is_empty());
    rotors.into_iter().take(MOST).filter_map(|(_, other)| like(book, id, other, None)).collect()
}

/// A setup of another rotor that takes over what holds for both.
fn like(book: &Book, id: ItemId, other: ItemId, called: Option<&str>) -> Option<Beginning> {
    let whole = effective(book, id).0;
    let bench = match &whole.field(setup::MACHINE)?.field.value {
        FieldValue::Name(name) => &name.text,
        _ => return None,
    };
    let name = book.item(other).name_text();
    let called = called.map_or_else(|| free_name(book, Kind::Setup, &format!("{name} on the {bench}")), str::to_owned);
    let text = setup_like(book, id, other, &called).complete().text();
    let path = free_path(book, Kind::Setup, &called);
    Some(Beginning { title: format!("Like this one for \"{name}\""), path, text })
}

/// A sheet that is begun from items of the book.
fn drafted(book: &Book, start: Start, items: &[ItemId], called: &str) -> String {
    let context = Context { book: Some(book), items, ..Context::default() };
    start.draft(called, &context).complete().text()
}

/// The name, or with a number where an item of the book has it.
fn free_name(book: &Book, kind: Kind, name: &str) -> String {
    let is_free = |name: &String| book.named(kind, name).is_empty();
    let numbered = (2..).map(|number| format!("{name} {number}"));
    std::iter::once(name.to_owned()).chain(numbered).find(is_free).unwrap_or_default()
}

/// A path for a sheet of this name, beside the others of its kind, at which nothing lies.
fn free_path(book: &Book, kind: Kind, name: &str) -> String {
    let beside = book.items().find(|id| book.item(*id).kind == kind);
    let folder = match beside.map(|id| &*book.file(id.file).path).and_then(|path| path.rsplit_once('/')) {
        Some((folder, _)) => folder.to_owned(),
        None => format!("{kind}s"),
    };
    let stem = file_name(name);
    let numbered = (2..).map(|number| format!("{folder}/{stem}-{number}.rotor"));
    let is_free = |path: &String| book.file_at(path).is_none();
    std::iter::once(format!("{folder}/{stem}.rotor")).chain(numbered).find(is_free).unwrap_or_default()
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use super::*;
    use crate::book::SourceFile;
    use crate::check::Severity;
    use crate::ide::testing::{SETUP, SHOP, fixture};
    use crate::vocabulary::record;

    fn begun(text: &str, title: &str) -> (Book, Beginning) {
        let fixture = fixture(text);
        let all = beginnings(&fixture.book, fixture.file, fixture.range);
        let titles: Vec<&str> = all.iter().map(|one| &*one.title).collect();
        let one = all.iter().find(|one| one.title == title).unwrap_or_else(|| panic!("{title} in {titles:?}"));
        let files = fixture.book.files().map(|(id, _)| fixture.book.shared_file(id).clone());
        let new = Arc::new(SourceFile::read(one.path.as_str(), one.text.as_str()));
        (Book::new(files.chain([new]).collect()), one.clone())
    }

    /// What is begun reads as it is meant, and lacks nothing but what the bench must say.
    fn is_sound(book: &Book, begun: &Beginning) {
        let file = book.file_at(&begun.path).unwrap();
        assert!(book.file(file).errors.is_empty(), "{}", begun.text);
        let wrong = check::check(book).into_iter().filter(|said| said.place.file == file);
        let wrong: Vec<String> =
            wrong.filter(|said| said.severity == Severity::Error).map(|said| said.message).collect();
        assert_eq!(wrong, Vec::<String>::new(), "{}", begun.text);
        let laid_out = crate::format::format(&begun.text);
        assert_eq!(laid_out.unwrap(), begun.text);
    }

    #[test]
    fn a_rotor_is_set_up_on_a_machine() {
        let text = format!("{SHOP}{SETUP}}}\n").replace("rotor wheel {", "rotor wh$0eel {");
        let (book, begun) = begun(&text, "Set this rotor up on \"soft bench\"");
        assert_eq!(begun.path, "setups/wheel-on-the-soft-bench-2.rotor");
        assert!(
            begun.text.starts_with("setup \"wheel on the soft bench 2\" {\n  rotor: \"wheel\"\n"),
            "{}",
            begun.text
        );
        for line in [
            "\n  channel left: hub\n",
            "\n  tolerance reads: 1 div\n",
            "\n    dial: ?\n",
            "\n    radius: ? ",
            "# supports at: ",
        ] {
            assert!(begun.text.contains(line), "{line} in {}", begun.text);
        }
        is_sound(&book, &begun);
    }

    #[test]
    fn a_run_of_a_setup_is_recorded() {
        let text = format!("{SHOP}{SETUP}}}\n").replace("setup \"wheel", "setup \"wh$0eel");
        let (book, begun) = begun(&text, "Record a run of this setup");
        assert!(begun.path.starts_with("records/"), "{}", begun.path);
        assert!(
            begun.text.contains("\n    reading left: ? ") && begun.text.contains("\n    reading right: ? "),
            "{}",
            begun.text
        );
        is_sound(&book, &begun);
    }

    /// What only the bench can say is open, whatever was last found there: an angle, where the supports are, what the
    /// machine's angle points at, and whether the calibration masses are off.
    #[test]
    fn nothing_is_written_that_nobody_has_looked_at() {
        let may_be_said = [
            setup::ROTOR.words(),
            setup::MACHINE.words(),
            setup::MASSES.words(),
            setup::LIKE.words(),
            setup::LEAVE_OUT.words(),
            setup::STATUS.words(),
            setup::TOLERANCE_READS.words(),
            setup::CHANNEL.words(),
            record::SETUP.words(),
        ];
        let calibrated = "  indicates: heavy spot\n  supports at: 0 mm, 200 mm\n  settings {\n    dial: 212\n  }\n  calibrate hub {\n    \
                          mass: 4 g\n    radius: 100 mm\n    angle: 0 deg\n  }\n";
        let book = fixture(&format!("{SHOP}{SETUP}{calibrated}}}\n")).book;
        let disc = "rotor disc {\n  plane hub {\n    radius: 90 mm\n  }\n  plane face {\n    radius: 70 mm\n  }\n}\n";
        let files = book.files().map(|(id, _)| book.shared_file(id).clone());
        let book = Book::new(files.chain([Arc::new(SourceFile::read("rotors/disc.rotor", disc))]).collect());
        let setups = book.items().filter(|id| book.item(*id).kind == Kind::Setup);
        let all: Vec<Beginning> = setups
            .flat_map(|id| for_rotors(&book, id))
            .chain(all_beginnings(&book).into_iter().map(|(_, one)| one))
            .collect();
        assert_eq!(all.len(), 4);
        for begun in all {
            let source = SourceFile::read("new.rotor", begun.text.as_str());
            assert!(source.errors.is_empty() && source.sheet.problems.is_empty(), "{}", begun.text);
            let mut open: Vec<&crate::sheet::Block> = source.sheet.items.iter().collect();
            while let Some(block) = open.pop() {
                open.extend(&block.blocks);
                for field in &block.fields {
                    let is_open = field.value.is_hole() || may_be_said.contains(&field.key.name);
                    assert!(is_open, "{} is written in\n{}", field.key.name, begun.text);
                }
            }
        }
    }

    #[test]
    fn a_rotor_is_set_up_like_the_nearest_proven_sheet() {
        let other = "#! rotors/wide.rotor\nrotor wi$0de {\n  mass: 5 kg\n  bearings: 0 mm, 210 mm\n  plane hub {\n    at: 40 mm\n    \
                     radius: 120 mm\n  }\n  plane rim {\n    at: 170 mm\n    radius: 120 mm\n  }\n}\n";
        let proven = format!("{SHOP}{other}{SETUP}  proof \"2026-03-02\" {{\n    date: 2026-03-02\n  }}\n}}\n");
        let title = "Set this rotor up like \"wheel on the soft bench\", the nearest proven sheet";
        let (book, begun) = begun(&proven, title);
        assert!(begun.text.starts_with("# Nearest proven sheet: \"wheel on the soft bench\".\n"), "{}", begun.text);
        assert!(
            begun.text.contains("\n# Dials: on soft supports strength and separation go by mass"),
            "{}",
            begun.text
        );
        assert!(begun.text.contains("  like: \"wheel on the soft bench\"\n"), "{}", begun.text);
        is_sound(&book, &begun);
    }

    #[test]
    fn another_rotor_is_set_up_like_one_that_is() {
        let other = "#! rotors/disc.rotor\nrotor disc {\n  mass: 3 kg\n  plane hub {\n    at: 50 mm\n    radius: 90 mm\n  }\n  \
                     plane face {\n    at: 80 mm\n    radius: 70 mm\n  }\n}\n";
        let setup = SETUP.replace("setup \"wheel", "setup \"wh$0eel");
        let calibrated = "  calibrate hub {\n    mass: 4 g\n    radius: 100 mm\n  }\n}\n";
        let (_, begun) = begun(&format!("{SHOP}{other}{setup}{calibrated}"), "Like this one for \"disc\"");
        assert!(begun.text.contains("  like: \"wheel on the soft bench\"\n"), "{}", begun.text);
        assert!(begun.text.contains("calibrate face {") && !begun.text.contains("calibrate hub {"), "{}", begun.text);
    }
}
