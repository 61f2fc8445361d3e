use crate::check::behind_value::{
    as_remark, limits_before_unit, next_of_list, range_of, rest_of_reading, second_fact, sum_of_units,
};
use crate::check::{Draft, Slip};
use crate::text::Edit;

pub(super) fn say(slip: &Slip<'_>) -> Draft {
    let found = slip.found();
    let message = format!("unexpected text after the value: `{}`", slip.shown());
    if matches!(found, ";" | "." | "," | "]" | "}") {
        let edit = Edit::delete(slip.span());
        return slip.offer(slip.draft(message).help("a line ends with its value"), edit);
    }
    let meant = [
        (second_fact(slip), "a line has one fact"),
        (rest_of_reading(slip), "a reading is an amount, then `on` and its scale, then `@` and its angle"),
        (range_of(slip), "a range begins with `up to` or `from`"),
        (next_of_list(slip), "values of a list are parted by a comma and a space"),
        (sum_of_units(slip), "amounts in two units are added"),
        (limits_before_unit(slip), "the value and its limits each have the unit"),
        (slip.edit(), ""),
    ];
    if let Some((edit, advice)) = meant.into_iter().find_map(|(edit, advice)| Some((edit?, advice))) {
        return slip.say_with(message, advice, edit);
    }
    let wanted = slip.wanted().unwrap_or_else(|| "a line has one value".to_owned());
    let draft = slip.draft(message).help(format!("{wanted}; a remark after it begins with `#`"));
    match as_remark(slip) {
        Some(edit) => slip.offer(draft, edit),
        None => draft,
    }
}
