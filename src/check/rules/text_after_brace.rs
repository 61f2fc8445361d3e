use crate::check::{Draft, Slip};

pub(super) fn say(slip: &Slip<'_>) -> Draft {
    let message = format!("`{}` stands on the line that opens the block", slip.shown());
    slip.say(message, "the line ends with its `{`: facts and `}` stand below, one a line")
}
