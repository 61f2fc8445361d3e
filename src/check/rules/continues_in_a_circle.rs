use crate::book::continued;
use crate::check::{ItemContext, Sink};
use crate::vocabulary::record;

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(field) = context.effective().field(record::CONTINUES) else { return };
    let mut seen = vec![context.id];
    let mut at = context.id;
    while let Some(before) = continued(context.book(), at) {
        if before == context.id {
            let draft = context.beside(field, "the record goes on with itself, through `continues`");
            return sink.report(draft.help("`continues` names the record of the work before: put right which that is"));
        }
        // A circle further on is said of the records in it.
        if seen.contains(&before) {
            return;
        }
        seen.push(before);
        at = before;
    }
}
