use crate::check::{Draft, Slip};

pub(super) fn say(slip: &Slip<'_>) -> Draft {
    let quote = slip.found().chars().next().unwrap_or('“');
    slip.say(format!("`{quote}` is not a plain quote"), "the quote is the plain `\"` at both ends")
}
