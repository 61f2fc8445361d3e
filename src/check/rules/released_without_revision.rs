use crate::check::{ItemContext, Sink};
use crate::vocabulary::setup;

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    if !context.is_released() || context.block.field(setup::REVISION).is_some() || !context.is_read_whole() {
        return;
    }
    let Some(status) = context.block.field(setup::STATUS) else { return };
    sink.report(
        context
            .draft(status.value_span, "the sheet is released, but it has no revision")
            .help("write the revision that is printed on the card, such as `revision: \"A\"`")
            .offer(context, &["revision: \"A\""]),
    );
}
