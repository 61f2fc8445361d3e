use crate::check::{Draft, Slip};

pub(super) fn say(slip: &Slip<'_>) -> Draft {
    let letter = slip.found().chars().find(|c| c.is_alphabetic()).unwrap_or('O');
    slip.say(
        format!("the letter `{letter}` is among the digits of `{}`", slip.shown()),
        "a number has digits and one point",
    )
}
