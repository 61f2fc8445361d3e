use crate::check::{Draft, Slip};
use crate::text::Edit;

pub(super) fn say(slip: &Slip<'_>) -> Draft {
    let found = slip.found();
    let message = match found.bytes().all(|byte| matches!(byte, b'}' | b' ' | b'\t')) {
        true => format!("`{}` is on the line of something else", slip.shown()),
        false => format!("`{}` is on the line of a `}}`", slip.shown()),
    };
    if slip.edit().is_some() {
        return slip.say(message, ADVICE);
    }
    let draft = slip.draft(message);
    match found {
        ";" | "," | "." => slip.offer(draft.help("write `}` alone"), Edit::delete(slip.span())),
        _ if found.contains([':', '=', '{', '}']) => draft.help(ADVICE),
        _ => {
            let remark = Edit::insert(slip.span().start, "# ");
            slip.offer(draft.help("a remark begins with `#`"), remark)
        }
    }
}

const ADVICE: &str = "a `}` goes on a line of its own";
