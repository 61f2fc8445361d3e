use crate::check::pins::{ITEMS_WITH_PINS, PinState, pins};
use crate::check::placing::without_line;
use crate::check::{ItemContext, Rule, Run, Severity, Sink};

pub static RULE: Rule = Rule {
    code: "pin-not-computed",
    severity: Severity::Error,
    title: "A pinned result cannot be worked out",
    page: include_str!("pin_not_computed.md"),
    run: Run::Item(ITEMS_WITH_PINS, judge),
};

fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
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
