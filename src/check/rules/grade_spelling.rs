use crate::check::{Draft, Rule, Run, Severity, Slip};
use crate::syntax::SyntaxErrorKind;

pub static RULE: Rule = Rule {
    code: "grade-spelling",
    severity: Severity::Error,
    title: "The letter of a balance quality grade is small",
    page: include_str!("grade_spelling.md"),
    run: Run::Syntax(SyntaxErrorKind::GradeSpelling, say),
};

fn say(slip: &Slip<'_>) -> Draft {
    slip.say("the small `g` is the gram, not the letter of a grade", "grades have a capital `G`")
}
