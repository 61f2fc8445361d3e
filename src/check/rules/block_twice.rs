use crate::check::{Draft, FileContext, Rule, Run, Severity, wording};
use crate::sheet::{FactProblem, FactProblemKind, FactProblemOf};

pub static RULE: Rule = Rule {
    code: "block-twice",
    severity: Severity::Error,
    title: "A block of one kind and name stands twice",
    page: include_str!("block_twice.md"),
    run: Run::Fact(FactProblemOf::BlockTwice, say),
};

fn say(context: &FileContext<'_>, problem: &FactProblem) -> Option<Draft> {
    let FactProblemKind::BlockTwice { block, first } = problem.kind else { return None };
    let heading = wording::shown(context.text(problem.span));
    let parent = block.parent().map_or_else(|| "the file".to_owned(), wording::this_kind);
    let help = match block.takes_name() {
        true => format!("give one of the two another name, or put both together into one `{block}`"),
        false => format!("put both together into one `{block}`"),
    };
    Some(context.draft(problem.span, format!("{heading} stands a second time in {parent}")).help(help).related(
        context.file,
        first,
        "it stands here already",
    ))
}
