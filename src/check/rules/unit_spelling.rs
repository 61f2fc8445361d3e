use crate::check::{Draft, Rule, Run, Severity, Slip};
use crate::syntax::SyntaxErrorKind;

pub static RULE: Rule = Rule {
    code: "unit-spelling",
    severity: Severity::Error,
    title: "A unit is put together as units are not",
    page: include_str!("unit_spelling.md"),
    run: Run::Syntax(SyntaxErrorKind::UnitSpelling, say),
};

fn say(slip: &Slip<'_>) -> Draft {
    let advice = match slip.edit() {
        Some(_) => "",
        None => "`·`, `*` or `.` joins units, one `/` divides, and `²` or `^2` raises, as in `kg·m²` and `g/cm³`",
    };
    slip.say(format!("`{}` is not how a unit is put together", slip.shown()), advice)
}
