use crate::check::slip::shown;
use crate::check::{Draft, Slip};
use crate::text::Edit;

pub(super) fn say(slip: &Slip<'_>) -> Draft {
    let opened = slip.line_number(slip.span().start);
    let block = slip.block().filter(|block| block.heading.start <= slip.span().start && block.body >= slip.span().end);
    let place = block.filter(|_| slip.span().is_empty()).map_or(slip.span(), |block| block.heading);
    let draft = slip.context().draft(place, format!("`{}` has no `}}` that closes it", shown(slip.line())));
    let Some(block) = block else {
        return draft.help(format!("it was opened on line {opened}: write `}}` on a line of its own where it ends"));
    };
    let last = slip.line_number(block.span.end);
    let help = format!("it was opened on line {opened}: write `}}` on a line of its own below line {last}");
    let closing = Edit::insert(block.span.end, format!("\n{}}}", slip.indent()));
    draft.help(help).fix(format!("Close it below line {last}"), closing)
}
