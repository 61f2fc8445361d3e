use crate::check::{Draft, Rule, Run, Severity, Slip};
use crate::syntax::SyntaxErrorKind;

pub static RULE: Rule = Rule {
    code: "comma-without-space",
    severity: Severity::Error,
    title: "A comma of a list has no space behind it",
    page: include_str!("comma_without_space.md"),
    run: Run::Syntax(SyntaxErrorKind::CommaWithoutSpace, say),
};

fn say(slip: &Slip<'_>) -> Draft {
    slip.say("this comma has no space behind it", "a comma and a space part the values of a list")
}
