use crate::check::pins::{PinState, pins};
use crate::check::placing::without_line;
use crate::check::{ItemContext, Sink};

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    for (pin, state) in pins(context) {
        let PinState::NotComputed { why, reported: false } = state else { continue };
        let written = context.text(context.id.file, pin.value_span);
        sink.report(
            context
                .draft(pin.head, format!("`{}` is pinned as {written}, but it is not computed: {why}", pin.name))
                .help("give what is missing, or take the pin away")
                .fix("Take the pin away", without_line(context.source(), pin.head))
                .weighing(context.by_status()),
        );
    }
}
