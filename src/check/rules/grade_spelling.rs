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
    let message = match slip.found() {
        "g" => "the small `g` is the gram, not the letter of a grade".to_owned(),
        _ => format!("`{}` is not how a grade is written", slip.shown()),
    };
    slip.say(message, "a grade is a capital `G`, a space and a number")
}
