use crate::check::lapse::shown;
use crate::check::{Draft, Rule, Run, Severity, Lapse};
use crate::syntax::SyntaxErrorKind;
use crate::text::{Edit, Span};

pub static RULE: Rule = Rule {
    code: "unclosed-quote",
    severity: Severity::Error,
    title: "A quote is not closed on its line",
    page: include_str!("unclosed_quote.md"),
    run: Run::Syntax(SyntaxErrorKind::UnclosedQuote, say),
};

fn say(lapse: &Lapse<'_>) -> Draft {
    let message = match lapse.found() {
        "\"" => "this quote closes nothing".to_owned(),
        found if !found.starts_with('"') && found.ends_with('"') => {
            format!("the quote behind `{}` closes nothing", shown(found.trim_end_matches('"')))
        }
        _ => format!("the quote before `{}` is not closed on its line", shown(lapse.found().trim_start_matches('"'))),
    };
    let advice = "a text ends on the line where it begins";
    if lapse.takes_amount() {
        let quote = Span::new(lapse.span().start, lapse.span().start + 1);
        return lapse.say_with(message, "amounts stand without quotes", Edit::delete(quote));
    }
    match lapse.found().find(": ").filter(|_| lapse.edit().is_none()) {
        // `"gain: 640`
        Some(colon) => lapse.say_with(message, advice, Edit::insert(lapse.span().start + colon as u32, "\"")),
        None => lapse.say(message, advice),
    }
}
