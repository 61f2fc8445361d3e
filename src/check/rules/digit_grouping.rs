use crate::check::{Draft, Slip};

pub(super) fn say(slip: &Slip<'_>) -> Draft {
    let message = format!("`{}` has its thousands set apart", slip.shown());
    slip.say(message, "the digits of a number stand together")
}
