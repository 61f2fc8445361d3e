use crate::book::FileProblem;
use crate::check::{Draft, FileContext};

pub(super) fn say(context: &FileContext<'_>, problem: &FileProblem) -> Option<Draft> {
    let FileProblem::CannotRead(why) = problem else { return None };
    let path = &context.source.path;
    let draft = context.draft(problem.span(), format!("`{path}` cannot be read: {why}"));
    Some(draft.help("the rest of the book has been checked without it"))
}
