use crate::check::behind_value::second_fact;
use crate::check::{Draft, Rule, Run, Severity, Lapse};
use crate::syntax::SyntaxErrorKind;
use crate::text::Edit;
use crate::units::Unit;

pub static RULE: Rule = Rule {
    code: "space-in-unit",
    severity: Severity::Error,
    title: "A space stands inside a unit",
    page: include_str!("space_in_unit.md"),
    run: Run::Syntax(SyntaxErrorKind::SpaceInUnit, say),
};

fn say(lapse: &Lapse<'_>) -> Draft {
    let found = lapse.found();
    if lapse.edit().and_then(|edit| lapse.found_with(&edit)).is_some_and(|unit| Unit::parse(&unit).is_ok()) {
        return lapse.say(format!("`{}` is a unit with a space in it", lapse.shown()), "`·`, `*` and `.` join units");
    }
    if let Some(line) = second_fact(lapse) {
        return lapse.say_with(format!("`{}` is no unit", lapse.shown()), "a line has one fact", line);
    }
    let wanted = lapse.wanted().unwrap_or_else(|| "`·`, `*` and `.` join units".to_owned());
    let draft = lapse.draft(format!("`{}` is no unit", lapse.shown()));
    let draft = draft.help(format!("{wanted}; a remark behind it begins with `#`"));
    match found.split_once(' ').filter(|(unit, _)| Unit::parse(unit).is_ok() && lapse.behind().trim().is_empty()) {
        Some((unit, _)) => {
            let remark = lapse.span().start + unit.len() as u32 + 1;
            lapse.offer(draft, Edit::insert(remark, "# "))
        }
        None => draft,
    }
}
