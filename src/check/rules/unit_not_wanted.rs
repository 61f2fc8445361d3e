use crate::check::facts;
use crate::check::{Draft, FileContext};
use crate::sheet::{FactProblem, FactProblemKind};
use crate::text::{Edit, Span};

pub(super) fn say(context: &FileContext<'_>, problem: &FactProblem) -> Option<Draft> {
    let FactProblemKind::UnitNotWanted { unit } = problem.kind else { return None };
    let written = context.text(unit);
    let subject = facts::subject(context, unit);
    let value = facts::fact_at(context.source, unit).map(|fact| fact.field.value_span);
    let message = format!("{subject} is a plain number, and here it has the unit `{written}`");
    let draft = context.draft(unit, message);
    let before = context.source.text[..unit.start as usize].trim_end().len() as u32;
    let alone = value.is_some_and(|value| context.text(Span::new(value.start, before)).parse::<f64>().is_ok());
    Some(match alone {
        true => draft
            .help("write the number alone")
            .fix(format!("Take `{written}` out"), Edit::delete(Span::new(before, unit.end))),
        false => draft.help("write the number alone, without a unit anywhere in it"),
    })
}
