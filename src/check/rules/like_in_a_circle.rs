use crate::book::{Book, ItemId, LikesEnd, likes};
use crate::check::{ItemContext, Sink, wording};
use crate::vocabulary::setup;

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let book = context.book();
    let Some(circle) = circle(book, context.id) else { return };
    let Some(like) = context.block.field(setup::LIKE) else { return };
    let name = |id: &ItemId| wording::quoted(book.item(*id).name_text());
    let message = match &circle[..] {
        [] => format!("{} is said to be like itself", name(&context.id)),
        others => {
            let through: Vec<String> = others.iter().map(name).collect();
            format!("{} is like {}, which leads back to it", name(&context.id), through.join(", like "))
        }
    };
    let draft = context
        .draft(like.value_span, message)
        .help("one setup of the circle states all its own facts: take `like` out there");
    let followers = circle.iter().skip(1).chain(std::iter::once(&context.id));
    sink.report(circle.iter().zip(followers).fold(draft, |draft, (id, next)| {
        let place = book.item(*id).field(setup::LIKE).map_or(book.item(*id).heading, |field| field.value_span);
        draft.related(id.file, place, format!("{} is like {}", name(id), name(next)))
    }));
}

/// The setups through which `like` leads from this one back to it; `None` when it does not.
fn circle(book: &Book, id: ItemId) -> Option<Vec<ItemId>> {
    let likes = likes(book, id);
    (likes.end == LikesEnd::Circle(id)).then(|| likes.links.iter().map(|link| link.to).collect())
}
