use crate::check::{Draft, Slip};

pub(super) fn say(slip: &Slip<'_>) -> Draft {
    slip.say(
        format!("`{}` begins with a decimal point", slip.shown()),
        "a zero before the point keeps it from being overlooked",
    )
}
