//! A quantity: the same in other usual units, and how well it is known.

use std::fmt::Write as _;

use super::Asked;
use crate::ide::amounts;
use crate::ide::known::Known;
use crate::ide::markdown::code;
use crate::sheet::{FieldValue, Stated};
use crate::syntax::{Amount, Expr, Literal};
use crate::units::{self, Unit};

/// The explanation of a literal with a unit.
pub(super) fn literal(asked: &Asked<'_, '_>, amount: &Amount, literal: &Literal) -> Option<String> {
    let text = &asked.place.source.text;
    let unit = Unit::parse(literal.unit?.of(text)).ok()?;
    let alone = matches!(&amount.expr, Expr::Literal(_) | Expr::Negative { .. });
    let stated = amounts::stated(text, literal, unit, if alone { Some(amount) } else { None });
    let known = asked.computed().and_then(|computed| Known::of(asked.computing, computed, &asked.place, &stated));
    let expanded = 2.0 * known.as_ref().map_or(0.0, |known| known.standard);
    let mut out = format!("**{}**", in_unit(&stated, unit, expanded, false));
    let others = others(&stated, unit, expanded);
    if !others.is_empty() {
        let _ = write!(out, "  \n= {}", others.join("  \n= "));
    }
    let _ = write!(out, "\n\n{}", unit.dimension().name());
    if let Some(known) = known {
        let _ = write!(out, "; {}", known.words(unit));
    }
    Some(out)
}

/// What the arithmetic of a fact amounts to.
pub(super) fn whole(asked: &Asked<'_, '_>, amount: &Amount) -> Option<String> {
    if !matches!(amount.expr, Expr::Binary { .. } | Expr::Group { .. }) {
        return None;
    }
    let (_, field) = asked.place.field()?;
    let FieldValue::Quantity(stated) = &field.value else { return None };
    let known = Known::of(asked.computing, asked.computed()?, &asked.place, stated);
    let expanded = 2.0 * known.as_ref().map_or(0.0, |known| known.standard);
    let written = amount.expr.span().of(&asked.place.source.text);
    Some(format!("{} = **{}**", code(written), in_unit(stated, stated.unit, expanded, true)))
}

/// A unit as such: what it measures and how large it is.
pub(super) fn unit(written: &str) -> Option<String> {
    let unit = Unit::parse(written).ok()?;
    let usual = unit.dimension().usual_units().iter().filter_map(|other| Unit::parse(other).ok());
    let other = usual.into_iter().find(|other| other.factor() != unit.factor())?;
    let size = unit.convert_difference(1.0, other)?;
    let (name, dimension) = (unit.to_string(), unit.dimension().name());
    Some(format!("**{name}**: {dimension}; 1 {name} = {} {other}", units::plainly(size)))
}

/// The amount in a unit; as it was given where nothing is known of its uncertainty.
fn in_unit(stated: &Stated, unit: Unit, expanded: f64, with_limits: bool) -> String {
    let value = unit.from_base(stated.base);
    let expanded = expanded / unit.factor();
    match expanded > 0.0 {
        true if with_limits => units::quantity(value, &unit.to_string(), Some(expanded)) + " (k = 2)",
        true => format!("{} {unit}", units::number(value, Some(expanded))),
        false => format!("{} {unit}", units::plainly(value)),
    }
}

/// The same in the other usual units.
fn others(stated: &Stated, unit: Unit, expanded: f64) -> Vec<String> {
    let units = amounts::other_units(stated.base, unit).into_iter();
    units.map(|other| in_unit(stated, other, expanded, false)).collect()
}
