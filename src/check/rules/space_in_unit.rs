use crate::check::{Draft, Rule, Run, Severity, Slip};
use crate::syntax::SyntaxErrorKind;
use crate::units::Unit;

pub static RULE: Rule = Rule {
    code: "space-in-unit",
    severity: Severity::Error,
    title: "A space stands inside a unit",
    page: include_str!("space_in_unit.md"),
    run: Run::Syntax(SyntaxErrorKind::SpaceInUnit, say),
};

fn say(slip: &Slip<'_>) -> Draft {
    let message = format!("`{}` is a unit with a space in it", slip.shown());
    let known = slip.edit().and_then(|edit| slip.found_with(&edit)).is_some_and(|unit| Unit::parse(&unit).is_ok());
    match known {
        true => slip.say(message, "`·`, `*` and `.` join units"),
        false => {
            let draft = slip.draft(format!("`{}` is no unit", slip.shown()));
            let wanted = slip.wanted().unwrap_or_else(|| "`·`, `*` and `.` join units".to_owned());
            draft.help(format!("{wanted}; a remark behind it begins with `#`"))
        }
    }
}
