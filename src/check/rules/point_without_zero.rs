use crate::check::{Draft, Rule, Run, Severity, Slip};
use crate::syntax::SyntaxErrorKind;

pub static RULE: Rule = Rule {
    code: "point-without-zero",
    severity: Severity::Error,
    title: "A number begins with a point",
    page: include_str!("point_without_zero.md"),
    run: Run::Syntax(SyntaxErrorKind::PointWithoutZero, say),
};

fn say(slip: &Slip<'_>) -> Draft {
    slip.say(
        format!("`{}` begins with a point", slip.shown()),
        "a zero before the point keeps it from being overlooked",
    )
}
