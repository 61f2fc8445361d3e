use crate::check::{Draft, Rule, Run, Severity, Lapse};
use crate::syntax::SyntaxErrorKind;

pub static RULE: Rule = Rule {
    code: "unclosed-parenthesis",
    severity: Severity::Error,
    title: "A parenthesis lacks its other one",
    page: include_str!("unclosed_parenthesis.md"),
    run: Run::Syntax(SyntaxErrorKind::UnclosedParenthesis, say),
};

fn say(lapse: &Lapse<'_>) -> Draft {
    match lapse.found() {
        ")" => lapse.say("this `)` closes nothing", ""),
        _ => lapse.say("this `(` is not closed", ""),
    }
}
