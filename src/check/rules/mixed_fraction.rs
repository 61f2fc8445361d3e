use crate::check::{Draft, Slip};

pub(super) fn say(slip: &Slip<'_>) -> Draft {
    if let Some(wanted) = slip.takes_no_number() {
        return slip.draft(format!("`{}` is a fraction", slip.shown())).help(wanted);
    }
    let advice = match slip.edit() {
        Some(_) => "numbers are written with decimals",
        None => "write it with decimals, or as a division with spaces, as in `268.4 mm / 2`",
    };
    slip.say(format!("`{}` is a fraction", slip.shown()), advice)
}
