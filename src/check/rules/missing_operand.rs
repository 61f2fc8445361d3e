use crate::check::{Draft, Slip};

pub(super) fn say(slip: &Slip<'_>) -> Draft {
    let found = slip.found();
    let message = match found {
        "+" if slip.edit().is_some() => "a `+` before a number says nothing".to_owned(),
        "-" if slip.edit().is_some() => "there is a space between the `-` and its number".to_owned(),
        _ if found.starts_with(char::is_alphabetic) => format!("`{}` has no number before it", slip.shown()),
        _ => format!("`{}` has nothing to work on", slip.shown()),
    };
    let advice = match found {
        _ if slip.edit().is_some() => "",
        "@" => "a reading is an amount at an angle, as in `14.2 div @ 310 deg`",
        "+" | "-" | "*" | "/" => "an operator goes between two amounts, as in `268.4 mm / 2`",
        _ => "write its number, as in `134.2 mm`",
    };
    slip.say(message, advice)
}
