//! Lines above an item: who uses it.

use rustc_hash::FxHashMap;

use super::names::Owners;
use super::progress::{self, Progress};
use crate::book::{Book, FileId, ItemId};
use crate::check::Place;
use crate::sheet::{Block, FieldValue};
use crate::syntax::Kind;
use crate::text::Span;
use crate::vocabulary::{Fact, OfKind, To, record, setup};

/// Words above a heading, and the places they speak of.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Lens {
    /// The heading.
    pub span: Span,
    /// `3 setups`
    pub title: String,
    /// Where the item is named; the heading of a setup that names it through another.
    pub places: Vec<Place>,
}

/// Above an item with facts that are still open: how many are known, and which is next.
pub fn progress(book: &Book, file: FileId) -> Vec<Lens> {
    let lens = |(item, progress): (&Block, Progress)| {
        let places = progress.spans().map(|span| Place { file, span }).collect();
        Lens { span: item.heading, title: progress.words(), places }
    };
    progress::of_file(book, file).map(lens).collect()
}

/// The lenses of a file: how many setups use each rotor, machine, arbor and set of masses, how many records and other
/// setups each setup.
pub fn lenses(book: &Book, file: FileId) -> Vec<Lens> {
    let items = &book.file(file).sheet.items;
    if !items.iter().any(|item| is_used(item.kind)) {
        return Vec::new();
    }
    let uses = Uses::of(book, file);
    let lenses = items.iter().enumerate().filter(|(_, item)| is_used(item.kind)).flat_map(|(index, item)| {
        let id = ItemId { file, index: index as u32 };
        uses.lenses(id, item)
    });
    lenses.collect()
}

fn is_used(kind: Kind) -> bool {
    matches!(kind, Kind::Rotor | Kind::Machine | Kind::Arbor | Kind::Masses | Kind::Setup)
}

/// What names an item.
#[derive(Clone, Copy, PartialEq, Eq, Hash)]
enum By {
    Item(Kind),
    /// A setup that has facts from this one.
    SetupLikeIt,
    /// A rotor that this one is a part of.
    Assembly,
}

/// The places that name the items of one file, by the item and by what names it.
struct Uses(FxHashMap<(ItemId, By), Vec<Place>>);

impl Uses {
    fn of(book: &Book, file: FileId) -> Self {
        let mut uses = Self(FxHashMap::default());
        for id in book.items() {
            let item = book.item(id);
            match item.kind {
                Kind::Setup => {
                    uses.name(book, file, (id, item), setup::ARBOR, SETUP);
                    uses.name(book, file, (id, item), setup::MASSES, SETUP);
                    uses.name(book, file, (id, item), setup::LIKE, By::SetupLikeIt);
                    uses.owners(book, file, id, item);
                }
                Kind::Record => uses.name(book, file, (id, item), record::SETUP, RECORD),
                Kind::Rotor => uses.parts(book, file, id, item),
                _ => {}
            }
        }
        uses
    }

    fn name<B: OfKind>(&mut self, book: &Book, file: FileId, (id, item): (ItemId, &Block), fact: Fact<To<B>>, by: By) {
        let Some(field) = item.field(fact) else { return };
        let FieldValue::Name(name) = &field.value else { return };
        let found = book.find(B::KIND, &name.text).ok().filter(|found| found.file == file);
        found.into_iter().for_each(|found| self.push(found, by, Place { file: id.file, span: name.span }));
    }

    /// Rotor and machine of a setup, which it may have from the one it is like.
    fn owners(&mut self, book: &Book, file: FileId, id: ItemId, item: &Block) {
        let owners = Owners::new(book, id);
        for (found, key) in [(owners.rotor, setup::ROTOR.any()), (owners.machine, setup::MACHINE.any())] {
            let span = match item.field(key).map(|field| &field.value) {
                Some(FieldValue::Name(name)) => name.span,
                _ => item.heading,
            };
            if let Some(found) = found.filter(|found| found.file == file) {
                self.push(found, SETUP, Place { file: id.file, span });
            }
        }
    }

