use crate::check::{FileContext, Draft, Rule, Run, Severity};
use crate::syntax::{SyntaxError, SyntaxErrorKind};
use crate::text::Edit;

pub static RULE: Rule = Rule {
    code: "decimal-comma",
    severity: Severity::Error,
    title: "A number is written with a decimal comma",
    page: include_str!("decimal_comma.md"),
    run: Run::Syntax(SyntaxErrorKind::DecimalComma, say),
};

fn say(context: &FileContext<'_>, error: &SyntaxError) -> Draft {
    let found = context.text(error.span);
    let draft = context
        .draft(error.span, format!("`{found}` has a comma between its digits"))
        .help("write a point for decimals; a list has a comma and a space between its values");
    match &error.replace {
        Some((span, text)) => draft.fix(format!("Write `{text}`"), Edit::replace(*span, text.clone())),
        None => draft,
    }
}
