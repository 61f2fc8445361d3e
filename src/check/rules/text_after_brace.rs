use crate::check::{Draft, Slip};

pub(super) fn say(slip: &Slip<'_>) -> Draft {
    let message = format!("`{}` is on the line that opens the block", slip.shown());
    slip.say(message, "the line ends with its `{`: facts and `}` are below, one a line")
}
