//! A quantity: the same in other usual units, and how well it is known.

use std::fmt::Write as _;

use super::Asked;
use crate::book::{Computed, EffectiveBlock, EffectiveField, Facts, Origin, Path};
use crate::ide::explain::code;
use crate::sheet::schema::Standing;
use crate::sheet::{Block, Field, FieldValue, Limits, Stated};
use crate::syntax::{Amount, Expr, Literal};
use crate::text::Span;
use crate::units::{self, Indication, Unit};

/// Units beyond these are of no use to who reads the sheet.
const MOST_UNITS: usize = 4;

/// The explanation of a literal with a unit.
pub(super) fn literal(asked: &Asked<'_, '_>, amount: &Amount, literal: &Literal) -> Option<String> {
    let text = &asked.place.source.text;
    let unit = Unit::parse(literal.unit?.of(text)).ok()?;
    let alone = matches!(&amount.expr, Expr::Literal(_) | Expr::Negative { .. });
    let stated = stated(text, literal, unit, if alone { Some(amount) } else { None });
    let known = asked.place.field().and_then(|(block, field)| known_to(asked, block, field, &stated));
    let expanded = known.as_ref().map_or(0.0, |known| known.expanded);
    let mut out = format!("**{}**", in_unit(&stated, unit, expanded, false));
    let others = others(&stated, unit, expanded);
    if !others.is_empty() {
        let _ = write!(out, "  \n= {}", others.join("  \n= "));
    }
    let _ = write!(out, "\n\n{}", unit.dimension().name());
    if let Some(known) = known {
        let _ = write!(out, "; {}", known.why);
    }
    Some(out)
}

/// What the arithmetic of a fact amounts to.
pub(super) fn whole(asked: &Asked<'_, '_>, amount: &Amount) -> Option<String> {
    if !matches!(amount.expr, Expr::Binary { .. } | Expr::Group { .. }) {
        return None;
    }
    let (block, field) = asked.place.field()?;
    let FieldValue::Quantity(stated) = &field.value else { return None };
    let known = known_to(asked, block, field, stated);
    let expanded = known.as_ref().map_or(0.0, |known| known.expanded);
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

fn stated(text: &str, literal: &Literal, unit: Unit, amount: Option<&Amount>) -> Stated {
    let number = literal.number;
    let negative = amount.is_some_and(|amount| matches!(amount.expr, Expr::Negative { .. }));
    let value = if negative { -number.value } else { number.value };
    let half_step = 0.5 * 10f64.powi(i32::from(number.last_digit)) * unit.factor();
    let limits = amount.and_then(|amount| amount.limits.as_deref()).and_then(|limits| {
        let own = limits.unit.and_then(|unit| Unit::parse(unit.of(text)).ok());
        let half_width = match own {
            Some(own) if own == Unit::PERCENT && unit != Unit::PERCENT => {
                limits.number.value / 100.0 * unit.to_base(value).abs()
            }
            Some(own) if own.dimension() == unit.dimension() => limits.number.value * own.factor(),
            _ => return None,
        };
        Some(if limits.expanded { Limits::Expanded(half_width) } else { Limits::Bounds(half_width) })
    });
    Stated { base: unit.to_base(value), unit, half_step, limits, plain: false }
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

/// The same in the other usual units that make a number of a readable size.
fn others(stated: &Stated, unit: Unit, expanded: f64) -> Vec<String> {
    let mut factors = vec![unit.factor()];
    let mut found = Vec::new();
    for other in unit.dimension().usual_units().iter().filter_map(|other| Unit::parse(other).ok()) {
        let size = other.from_base(stated.base).abs();
        let readable = stated.base == 0.0 || (1e-3..1e6).contains(&size);
        let new = factors.iter().all(|factor| (factor / other.factor() - 1.0).abs() > 1e-12);
        if readable && new && found.len() < MOST_UNITS {
            factors.push(other.factor());
            found.push(in_unit(stated, other, expanded, false));
        }
    }
    found
}

/// How well a fact is known, and why.
struct Known {
    /// Expanded uncertainty (k = 2), in base units.
    expanded: f64,
    why: String,
}

fn known_to(asked: &Asked<'_, '_>, block: &Block, field: &Field, stated: &Stated) -> Option<Known> {
    let id = asked.place.blocks()?.item;
    let computed = asked.computing.item(id);
    let masses = match &computed {
        Computed::Setup(setup) => setup.masses,
        _ => None,
    };
    let facts = asked.computing.facts().with_masses(masses);
    let effective = find(computed.effective(), block)?;
    let field = EffectiveField { field, item: id };
    let origin = Origin { item: id, path: Path::item(), name: field.field.key.name.into(), place: None };
    // Whatever its dimension is, it is the bare amount that is asked about.
    let value = facts.stated::<Indication>(effective, field, stated, origin);
    let standard = value.standard_uncertainty();
    let unit = stated.unit;
    let expanded = 2.0 * standard;
    let limits = units::number(expanded / unit.factor(), Some(expanded / unit.factor()));
    if standard == 0.0 {
        let why = match field.field.key.standing {
            Standing::Demand => "a demand, and so exact",
            Standing::Nominal => "nominal: it carries no uncertainty unless `±` states one",
            Standing::Measured => return None,
        };
        return Some(Known { expanded, why: why.to_owned() });
    }
    let reason = reason(&facts, stated, standard);
    Some(Known { expanded, why: format!("known to ± {limits} {unit} (k = 2), {reason}") })
}

fn reason(facts: &Facts<'_>, stated: &Stated, standard: f64) -> &'static str {
    let same = |other: f64| (other / standard - 1.0).abs() < 1e-9;
    match stated.limits {
        Some(Limits::Bounds(_)) => "from the limits that stand behind it",
        Some(Limits::Expanded(_)) => "as its certificate states",
        None if facts.masses.is_some_and(|set| set.standard.is_some_and(|set| same(units::Amount::raw(set)))) => {
            "as the set of masses states"
        }
        None if same(stated.half_step / 3f64.sqrt()) => "for it was read to half a step of its last digit",
        None => "by the resolution of the instrument",
    }
}

/// The block as it holds, of which `own` is what is written.
fn find<'c, 'b>(block: &'c EffectiveBlock<'b>, own: &Block) -> Option<&'c EffectiveBlock<'b>> {
    if block.own.is_some_and(|block| std::ptr::eq(block, own)) {
        return Some(block);
    }
    block.blocks.iter().find_map(|inner| find(inner, own))
}

/// The literal of an amount that stands at an offset.
pub(super) fn literal_at(expr: &Expr, offset: u32) -> Option<&Literal> {
    let here = |span: Span| crate::ide::place::covers(span, offset);
    match expr {
        Expr::Literal(literal) => here(literal.span).then_some(literal),
        Expr::Negative { span, inner } if here(*span) => match &**inner {
            Expr::Literal(literal) => Some(literal),
            inner => literal_at(inner, offset),
        },
        Expr::Negative { inner, .. } | Expr::Group { inner, .. } => literal_at(inner, offset),
        Expr::Binary { left, right, .. } => literal_at(right, offset).or_else(|| literal_at(left, offset)),
    }
}
