use crate::check::{Draft, Rule, Run, Severity, Slip};
use crate::syntax::SyntaxErrorKind;

pub static RULE: Rule = Rule {
    code: "curly-quotes",
    severity: Severity::Error,
    title: "A text stands in quotes that are not the plain ones",
    page: include_str!("curly_quotes.md"),
    run: Run::Syntax(SyntaxErrorKind::CurlyQuotes, say),
};

fn say(slip: &Slip<'_>) -> Draft {
    let quote = slip.found().chars().next().unwrap_or('“');
    slip.say(format!("`{quote}` is not the quote that texts stand in"), "the quote is the plain `\"` at both ends")
}