    fn parts(&mut self, book: &Book, file: FileId, id: ItemId, item: &Block) {
        for name in item.inner(Kind::MadeOf).filter_map(|part| part.name.as_ref()) {
            let found = book.find(Kind::Rotor, &name.text).ok().filter(|found| found.file == file);
            found
                .into_iter()
                .for_each(|found| self.push(found, By::Assembly, Place { file: id.file, span: name.span }));
        }
    }

    fn push(&mut self, used: ItemId, by: By, place: Place) {
        self.0.entry((used, by)).or_default().push(place);
    }

    fn lenses(&self, id: ItemId, item: &Block) -> Vec<Lens> {
        let by: &[By] = match item.kind {
            Kind::Rotor => &[SETUP, By::Assembly],
            Kind::Setup => &[RECORD, By::SetupLikeIt],
            _ => &[SETUP],
        };
        let lens = |(n, by): (usize, &By)| {
            let places = self.0.get(&(id, *by)).cloned().unwrap_or_default();
            // That nobody uses it is said once.
            (n == 0 || !places.is_empty()).then(|| Lens { span: item.heading, title: by.counted(places.len()), places })
        };
        by.iter().enumerate().filter_map(lens).collect()
    }
}

const SETUP: By = By::Item(Kind::Setup);
const RECORD: By = By::Item(Kind::Record);

impl By {
    fn counted(self, count: usize) -> String {
        let (one, several) = match self {
            Self::Item(kind) => (kind.words(), format!("{kind}s")),
            Self::SetupLikeIt => ("setup like it", "setups like it".to_owned()),
            Self::Assembly => ("assembly", "assemblies".to_owned()),
        };
        match count {
            0 => format!("no {several}"),
            1 => format!("1 {one}"),
            _ => format!("{count} {several}"),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::lenses;
    use super::progress;
    use crate::ide::testing::{SETUP, SHOP, fixture};

    fn shown(text: &str) -> Vec<String> {
        let fixture = fixture(text);
        let lenses = lenses(&fixture.book, fixture.file);
        lenses.iter().map(|lens| format!("{}: {}", lens.span.of(fixture.text()), lens.title)).collect()
    }

    #[test]
    fn setups_are_counted_also_those_that_have_the_rotor_from_another() {
        let like = "#! setups/x.rotor\nsetup x {\n  like: \"wheel on the soft bench\"\n}\n";
        let pair = "#! rotors/pair.rotor\nrotor pair {\n  made of wheel {\n  }\n}\n";
        let cursor = |at: &str| SHOP.replace(at, &format!("{at}$0"));
        let text = |at: &str| format!("{}{SETUP}}}\n{like}{pair}", cursor(at));
        assert_eq!(shown(&text("rotor wheel")), ["rotor wheel: 2 setups", "rotor wheel: 1 assembly"]);
        assert_eq!(shown(&text("machine \"soft bench\"")), ["machine \"soft bench\": 2 setups"]);
        assert_eq!(shown(&text("masses \"brass set\"")), ["masses \"brass set\": no setups"]);
    }

    #[test]
    fn what_is_still_missing_is_counted() {
        let text =
            "setup x {\n  rotor: a\n  balancing speed: ?\n  calibrate hub {\n    mass: ?\n    radius: 3 mm\n  }\n}\n";
        let fixture = fixture(text);
        let found = progress(&fixture.book, fixture.file);
        // The machine has no line yet.
        assert_eq!(found[0].title, "2 of 5 known; next: balancing speed");
        assert_eq!(found[0].places.len(), 3);
        let like = format!(
            "{SHOP}{SETUP}}}\nsetup y {{\n  like: \"wheel on the soft bench\"\n  calibrate hub {{\n    mass: ?\n  }}\n}}\n"
        );
        let fixture = super::super::testing::fixture(&like);
        let found = progress(&fixture.book, fixture.file);
        let titles: Vec<&str> = found.iter().map(|lens| &*lens.title).collect();
        assert_eq!(titles, ["1 of 2 known; next: mass of calibrate hub"]);
    }

    #[test]
    fn a_setup_shows_its_records_and_who_is_like_it() {
        let others = "setup y {\n  like: x\n}\nrecord r {\n  setup: x\n}\n";
        let text = format!("setup x$0 {{\n}}\n{others}");
        assert_eq!(shown(&text), ["setup x: 1 record", "setup x: 1 setup like it", "setup y: no records"]);
    }
}
