use crate::book::{Book, ItemId};
use crate::check::{ItemContext, Sink, references, wording};
use crate::sheet::NameAt;
use crate::syntax::Kind;

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    if !context.computing.is_in_a_circle(context.id) {
        return;
    }
    let book = context.book();
    for (name, needed) in needs(book, context.id) {
        let Some(way) = way_back(book, needed, context.id, &mut Vec::new()) else { continue };
        let own = wording::quoted(context.block.name_text());
        let message = match needed == context.id {
            true => format!("{own} is made or scaled from itself"),
            false => {
                let through: Vec<String> = way.iter().map(|id| wording::quoted(book.item(*id).name_text())).collect();
                format!("{own} rests on {}, which rests on {own} again", through.join(", which rests on "))
            }
        };
        let draft = context
            .draft(name.span, message)
            .help("a part cannot contain itself: take out one of the `made of` or `scaled from` lines");
        sink.report(
            way.iter()
                .filter(|id| **id != context.id)
                .fold(draft, |draft, id| draft.related(id.file, book.item(*id).heading, "one of the circle")),
        );
    }
}

/// The rotors that a rotor rests on, as its parts or for its tolerance, with the name that says so.
fn needs(book: &Book, id: ItemId) -> Vec<(&NameAt, ItemId)> {
    references::of(book.item(id))
        .into_iter()
        .filter(|reference| reference.kind == Kind::Rotor)
        .filter_map(|reference| Some((reference.name, book.find(Kind::Rotor, &reference.name.text).ok()?)))
        .collect()
}

/// The rotors from `from` on that lead to `to`, `from` first.
fn way_back(book: &Book, from: ItemId, to: ItemId, seen: &mut Vec<ItemId>) -> Option<Vec<ItemId>> {
    if from == to {
        return Some(Vec::new());
    }
    if seen.contains(&from) {
        return None;
    }
    seen.push(from);
    let rest = needs(book, from).into_iter().find_map(|(_, next)| way_back(book, next, to, seen))?;
    Some(std::iter::once(from).chain(rest).collect())
}
