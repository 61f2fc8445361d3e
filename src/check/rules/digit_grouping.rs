use crate::check::{Draft, Slip};

pub(super) fn say(slip: &Slip<'_>) -> Draft {
    let message = format!("`{}` has its digits in groups", slip.shown());
    slip.say(message, "the digits of a number have nothing between them")
}
