use crate::book::continued;
use crate::check::{ItemContext, Sink};
use crate::vocabulary::record;

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(field) = context.effective().field(record::CONTINUES) else { return };
    let mut seen = vec![context.id];
    let mut at = context.id;
    while let Some(before) = continued(context.book(), at) {
        if before == context.id {
            let draft = context.beside(field, "the chain of `continues` leads back to this record");
            return sink.report(draft.help("`continues` names the record of the earlier work; correct the name"));
        }
        // A circle further on is said of the records in it.
        if seen.contains(&before) {
            return;
        }
        seen.push(before);
        at = before;
    }
}
