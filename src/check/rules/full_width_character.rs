use crate::check::{Draft, Slip};

pub(super) fn say(slip: &Slip<'_>) -> Draft {
    let character = slip.found().chars().next().unwrap_or(' ');
    let message = format!("`{character}` is a full-width character, and a sheet is written in plain ones");
    slip.say(message, "switch the keyboard to half-width; texts in quotes and remarks may be in any script")
}
