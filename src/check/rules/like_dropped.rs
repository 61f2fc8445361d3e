use crate::book::{Dropped, ItemId, likes};
use crate::check::{ItemContext, Sink, names, wording};
use crate::sheet::Field;
use crate::vocabulary::setup;

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(like) = context.block.field(setup::LIKE) else { return };
    for dropped in context.dropped() {
        let heads = wording::and_list(&names::in_backticks(&dropped.heads));
        let are = if dropped.heads.len() == 1 { "is" } else { "are" };
        let message = format!("{heads} {are} not taken over, because {}", differences(context, dropped));
        sink.report(
            context.draft(like.value_span, message).help(
                "they hold for one rotor on one machine at one speed: find them for this setup and state them here",
            ),
        );
    }
}

/// "`machine` is `"hard bench"` here and `"soft bench"` there"
fn differences(context: &ItemContext<'_, '_>, dropped: &Dropped) -> String {
    let parents: Vec<ItemId> = likes(context.book(), context.id).links.iter().map(|link| link.to).collect();
    let each: Vec<String> = dropped
        .because
        .iter()
        .map(|key| difference(context, key, &parents).unwrap_or_else(|| format!("`{key}` differs")))
        .collect();
    each.join(", ")
}

/// The first fact of a key that one of the parents gives otherwise.
fn difference(context: &ItemContext<'_, '_>, key: &str, parents: &[ItemId]) -> Option<String> {
    let facts = context.effective().fields.iter().filter(|field| field.field.key.name == key);
    facts.into_iter().find_map(|field| {
        let here = context.text(field.item.file, field.field.value_span);
        let head = wording::shown(context.text(field.item.file, field.field.head));
        let there = parents.iter().find_map(|id| {
            let same = |other: &&Field| other.key.name == key && other.name_text() == field.field.name_text();
            let other = context.book().item(*id).fields.iter().find(same)?;
            Some(context.text(id.file, other.value_span)).filter(|there| *there != here)
        })?;
        Some(format!("{head} is {} here and {} there", wording::shown(here), wording::shown(there)))
    })
}
