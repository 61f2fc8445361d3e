use crate::check::facts::delete_fact;
use crate::check::{Draft, FileContext, Rule, Run, Severity, wording};
use crate::sheet::{FactProblem, FactProblemKind};

pub static RULE: Rule = Rule {
    code: "fact-and-pin",
    severity: Severity::Error,
    title: "One name is stated and pinned in the same block",
    page: include_str!("fact_and_pin.md"),
    run: Run::Fact(say),
};

fn say(context: &FileContext<'_>, problem: &FactProblem) -> Option<Draft> {
    let FactProblemKind::FactAndPin { fact } = problem.kind else { return None };
    let head = wording::shown(context.text(problem.span));
    let draft = context
        .draft(problem.span, format!("{head} is pinned as a result with `=>` and stated as a fact with `:`"))
        .help("keep the fact if it was decided or measured, the pinned result if it is to follow from the others")
        .related(context.file, fact, "stated here")
        .fix("Keep the fact", delete_fact(context.source, problem.span))
        .fix("Keep the pinned result", delete_fact(context.source, fact));
    Some(draft)
}
