use crate::check::{ItemContext, Sink};
use crate::sheet::FieldValue;
use crate::vocabulary::setup;

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    if !context.is_released() || !context.is_read_whole() {
        return;
    }
    let Some(status) = context.block.field(setup::STATUS) else { return };
    let message = "the sheet is released, but it has no revision";
    let help = "write the revision that is printed on the card, such as `revision: \"A\"`";
    match context.block.field(setup::REVISION) {
        None => {
            let draft = context.draft(status.value_span, message).help(help);
            sink.report(draft.offer(context, &["revision: \"A\""]));
        }
        Some(field) if matches!(&field.value, FieldValue::Text(text) if text.trim().is_empty()) => {
            sink.report(context.draft(field.value_span, message).help(help));
        }
        Some(_) => {}
    }
}
