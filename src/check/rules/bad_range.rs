use crate::check::slip::shown;
use crate::check::{Draft, Slip};
use crate::text::Edit;

pub(super) fn say(slip: &Slip<'_>) -> Draft {
    let value = slip.value().unwrap_or_else(|| slip.found());
    if !slip.takes_range() {
        let wanted = slip.wanted().unwrap_or_else(|| FORMS.to_owned());
        return slip.draft(format!("`{}` is a range", shown(value))).help(wanted);
    }
    let Some(edit) = slip.edit() else {
        return slip
            .draft(match value.matches(" to ").count() > 1 {
                true => "a range has two ends, and here a third follows".to_owned(),
                false => format!("nothing follows `{}`", slip.shown()),
            })
            .help(FORMS);
    };
    let message = match slip.found() {
        "from" => "a range with two ends has no `from`".to_owned(),
        word if word.starts_with("to ") => "this range has no lower end".to_owned(),
        _ => format!("`{}` is not how a range is written", shown(value)),
    };
    slip.say_with(message, FORMS, both_with_unit(slip, &edit).unwrap_or(edit))
}

const FORMS: &str = "a range is `low to high`, `up to high` or `from low`";

/// `3-5 mm`: the unit belongs to both ends.
fn both_with_unit(slip: &Slip<'_>, edit: &Edit) -> Option<Edit> {
    let reads = slip.value_reads(edit)?;
    let (low, high) = reads.split_once(" to ")?;
    let (_, unit) = high.trim().split_once(' ')?;
    let bare = low.parse::<f64>().is_ok() && !unit.contains([' ', ',']);
    let value = slip.fact()?.value_span;
    bare.then(|| Edit::replace(value, format!("{low} {unit} to {high}")))
}
