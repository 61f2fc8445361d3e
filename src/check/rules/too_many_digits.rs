use crate::check::{Draft, Rule, Run, Severity, Slip};
use crate::syntax::SyntaxErrorKind;

pub static RULE: Rule = Rule {
    code: "too-many-digits",
    severity: Severity::Error,
    title: "A number has more digits than are read",
    page: include_str!("too_many_digits.md"),
    run: Run::Syntax(SyntaxErrorKind::TooManyDigits, say),
};

fn say(slip: &Slip<'_>) -> Draft {
    let digits = slip.found().split(['e', 'E']).next().unwrap_or("").bytes().filter(u8::is_ascii_digit).count();
    let message = format!("`{}` has {digits} digits, and a number may have 40", slip.shown());
    slip.draft(message).help("write the digits that the instrument showed")
}
