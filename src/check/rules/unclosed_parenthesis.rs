use crate::check::{Draft, Rule, Run, Severity, Slip};
use crate::syntax::SyntaxErrorKind;

pub static RULE: Rule = Rule {
    code: "unclosed-parenthesis",
    severity: Severity::Error,
    title: "A parenthesis lacks its other one",
    page: include_str!("unclosed_parenthesis.md"),
    run: Run::Syntax(SyntaxErrorKind::UnclosedParenthesis, say),
};

fn say(slip: &Slip<'_>) -> Draft {
    match slip.found() {
        ")" => slip.say("this `)` closes nothing", ""),
        _ => slip.say("this `(` is not closed", ""),
    }
}
