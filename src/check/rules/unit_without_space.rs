use crate::check::{Draft, Rule, Run, Severity, Slip};
use crate::syntax::SyntaxErrorKind;

pub static RULE: Rule = Rule {
    code: "unit-without-space",
    severity: Severity::Error,
    title: "A unit is stuck to its number",
    page: include_str!("unit_without_space.md"),
    run: Run::Syntax(SyntaxErrorKind::UnitWithoutSpace, say),
};

fn say(slip: &Slip<'_>) -> Draft {
    slip.say(format!("`{}` has no space before its unit", slip.shown()), "")
}
