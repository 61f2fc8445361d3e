use crate::check::{Draft, Rule, Run, Severity, Slip};
use crate::syntax::SyntaxErrorKind;

pub static RULE: Rule = Rule {
    code: "digit-grouping",
    severity: Severity::Error,
    title: "The thousands of a number are set apart",
    page: include_str!("digit_grouping.md"),
    run: Run::Syntax(SyntaxErrorKind::DigitGrouping, say),
};

fn say(slip: &Slip<'_>) -> Draft {
    let message = format!("`{}` has its thousands set apart", slip.shown());
    slip.say(message, "the digits of a number stand together")
}
