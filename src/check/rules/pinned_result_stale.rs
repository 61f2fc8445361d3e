use crate::check::pins::{PinState, pins};
use crate::check::{ItemContext, Sink};
use crate::text::Edit;

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    for (pin, state) in pins(context) {
        let PinState::Stale { computed, refreshed, remark } = state else { continue };
        let written = context.text(context.id.file, pin.value_span);
        let message = format!("`{}` is pinned as {written}, but the facts give {computed}{remark}", pin.name);
        sink.report(
            context
                .draft(pin.value_span, message)
                .help(format!(
                    "find the fact that moved it, then write `{} => {refreshed}`",
                    context.text(context.id.file, pin.head)
                ))
                .fix(format!("Write `{refreshed}`"), Edit::replace(pin.value_span, refreshed))
                .weighing(context.by_status()),
        );
    }
}
