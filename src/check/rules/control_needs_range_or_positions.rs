use crate::check::{ItemContext, Rule, Run, Severity, Sink};
use crate::syntax::Kind;
use crate::vocabulary::control;

pub static RULE: Rule = Rule {
    code: "control-needs-range-or-positions",
    severity: Severity::Warning,
    title: "A control says neither what its dial shows nor which positions it has",
    page: include_str!("control_needs_range_or_positions.md"),
    run: Run::Item(&[Kind::Machine], judge),
};

fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    if !context.is_read_whole() {
        return;
    }
    for control in context.effective().inner(Kind::Control) {
        if control.field(control::RANGE).is_some() || control.field(control::POSITIONS).is_some() {
            continue;
        }
        let message = format!("control \"{}\" has neither a range nor positions", control.name_text());
        let help = "write `range: 0 to 999` for a dial, `positions: off, on` for a switch: then a setting that it \
                    does not have is found";
        sink.report(context.on_heading(control, message).help(help));
    }
}
