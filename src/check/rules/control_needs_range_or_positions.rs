use crate::check::{ItemContext, Sink};
use crate::syntax::Kind;
use crate::vocabulary::AnyFact;
use crate::vocabulary::control::{self, Taken};

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    if !context.is_read_whole() {
        return;
    }
    for control in context.effective().inner(Kind::Control) {
        const VALUES: [AnyFact; 3] = [control::RANGE.any(), control::POSITIONS.any(), control::POSITION.any()];
        if control.choice(control::TAKES) == Some(Taken::Layout) && control.field(control::POSITION).is_none() {
            let message = format!("control \"{}\" takes the layout, but has no position for any", control.name_text());
            let help = "write a line for each of its positions, such as `position 1: planes between supports`";
            sink.report(context.on_heading(control, message).help(help));
            continue;
        }
        if VALUES.iter().any(|fact| control.field(*fact).is_some()) {
            continue;
        }
        let message = format!("control \"{}\" has neither a range nor positions", control.name_text());
        let help = "write `range: 0 to 100` for a dial, `positions: off, on` for a switch: then a setting that it \
                    does not have is found";
        sink.report(context.on_heading(control, message).help(help));
    }
}
