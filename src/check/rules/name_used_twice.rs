use crate::book::{Book, ItemId};
use crate::check::{Draft, Sink, wording};
use crate::syntax::Kind;

pub(super) fn judge(book: &Book, sink: &mut Sink) {
    for id in book.items() {
        let item = book.item(id);
        let Some(name) = item.name.as_ref().filter(|_| item.kind != Kind::Shop) else { continue };
        let all = book.named(item.kind, &name.text);
        if all.first().is_some_and(|first| *first != id) {
            sink.report(say(book, id, all));
        }
    }
}

/// A name that is in a hundred places needs no list of a hundred.
const MOST_SHOWN: usize = 5;

fn say(book: &Book, id: ItemId, all: &[ItemId]) -> Draft {
    let item = book.item(id);
    let kind = wording::this_kind(item.kind);
    let kind = kind.trim_start_matches("this ");
    let others: Vec<ItemId> = all.iter().copied().filter(|other| *other != id).take(MOST_SHOWN).collect();
    let more = all.len() - 1 - others.len();
    let place = |other: &ItemId| match other.file == id.file {
        true => "this file".to_owned(),
        false => format!("`{}`", book.file(other.file).path),
    };
    let mut places: Vec<String> = others.iter().map(place).collect();
    places.dedup();
    if more > 0 {
        places.push(format!("{more} more places"));
    }
    let message = format!(
        "{} is the name of another {kind} too, in {}",
        wording::quoted(item.name_text()),
        wording::and_list(&places)
    );
    let draft = Draft::new(id.file, item.heading, message)
        .help("give one of them another name; until then none of them is used where the name is written");
    others.iter().fold(draft, |draft, other| {
        draft.related(other.file, book.item(*other).heading, format!("another {kind} of this name"))
    })
}
