use crate::check::{Draft, Slip};

pub(super) fn say(slip: &Slip<'_>) -> Draft {
    let message = match slip.found() {
        "g" => "the small `g` is the gram, not the letter of a grade".to_owned(),
        _ => format!("`{}` is not how a grade is written", slip.shown()),
    };
    slip.say(message, "a grade is a capital `G`, a space and a number")
}
