use crate::check::{Draft, Slip};
use crate::units::Unit;

pub(super) fn say(slip: &Slip<'_>) -> Draft {
    let unit = slip.found().trim_start_matches(|c: char| c.is_ascii_digit() || "+-.".contains(c));
    // `2nd plane`: no number with its unit at all.
    if Unit::parse(unit).is_err() && slip.behind().starts_with(' ') {
        let wanted = slip.wanted().unwrap_or_else(|| "a number has a space and a unit after it".to_owned());
        return slip.draft(format!("`{}` is not a number with a unit", slip.shown())).help(wanted);
    }
    slip.say(format!("`{}` has no space before its unit", slip.shown()), "")
}
