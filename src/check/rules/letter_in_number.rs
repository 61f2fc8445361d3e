use crate::check::{Draft, Rule, Run, Severity, Slip};
use crate::syntax::SyntaxErrorKind;

pub static RULE: Rule = Rule {
    code: "letter-in-number",
    severity: Severity::Error,
    title: "A letter stands among the digits of a number",
    page: include_str!("letter_in_number.md"),
    run: Run::Syntax(SyntaxErrorKind::LetterInNumber, say),
};

fn say(slip: &Slip<'_>) -> Draft {
    let letter = slip.found().chars().find(|c| c.is_alphabetic()).unwrap_or('O');
    slip.say(
        format!("the letter `{letter}` stands among the digits of `{}`", slip.shown()),
        "a number has digits and one point",
    )
}
