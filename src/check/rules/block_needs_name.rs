use crate::check::{Draft, FileContext, wording};
use crate::sheet::{FactProblem, FactProblemKind};
use crate::syntax::Kind;
use crate::vocabulary::{self, NameOf};

pub(super) fn say(context: &FileContext<'_>, problem: &FactProblem) -> Option<Draft> {
    let FactProblemKind::BlockNeedsName { block } = problem.kind else { return None };
    let what = match vocabulary::block(block).name {
        Some(NameOf::Own) | None => "a name of its own".to_owned(),
        Some(of) => format!("the name of {}", wording::name_of(of)),
    };
    let example = match block {
        Kind::Plane | Kind::Calibrate | Kind::Correction | Kind::Traverse | Kind::Separation | Kind::Linearity => "hub",
        Kind::Keyway => "\"drive end\"",
        Kind::Run | Kind::Trial => "\"as found\"",
        Kind::Severity => "code-of-a-diagnostic",
        _ => "\"…\"",
    };
    let message = format!("`{block}` stands without {what}");
    Some(context.draft(problem.span, message).help(format!("write `{block} {example} {{`")))
}
