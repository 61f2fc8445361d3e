use crate::check::facts::{self, FactAt, fact_at};
use crate::check::{Draft, FileContext, confusions, wording};
use crate::sheet::{FactProblem, FactProblemKind};
use crate::text::{Edit, Span};
use crate::units::Dimension as D;
use crate::vocabulary::{AnyFact, QuantityKind, machine, tolerance};

pub(super) fn say(context: &FileContext<'_>, problem: &FactProblem) -> Option<Draft> {
    let FactProblemKind::WrongDimension { expected, found } = problem.kind else { return None };
    let written = context.text(problem.span);
    let (is, shown) =
        (if written.contains(' ') && is_sum(written) { "comes to" } else { "is" }, wording::shown(written));
    let found_as = wording::a_dimension(&[found]);
    if expected.is_empty() {
        let message = format!("{shown} {is} {found_as}, which nothing on a sheet is measured in");
        return Some(context.draft(problem.span, message).help("look at the units of its parts again"));
    }
    let subject = facts::subject(context, problem.span);
    let fact = fact_at(context.source, problem.span);
    let quantity = fact.and_then(|fact| fact.field.key.quantity);
    let wanted = if quantity == Some(QuantityKind::MomentOfInertia) {
        "a moment of inertia (mass × length²)".to_owned()
    } else {
        wording::a_dimension(expected)
    };
    let draft = context.draft(problem.span, format!("{shown} {is} {found_as}, and {subject} wants {wanted}"));
    if let Some(draft) = fact.and_then(|fact| other_key(context, &draft, fact, found)) {
        return Some(draft);
    }
    let help = expected.iter().find_map(|wanted| confusions::advice(quantity, *wanted, found, written));
    let help = help.unwrap_or_else(|| format!("its unit is one such as {}", wording::usual_units(expected)));
    let draft = draft.help(help);
    Some(match weight_as_mass(problem.span, written, expected, found) {
        Some((title, edit)) => draft.fix(title, edit),
        None => draft,
    })
}

/// Whether operators are in the text, and not one number with its unit alone.
fn is_sum(written: &str) -> bool {
    [" + ", " - ", " * ", " / "].iter().any(|operator| written.contains(operator))
}

/// Two keys of one block that say the same in different quantities.
const PAIRS: &[(AnyFact, AnyFact, D)] = &[
    (
        machine::MINIMUM_ACHIEVABLE_RESIDUAL_UNBALANCE.any(),
        machine::MINIMUM_ACHIEVABLE_RESIDUAL_SPECIFIC_UNBALANCE.any(),
        D::LENGTH,
    ),
    (
        machine::MINIMUM_ACHIEVABLE_RESIDUAL_SPECIFIC_UNBALANCE.any(),
        machine::MINIMUM_ACHIEVABLE_RESIDUAL_UNBALANCE.any(),
        D::UNBALANCE,
    ),
    (tolerance::STATIC.any(), tolerance::COUPLE.any(), D::COUPLE),
    (tolerance::TOTAL.any(), tolerance::COUPLE.any(), D::COUPLE),
];

fn other_key(context: &FileContext<'_>, draft: &Draft, fact: FactAt<'_>, found: D) -> Option<Draft> {
    let (_, other, _) =
        PAIRS.iter().find(|(asked, _, dimension)| fact.field.key.name == asked.words() && found == *dimension)?;
    let stands = fact.block.fields.iter().any(|field| field.key.name == other.words());
    if stands || context.text(fact.field.head) != fact.field.key.name {
        return None;
    }
    let help = format!("{} goes under `{other}`", wording::dimension_briefly(found));
    Some(draft.clone().help(help).fix(format!("State it as `{other}`"), Edit::replace(fact.field.head, other.words())))
}

/// A weight in kgf or lbf is that of a mass of as many kg or lb.
fn weight_as_mass(span: Span, written: &str, expected: &[D], found: D) -> Option<(String, Edit)> {
    if expected != [D::MASS] || found != D::FORCE || is_sum(written) {
        return None;
    }
    let (number, unit) = written.split_once(' ')?;
    let unit = match unit {
        "kgf" => "kg",
        "lbf" => "lb",
        "gf" => "g",
        _ => return None,
    };
    let mass = format!("{number} {unit}");
    Some((format!("Write `{mass}`"), Edit::replace(span, mass)))
}
