use crate::check::{Draft, Rule, Run, Severity, Slip};
use crate::syntax::SyntaxErrorKind;

pub static RULE: Rule = Rule {
    code: "mixed-fraction",
    severity: Severity::Error,
    title: "A number is written as a fraction",
    page: include_str!("mixed_fraction.md"),
    run: Run::Syntax(SyntaxErrorKind::MixedFraction, say),
};

fn say(slip: &Slip<'_>) -> Draft {
    if let Some(wanted) = slip.takes_no_number() {
        return slip.draft(format!("`{}` is a fraction", slip.shown())).help(wanted);
    }
    let advice = match slip.edit() {
        Some(_) => "numbers are written with decimals",
        None => "write it with decimals, or as a division with spaces, as in `268.4 mm / 2`",
    };
    slip.say(format!("`{}` is a fraction", slip.shown()), advice)
}
