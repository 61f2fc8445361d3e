use crate::check::{Draft, Slip};
use crate::text::{Edit, Span};
use crate::units;

pub(super) fn say(slip: &Slip<'_>) -> Draft {
    let found = slip.found();
    let message = format!("`{}` has a mark for its unit", slip.shown());
    if slip.edit().is_some() {
        return slip.say(message, "inches are `in`");
    }
    match feet_and_inches(found, slip.behind()) {
        Some((inches, length)) => {
            let place = Span::new(slip.span().start, slip.span().end + length);
            let edit = Edit::replace(place, format!("{} in", units::plainly(inches)));
            slip.say_with(message, "feet are written as inches, twelve to the foot", edit)
        }
        None => slip.draft(message).help("lengths are written in mm, m, µm, in or mil"),
    }
}

/// `5'`, `5' 6"`: the length in inches, and how much of what is `behind` the feet belongs to it.
fn feet_and_inches(feet: &str, behind: &str) -> Option<(f64, u32)> {
    let feet = feet.trim_end_matches(['\'', '’', '′']).parse::<f64>().ok()?;
    let rest = behind.trim();
    if rest.is_empty() {
        return Some((feet * 12.0, 0));
    }
    let inches = rest.strip_suffix(['"', '″', '”'])?.parse::<f64>().ok()?;
    Some((feet * 12.0 + inches, behind.trim_end().len() as u32))
}
