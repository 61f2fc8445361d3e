use crate::check::{Draft, Slip, wording};

pub(super) fn say(slip: &Slip<'_>) -> Draft {
    let character = slip.found().chars().next().unwrap_or(' ');
    let message = format!("this line holds {} where only a plain space parts words", wording::character(character));
    slip.say(message, "such characters come along when text is copied from elsewhere")
}
