use crate::check::{Draft, Rule, Run, Severity, Slip};
use crate::syntax::SyntaxErrorKind;

pub static RULE: Rule = Rule {
    code: "bad-value",
    severity: Severity::Error,
    title: "A value has no form that the format knows",
    page: include_str!("bad_value.md"),
    run: Run::Syntax(SyntaxErrorKind::BadValue, say),
};

fn say(slip: &Slip<'_>) -> Draft {
    let found = slip.found();
    let message = format!("`{}` is no value", slip.shown());
    if found.starts_with(['~', '≈']) {
        let draft = slip.draft(format!("`{}` does not say how near it is", slip.shown()));
        let number = found.trim_start_matches(['~', '≈', ' ']);
        return draft
            .help(format!("write what was found with its limits, such as `{number} ± …`, or take the sign out"));
    }
    let wanted =
        slip.wanted().unwrap_or_else(|| "a value is a number with its unit, a word, or a text in quotes".to_owned());
    slip.say(message, &wanted)
}
