use crate::check::{Draft, Slip};

pub(super) fn say(slip: &Slip<'_>) -> Draft {
    let message = match slip.found() {
        "{" => "the `{` is on the line below its heading".to_owned(),
        ":" => "the heading of a block has a colon".to_owned(),
        _ => format!("`{}` has facts below it but no `{{`", slip.shown()),
    };
    slip.say(message, "a heading is the kind of block, its name and `{`, on one line")
}
