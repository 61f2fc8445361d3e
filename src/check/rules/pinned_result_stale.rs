use crate::check::pins::{PinState, pins};
use crate::check::{ItemContext, Sink};
use crate::syntax::Kind;
use crate::text::{Edit, Span};

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    // What a calibration says follows from another one as soon as it is void, and that is said where it is.
    let is_void = context.setup().is_some_and(|setup| !setup.void_causes.is_empty());
    let calibrated: Vec<Span> = context.block.inner(Kind::Calibrate).map(|block| block.span).collect();
    let is_echo = |at: Span| is_void && calibrated.iter().any(|block| block.start <= at.start && at.end <= block.end);
    for (pin, state) in pins(context).into_iter().filter(|(pin, _)| !is_echo(pin.value_span)) {
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
