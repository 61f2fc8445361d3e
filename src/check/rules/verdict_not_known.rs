use crate::book::{DoesNotCount, Judged, Missing, is_read_whole, why};
use crate::check::{ItemContext, Sink, wording};
use crate::vocabulary::run;

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(verdict) = context.record().and_then(|record| record.verdict.as_ref()) else { return };
    // Other reasons for which readings do not count have diagnostics of their own.
    if verdict.does_not_count.is_empty() || verdict.does_not_count.iter().any(|one| one.why != DoesNotCount::NotKnown) {
        return;
    }
    let mut missing: Vec<&Missing> = Vec::new();
    for lacking in verdict.judged.iter().filter(|judged| judged.verdict.is_none()).filter_map(lacks) {
        // A seat without the zero of its angles has a diagnostic of its own.
        if lacking.origin.name != run::ANGLES_FROM.words() && !missing.contains(&lacking) {
            missing.push(lacking);
        }
    }
    // What cannot be read has been told where it is, or may be in a line that could not.
    let is_told = |one: &&Missing| one.is_reported() || !is_read_whole(context.book(), one.origin.item);
    let Some(first) = missing.first().filter(|_| !missing.iter().any(is_told)) else { return };
    let mut words: Vec<String> = missing.iter().map(|one| why(context.book(), one)).collect();
    words.dedup();
    let message = format!("nothing can be said of this rotor: {}", wording::and_list(&words));
    let draft = context
        .draft(context.block.heading, message)
        .help("state what is missing; until then the verdict stays \"not shown\"");
    let item = first.origin.item;
    sink.report(match item == context.id {
        true => draft,
        false => draft.related(item.file, context.book().item(item).heading, "it is looked for here"),
    });
}

/// What one place lacks of all that its verdict needs.
fn lacks(judged: &Judged) -> Option<&Missing> {
    judged.lacks().map(|missing| &**missing)
}
