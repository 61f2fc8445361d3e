use crate::check::facts;
use crate::check::{Draft, FileContext, Rule, Run, Severity, wording};
use crate::sheet::{FactProblem, FactProblemKind};
use crate::text::Edit;

pub static RULE: Rule = Rule {
    code: "name-needs-quotes",
    severity: Severity::Error,
    title: "A name of several words stands without quotes",
    page: include_str!("name_needs_quotes.md"),
    run: Run::Fact(say),
};

fn say(context: &FileContext<'_>, problem: &FactProblem) -> Option<Draft> {
    if !matches!(problem.kind, FactProblemKind::NameNeedsQuotes) {
        return None;
    }
    let written = context.text(problem.span);
    let quoted = wording::quoted(written);
    let subject = facts::subject(context, problem.span);
    let is = if written.contains(' ') { "several words without quotes" } else { "no plain word" };
    let message = format!("{subject} wants a name, and {} is {is}", wording::shown(written));
    Some(
        context
            .draft(problem.span, message)
            .help(format!("write {}; a name of one word may stand without quotes", wording::shown(&quoted)))
            .fix(format!("Write {}", wording::shown(&quoted)), Edit::replace(problem.span, quoted)),
    )
}
