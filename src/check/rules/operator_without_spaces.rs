use crate::check::lapse::shown;
use crate::check::{Draft, Rule, Run, Severity, Lapse};
use crate::syntax::SyntaxErrorKind;

pub static RULE: Rule = Rule {
    code: "operator-without-spaces",
    severity: Severity::Error,
    title: "An operator stands without spaces",
    page: include_str!("operator_without_spaces.md"),
    run: Run::Syntax(SyntaxErrorKind::OperatorWithoutSpaces, say),
};

fn say(lapse: &Lapse<'_>) -> Draft {
    if let Some(wanted) = lapse.takes_no_number() {
        return lapse.draft(format!("`{}` is a calculation", shown(lapse.value().unwrap_or_default()))).help(wanted);
    }
    let advice = match lapse.found() {
        "*" | "/" => "with spaces it works on two amounts, without them it joins units",
        _ => "",
    };
    let side = if lapse.found() == "±" { "before it" } else { "on either side" };
    lapse.say(format!("`{}` needs a space {side}", lapse.shown()), advice)
}
