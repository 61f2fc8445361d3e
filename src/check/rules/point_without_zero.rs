use crate::check::{Draft, Rule, Run, Severity, Lapse};
use crate::syntax::SyntaxErrorKind;

pub static RULE: Rule = Rule {
    code: "point-without-zero",
    severity: Severity::Error,
    title: "A number begins with a point",
    page: include_str!("point_without_zero.md"),
    run: Run::Syntax(SyntaxErrorKind::PointWithoutZero, say),
};

fn say(lapse: &Lapse<'_>) -> Draft {
    lapse.say(format!("`{}` begins with a point", lapse.shown()), "a zero before the point keeps it from being overlooked")
}
