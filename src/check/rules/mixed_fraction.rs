use crate::check::{Draft, Rule, Run, Severity, Lapse};
use crate::syntax::SyntaxErrorKind;

pub static RULE: Rule = Rule {
    code: "mixed-fraction",
    severity: Severity::Error,
    title: "A number is written as a fraction",
    page: include_str!("mixed_fraction.md"),
    run: Run::Syntax(SyntaxErrorKind::MixedFraction, say),
};

fn say(lapse: &Lapse<'_>) -> Draft {
    if let Some(wanted) = lapse.takes_no_number() {
        return lapse.draft(format!("`{}` is a fraction", lapse.shown())).help(wanted);
    }
    let advice = match lapse.edit() {
        Some(_) => "numbers are written with decimals",
        None => "write it with decimals, or as a division with spaces, as in `268.4 mm / 2`",
    };
    lapse.say(format!("`{}` is a fraction", lapse.shown()), advice)
}
