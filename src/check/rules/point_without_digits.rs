use crate::check::{Draft, Rule, Run, Severity, Slip};
use crate::syntax::SyntaxErrorKind;

pub static RULE: Rule = Rule {
    code: "point-without-digits",
    severity: Severity::Error,
    title: "A number ends with a point",
    page: include_str!("point_without_digits.md"),
    run: Run::Syntax(SyntaxErrorKind::PointWithoutDigits, say),
};

fn say(slip: &Slip<'_>) -> Draft {
    let found = slip.shown();
    slip.say(
        format!("`{found}` ends with a point"),
        &format!("or write the decimals that were read, such as `{found}0`"),
    )
}
