use crate::check::{Draft, Rule, Run, Severity, Lapse};
use crate::syntax::SyntaxErrorKind;

pub static RULE: Rule = Rule {
    code: "grade-spelling",
    severity: Severity::Error,
    title: "The letter of a balance quality grade is small",
    page: include_str!("grade_spelling.md"),
    run: Run::Syntax(SyntaxErrorKind::GradeSpelling, say),
};

fn say(lapse: &Lapse<'_>) -> Draft {
    let message = match lapse.found() {
        "g" => "the small `g` is the gram, not the letter of a grade".to_owned(),
        _ => format!("`{}` is not how a grade is written", lapse.shown()),
    };
    lapse.say(message, "a grade is a capital `G`, a space and a number")
}
