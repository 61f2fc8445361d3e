use crate::check::{ItemContext, Sink};
use crate::syntax::Kind;
use crate::vocabulary::control;

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    if !context.is_read_whole() {
        return;
    }
    for control in context.effective().inner(Kind::Control) {
        if control.field(control::RANGE).is_some() || control.field(control::POSITIONS).is_some() {
            continue;
        }
        let message = format!("control \"{}\" has neither a range nor positions", control.name_text());
        let help = "write `range: 0 to 100` for a dial, `positions: off, on` for a switch: then a setting that it \
                    does not have is found";
        sink.report(context.on_heading(control, message).help(help));
    }
}
