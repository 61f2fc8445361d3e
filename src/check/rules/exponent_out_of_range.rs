use crate::check::slip::shown;
use crate::check::{Draft, Rule, Run, Severity, Slip};
use crate::syntax::SyntaxErrorKind;

pub static RULE: Rule = Rule {
    code: "exponent-out-of-range",
    severity: Severity::Error,
    title: "A power of ten is beyond any bench",
    page: include_str!("exponent_out_of_range.md"),
    run: Run::Syntax(SyntaxErrorKind::ExponentOutOfRange, say),
};

fn say(slip: &Slip<'_>) -> Draft {
    let exponent = slip.found().split(['e', 'E']).nth(1).unwrap_or("");
    let message = format!("`{}` has the power of ten {}, beyond ± 30", slip.shown(), shown(exponent));
    slip.draft(message).help("write the amount in the unit that fits it, such as `0.4 mg` or `12 kg`")
}
