use crate::check::pins::{PinState, pins};
use crate::check::{ItemContext, Sink};
use crate::text::Edit;

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    for (pin, state) in pins(context) {
        let PinState::WrongDimension { found, computed, refreshed } = state else { continue };
        let written = context.text(context.id.file, pin.value_span);
        let message = format!("`{}` is pinned as {written}, which is {found}, but the result is {computed}", pin.name);
        sink.report(
            context
                .draft(pin.value_span, message)
                .help(format!("write `{} => {refreshed}`", context.text(context.id.file, pin.head)))
                .fix(format!("Write `{refreshed}`"), Edit::replace(pin.value_span, refreshed))
                .weighing(context.by_status()),
        );
    }
}
