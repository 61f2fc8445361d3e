use crate::check::facts;
use crate::check::{Draft, FileContext, wording};
use crate::sheet::{FactProblem, FactProblemKind};

pub(super) fn say(context: &FileContext<'_>, problem: &FactProblem) -> Option<Draft> {
    let FactProblemKind::UnitOfOtherDimension { expected, found } = problem.kind else { return None };
    let unit = wording::shown(context.text(problem.span));
    let subject = facts::subject(context, problem.span);
    let message = format!("{unit} is a unit of {}, and {subject} is a unit of {}", bare(&[found]), bare(expected));
    Some(context.draft(problem.span, message).help(format!("write one such as {}", wording::usual_units(expected))))
}

/// `mass`, `length or angle`
fn bare(dimensions: &[crate::units::Dimension]) -> String {
    use crate::units::Dimension;
    let name = |dimension: &Dimension| match *dimension {
        Dimension::DIVISION => "the readout itself".to_owned(),
        Dimension::MARK => "a dial".to_owned(),
        other => other.name().into_owned(),
    };
    let names: Vec<String> = dimensions.iter().map(name).collect();
    wording::or_list(&names)
}
