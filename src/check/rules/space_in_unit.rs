use crate::check::behind_value::second_fact;
use crate::check::{Draft, Slip};
use crate::text::Edit;
use crate::units::Unit;

pub(super) fn say(slip: &Slip<'_>) -> Draft {
    let found = slip.found();
    if slip.edit().and_then(|edit| slip.found_with(&edit)).is_some_and(|unit| Unit::parse(&unit).is_ok()) {
        return slip.say(format!("`{}` is a unit with a space in it", slip.shown()), "`·`, `*` and `.` join units");
    }
    if let Some(line) = second_fact(slip) {
        return slip.say_with(format!("`{}` is not a unit", slip.shown()), "a line has one fact", line);
    }
    let wanted = slip.wanted().unwrap_or_else(|| "`·`, `*` and `.` join units".to_owned());
    let draft = slip.draft(format!("`{}` is not a unit", slip.shown()));
    let draft = draft.help(format!("{wanted}; a remark after it begins with `#`"));
    match found.split_once(' ').filter(|(unit, _)| Unit::parse(unit).is_ok() && slip.behind().trim().is_empty()) {
        Some((unit, _)) => {
            let remark = slip.span().start + unit.len() as u32 + 1;
            slip.offer(draft, Edit::insert(remark, "# "))
        }
        None => draft,
    }
}
