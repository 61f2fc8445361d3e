use crate::check::{Draft, Slip};

pub(super) fn say(slip: &Slip<'_>) -> Draft {
    let message = match slip.found().starts_with('\\') {
        true => "`\\\"` ends the text: a backslash is a character like any other",
        false => "a quote inside this text ends it",
    };
    slip.say(message, "a quote inside a text is written twice")
}
