use crate::check::pins::{ITEMS_WITH_PINS, PinState, pins};
use crate::check::{ItemContext, Rule, Run, Severity, Sink};
use crate::text::Edit;

pub static RULE: Rule = Rule {
    code: "pinned-result-stale",
    severity: Severity::Error,
    title: "A pinned result is not what the facts give",
    page: include_str!("pinned_result_stale.md"),
    run: Run::Item(ITEMS_WITH_PINS, judge),
};

fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    for (pin, state) in pins(context) {
        let PinState::Stale { computed, refreshed, remark } = state else { continue };
        let written = context.text(context.id.file, pin.value_span);
        let message = format!("`{}` is pinned as {written}, but the facts give {computed}{remark}", pin.name);
        sink.report(
            context
                .draft(pin.value_span, message)
                .help(format!("find the fact that moved it, then write `{} => {refreshed}`", pin.name))
                .fix(format!("Write `{refreshed}`"), Edit::replace(pin.value_span, refreshed))
                .weighing(context.by_status()),
        );
    }
}
