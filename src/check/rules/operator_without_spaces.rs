use crate::check::slip::shown;
use crate::check::{Draft, Slip, amounts};
use crate::text::Edit;

pub(super) fn say(slip: &Slip<'_>) -> Draft {
    if let Some(wanted) = slip.takes_no_number() {
        return slip.draft(format!("`{}` is a calculation", shown(slip.value().unwrap_or_default()))).help(wanted);
    }
    if let Some((range, edit)) = dash_for_range(slip) {
        let message = format!("`{}` is a range with a dash between its ends", shown(slip.value().unwrap_or_default()));
        let help = format!("write `to` between the two ends of a range: `{range}`");
        return slip.offer(slip.draft(message).help(help), edit);
    }
    let unit_behind = slip.behind().starts_with(|c: char| c.is_alphabetic());
    if let (true, "/" | "*", Some(wanted)) = (unit_behind, slip.found(), slip.wanted()) {
        let message = format!("`{}` is between the number and its unit", slip.shown());
        return slip.draft(message).help(format!("a unit follows its number directly: {wanted}"));
    }
    let advice = match slip.found() {
        "*" | "/" => "with spaces it works on two amounts, without them it joins units",
        _ => "",
    };
    let side = if slip.found() == "±" { "before it" } else { "on either side" };
    slip.say(format!("`{}` needs a space {side}", slip.shown()), advice)
}

/// `10 mm-20 mm` where a range is wanted.
fn dash_for_range(slip: &Slip<'_>) -> Option<(String, Edit)> {
    let value = slip.fact().filter(|_| slip.found() == "-" && slip.takes_range())?.value_span;
    let (low, high) = slip.value()?.split_once('-')?;
    let range = amounts::dash_as_range(&format!("{} - {}", low.trim_end(), high.trim_start()))?;
    Some((range.clone(), Edit::replace(value, range)))
}
