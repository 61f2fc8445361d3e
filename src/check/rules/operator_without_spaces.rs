use crate::check::slip::shown;
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
    if let Some(wanted) = slip.takes_no_number() {
        return slip.draft(format!("`{}` is a calculation", shown(slip.value().unwrap_or_default()))).help(wanted);
    }
    let advice = match slip.found() {
        "*" | "/" => "with spaces it works on two amounts, without them it joins units",
        _ => "",
    };
    let side = if slip.found() == "±" { "before it" } else { "on either side" };
    slip.say(format!("`{}` needs a space {side}", slip.shown()), advice)
}
