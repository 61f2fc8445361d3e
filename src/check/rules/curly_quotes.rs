use crate::check::{Draft, Rule, Run, Severity, Lapse};
use crate::syntax::SyntaxErrorKind;

pub static RULE: Rule = Rule {
    code: "curly-quotes",
    severity: Severity::Error,
    title: "A text stands in quotes that are not the plain ones",
    page: include_str!("curly_quotes.md"),
    run: Run::Syntax(SyntaxErrorKind::CurlyQuotes, say),
};

fn say(lapse: &Lapse<'_>) -> Draft {
    let quote = lapse.found().chars().next().unwrap_or('“');
    lapse.say(format!("`{quote}` is not the quote that texts stand in"), "the quote is the plain `\"` at both ends")
}
