use crate::check::{Draft, Slip};

pub(super) fn say(slip: &Slip<'_>) -> Draft {
    slip.say("this comma has no space after it", "a comma and a space separate the values of a list")
}
