use crate::check::facts::block_at;
use crate::check::{Draft, FileContext, wording};
use crate::sheet::{FactProblem, FactProblemKind, FieldValue};
use crate::syntax::Kind;
use crate::text::{Edit, Span};
use crate::vocabulary::{self, NameOf};

pub(super) fn say(context: &FileContext<'_>, problem: &FactProblem) -> Option<Draft> {
    let FactProblemKind::BlockNeedsName { block } = problem.kind else { return None };
    let what = match vocabulary::block(block).name {
        Some(NameOf::Own) | None => "has no name of its own".to_owned(),
        Some(of) => format!("does not say the name of {}", wording::name_of(of)),
    };
    let example = match block {
        Kind::Plane | Kind::Calibrate | Kind::Correction | Kind::Traverse | Kind::Separation | Kind::Linearity => "hub",
        Kind::Keyway => "\"drive end\"",
        Kind::Proof => "\"2026-04-14\"",
        Kind::Run | Kind::Trial => "\"as found\"",
        Kind::Severity => "code-of-a-diagnostic",
        _ => "\"…\"",
    };
    let message = format!("`{block}` {what}");
    let draft = context.draft(problem.span, message);
    Some(match day(context, problem.span).filter(|_| block == Kind::Proof) {
        Some(day) => {
            let help = "a sheet may hold several proofs: name each, by its date as a rule";
            draft.help(help).fix(format!("Name it \"{day}\""), Edit::insert(problem.span.end, format!(" \"{day}\"")))
        }
        None => draft.help(format!("write `{block} {example} {{`")),
    })
}

/// The date that the block states, as it is written.
fn day<'b>(context: &FileContext<'b>, heading: Span) -> Option<&'b str> {
    let block = block_at(context.source, heading)?;
    let date = block.fields.iter().find(|field| matches!(field.value, FieldValue::Date { .. }))?;
    Some(context.text(date.value_span))
}
