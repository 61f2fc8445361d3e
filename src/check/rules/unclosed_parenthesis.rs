use crate::check::{Draft, Slip};

pub(super) fn say(slip: &Slip<'_>) -> Draft {
    match slip.found() {
        ")" => slip.say("this `)` closes nothing", ""),
        _ if slip.edit().is_none() => slip
            .draft("this `(` is not closed")
            .help("write `)` where it is meant to close: each place gives a different number"),
        _ => slip.say("this `(` is not closed", ""),
    }
}
