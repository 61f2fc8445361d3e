use crate::check::{Draft, Slip};

pub(super) fn say(slip: &Slip<'_>) -> Draft {
    match slip.found() {
        ")" => slip.say("this `)` closes nothing", ""),
        _ => slip.say("this `(` is not closed", ""),
    }
}
