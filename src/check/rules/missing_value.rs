use crate::check::slip::shown;
use crate::check::{Draft, Slip};

pub(super) fn say(slip: &Slip<'_>) -> Draft {
    if slip.edit().is_some() {
        return slip.say("a value is missing at this comma", "or write the value that belongs there");
    }
    let head = slip.line().trim_end_matches([':', '=', '>', ' ', '\t']);
    let found = slip.shown();
    let message = match found.is_empty() {
        true => format!("`{}` has no value", shown(head)),
        false => format!("`{found}` is no value"),
    };
    let help = match slip.wanted() {
        Some(wanted) => format!("{wanted}; while it is not known, write `?`"),
        None => "while the value is not known, write `?`".to_owned(),
    };
    // There is nothing to point at where nothing stands.
    let place = if found.is_empty() { slip.from_line_start() } else { slip.span() };
    slip.context().draft(place, message).help(help)
}
