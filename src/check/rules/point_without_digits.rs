use crate::check::{Draft, Rule, Run, Severity, Lapse};
use crate::syntax::SyntaxErrorKind;

pub static RULE: Rule = Rule {
    code: "point-without-digits",
    severity: Severity::Error,
    title: "A number ends with a point",
    page: include_str!("point_without_digits.md"),
    run: Run::Syntax(SyntaxErrorKind::PointWithoutDigits, say),
};

fn say(lapse: &Lapse<'_>) -> Draft {
    let found = lapse.shown();
    lapse.say(format!("`{found}` ends with a point"), &format!("or write the decimals that were read, such as `{found}0`"))
}
