use crate::check::{Draft, Rule, Run, Severity, Slip};
use crate::syntax::SyntaxErrorKind;

pub static RULE: Rule = Rule {
    code: "operator-without-spaces",
    severity: Severity::Error,
    title: "An operator stands without spaces",
    page: include_str!("operator_without_spaces.md"),
    run: Run::Syntax(SyntaxErrorKind::OperatorWithoutSpaces, say),
};

fn say(slip: &Slip<'_>) -> Draft {
    let advice = match slip.found() {
        "*" | "/" => "with spaces it works on two amounts, without them it joins units",
        _ => "",
    };
    slip.say(format!("`{}` needs a space on either side", slip.shown()), advice)
}
