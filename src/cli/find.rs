//! Items by name, in the books that the command line means.

use clap::ValueEnum;
use clap::builder::PossibleValue;

use super::load::{self, Loaded};
use super::{Failure, Session, paths};
use crate::book::{Computing, ItemId};
use crate::card::{self, Coded};
use crate::sheet::nearest;
use crate::syntax::Kind;

/// A kind of item, as the command line names it.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) struct ItemKind(pub Kind);

/// The kinds of items, in the order of [`Kind::ALL`].
const ITEMS: [ItemKind; 8] = [
    ItemKind(Kind::Shop),
    ItemKind(Kind::Material),
    ItemKind(Kind::Masses),
    ItemKind(Kind::Machine),
    ItemKind(Kind::Arbor),
    ItemKind(Kind::Rotor),
    ItemKind(Kind::Setup),
    ItemKind(Kind::Record),
];

impl ValueEnum for ItemKind {
    fn value_variants<'a>() -> &'a [Self] {
        &ITEMS
    }

    fn to_possible_value(&self) -> Option<PossibleValue> {
        Some(PossibleValue::new(self.0.words()))
    }
}

/// The books in which names are looked up.
pub(super) fn books(session: &Session) -> Result<Vec<Loaded>, Failure> {
    let targets = paths::books(session.book.as_deref())?;
    let books: Vec<Loaded> = targets.iter().map(load::load).collect();
    if books.iter().all(|loaded| loaded.count_asked() == 0) {
        return Err(Failure::new("there is no `.rotor` file here").help("name the folder of a book with --book"));
    }
    Ok(books)
}

/// The one item of this name, and of this kind where one is named.
pub(super) fn item<'l>(
    books: &'l [Loaded],
    name: &str,
    kind: Option<ItemKind>,
) -> Result<(&'l Loaded, ItemId), Failure> {
    let of_kind = |loaded: &Loaded, id: ItemId| kind.is_none_or(|kind| loaded.book.item(id).kind == kind.0);
    let named: Vec<(&Loaded, ItemId)> =
        all(books).filter(|(loaded, id)| of_kind(loaded, *id) && loaded.book.item(*id).name_text() == name).collect();
    match named.as_slice() {
        [] => Err(unknown(books, name, kind)),
        [one] => Ok(*one),
        several => Err(ambiguous(several, name)),
    }
}

/// Every item of the books that has a name.
pub(super) fn all(books: &[Loaded]) -> impl Iterator<Item = (&Loaded, ItemId)> {
    let items = books.iter().flat_map(|loaded| loaded.book.items().map(move |id| (loaded, id)));
    items.filter(|(loaded, id)| loaded.book.item(*id).name.is_some())
}

fn unknown(books: &[Loaded], name: &str, kind: Option<ItemKind>) -> Failure {
    let what = kind.map_or("item", |kind| kind.0.words());
    let failure = Failure::new(format!("the book has no {what} \"{name}\""));
    let other = all(books).find(|(loaded, id)| loaded.book.item(*id).name_text() == name);
    if let Some((loaded, id)) = other {
        return failure.help(format!("it has a {} of this name", loaded.book.item(id).kind));
    }
    let candidates = all(books).filter(|(loaded, id)| kind.is_none_or(|kind| loaded.book.item(*id).kind == kind.0));
    match nearest(name, candidates.map(|(loaded, id)| loaded.book.item(id).name_text())) {
        Some(near) => failure.help(format!("did you mean \"{near}\"?")),
        None => failure.help("`rotorbook list` shows what there is"),
    }
}

fn ambiguous(several: &[(&Loaded, ItemId)], name: &str) -> Failure {
    let mut kinds: Vec<Kind> = several.iter().map(|(loaded, id)| loaded.book.item(*id).kind).collect();
    kinds.dedup();
    let failure = Failure::new(format!("\"{name}\" is the name of several items"));
    if kinds.len() == several.len() {
        let choices: Vec<String> = kinds.iter().map(|kind| format!("--kind {kind}")).collect();
        return failure.help(format!("choose with {}", choices.join(" or ")));
    }
    let places: Vec<String> = several
        .iter()
        .map(|(loaded, id)| format!("{} in {}", loaded.book.item(*id).kind, place(loaded, *id)))
        .collect();
    failure.help(places.join(", "))
}

/// `setups/fan-wheel-315.rotor:12`, as people can open it.
pub(super) fn place(loaded: &Loaded, id: ItemId) -> String {
    let heading = loaded.book.item(id).heading;
    let line = loaded.book.file(id.file).line_index().line_of(heading.start) + 1;
    format!("{}:{line}", loaded.shown(id.file))
}

/// The name of the setup whose card has this code; a card that says something else than the sheet is refused.
pub(super) fn by_code(books: &[Loaded], code: &str) -> Result<Option<String>, Failure> {
    for loaded in books {
        let book = &loaded.book;
        match card::coded(&Computing::new(book), code) {
            Some(Coded::Setup(id)) => return Ok(Some(book.item(id).name_text().to_owned())),
            Some(Coded::OutOfDate(id)) => {
                let name = book.item(id).name_text();
                let failure = Failure::new(format!("the card is out of date: setup \"{name}\" has changed since"));
                return Err(failure.help(format!("print it again: `rotorbook card \"{name}\" -o card.pdf`")));
            }
            None => {}
        }
    }
    Ok(None)
}
