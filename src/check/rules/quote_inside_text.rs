use crate::check::{Draft, Rule, Run, Severity, Slip};
use crate::syntax::SyntaxErrorKind;

pub static RULE: Rule = Rule {
    code: "quote-inside-text",
    severity: Severity::Error,
    title: "A quote inside a text is written once",
    page: include_str!("quote_inside_text.md"),
    run: Run::Syntax(SyntaxErrorKind::EscapedQuote, say),
};

fn say(slip: &Slip<'_>) -> Draft {
    let message = match slip.found().starts_with('\\') {
        true => "`\\\"` ends the text, for a backslash is a character like any other",
        false => "a quote inside this text ends it",
    };
    slip.say(message, "a quote inside a text is written twice")
}
