use crate::book::FileProblem;
use crate::check::{Draft, FileContext, Rule, Run, Severity};

pub static RULE: Rule = Rule {
    code: "cannot-read",
    severity: Severity::Error,
    title: "A file or folder of the book cannot be read",
    page: include_str!("cannot_read.md"),
    run: Run::File(say),
};

fn say(context: &FileContext<'_>, problem: &FileProblem) -> Option<Draft> {
    let FileProblem::CannotRead(why) = problem else { return None };
    let path = &context.source.path;
    let draft = context.draft(problem.span(), format!("`{path}` cannot be read: {why}"));
    Some(draft.help("the rest of the book has been checked without it"))
}
