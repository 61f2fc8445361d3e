//! The same quantity in another unit, with what its digits say of its precision written out.

use super::{Action, ActionKind, Asked};
use crate::book::Outcome;
use crate::ide::amounts;
use crate::ide::known::{Known, Why};
use crate::ide::place::covers;
use crate::ide::results::ByBlock;
use crate::sheet::{Field, FieldValue, Stated};
use crate::syntax::{Amount, Expr, LineKind, Shape};
use crate::text::{Edit, Span};
use crate::units::{self, Unit};

pub(super) fn at(asked: &Asked<'_, '_>) -> Vec<Action> {
    let written = match &asked.place.line.kind {
        // A mass where a length belongs is not the better for being one in ounces.
        LineKind::Fact(_) if asked.place.field().is_some_and(|(_, field)| is_hole(field)) => return Vec::new(),
        // Half of a list in another unit helps nobody.
        LineKind::Fact(fact) if matches!(fact.value.shape, Shape::Amount(_) | Shape::Reading(_)) => {
            let amounts = amounts::of_value(&fact.value);
            let Some(amount) = amounts.into_iter().find(|amount| covers(amount.span, asked.offset)) else {
                return Vec::new();
            };
            fact_in_units(asked, &amount)
        }
        LineKind::Pin(pin) if covers(pin.value.span, asked.offset) => pin_in_units(asked, pin.value.span),
        _ => return Vec::new(),
    };
    let Some((span, texts)) = written else { return Vec::new() };
    let action = |text: String| {
        asked.action(ActionKind::Rewrite, format!("Convert to `{text}`"), vec![Edit::replace(span, text)])
    };
    texts.into_iter().map(action).collect()
}

fn is_hole(field: &Field) -> bool {
    field.value.is_hole()
}

/// The units in which an amount is a number that people write: `268400 µm` and `0.003 kg` are none.
fn handy_units(base: f64, unit: Unit) -> impl Iterator<Item = Unit> {
    let handy = move |other: &Unit| base == 0.0 || (0.01..1e4).contains(&other.from_base(base).abs());
    amounts::other_units(base, unit).into_iter().filter(handy)
}

/// A number with its unit, when it says the same as before within the last digit that was written.
fn converted(stated: &Stated, unit: Unit) -> Option<String> {
    let written = units::plainly(stated.unit.convert(stated.quantity().value, unit)?);
    let back = unit.to_base(written.parse().ok()?);
    let noise = 1e-9 * stated.base.abs();
    ((back - stated.base).abs() <= stated.half_step + noise).then(|| format!("{written} {unit}"))
}

fn fact_in_units(asked: &Asked<'_, '_>, amount: &Amount) -> Option<(Span, Vec<String>)> {
    let text = &asked.place.source.text;
    let alone = match &amount.expr {
        Expr::Literal(literal) => Some(literal),
        Expr::Negative { inner, .. } => match &**inner {
            Expr::Literal(literal) => Some(literal),
            _ => None,
        },
        _ => None,
    };
    let stated = match alone {
        Some(literal) => {
            let unit = Unit::parse(literal.unit?.of(text)).ok()?;
            amounts::stated(text, literal, unit, Some(amount))
        }
        // Arithmetic is written again as what it amounts to.
        None => match asked.place.field()?.1.value {
            FieldValue::Quantity(stated) => stated,
            _ => return None,
        },
    };
    let known = Known::of(asked.computing, asked.computed()?, &asked.place, &stated);
    let write = |unit: Unit| {
        let value = converted(&stated, unit)?;
        Some(match stated_limits(text, amount, stated.unit, unit).or_else(|| limits(known.as_ref(), unit)) {
            Some(limits) if limits.contains('e') => return None,
            Some(limits) => format!("{value} ± {limits}"),
            None => value,
        })
    };
    let texts = handy_units(stated.base, stated.unit).filter_map(write).collect();
    Some((amount.span, texts))
}

/// Limits that stand there already, in the new unit. A share of the value is one in every unit.
fn stated_limits(text: &str, amount: &Amount, from: Unit, to: Unit) -> Option<String> {
    let limits = amount.limits.as_deref()?;
    let coverage = if limits.expanded { " (k=2)" } else { "" };
    let own = limits.unit.and_then(|unit| Unit::parse(unit.of(text)).ok())?;
    if own == Unit::PERCENT && from != Unit::PERCENT {
        return Some(format!("{} %{coverage}", limits.number.span.of(text)));
    }
    let value = own.convert_difference(limits.number.value, to)?;
    Some(format!("{} {to}{coverage}", units::plainly(value)))
}

/// What the digits say, the instrument or the set of masses, written out: bounds for what was read in steps.
fn limits(known: Option<&Known>, unit: Unit) -> Option<String> {
    let Known { standard, why } = *known?;
    let written = |value: f64| units::number(value / unit.factor(), None);
    match why {
        Why::HalfStep | Why::Instrument => Some(format!("{} {unit}", written(standard * 3f64.sqrt()))),
        Why::Set => Some(format!("{} {unit} (k=2)", written(2.0 * standard))),
        Why::Demand | Why::Nominal | Why::Limits | Why::Certificate => None,
    }
}

/// A pin in other units, with the digits of what is computed.
fn pin_in_units(asked: &Asked<'_, '_>, span: Span) -> Option<(Span, Vec<String>)> {
    let book = asked.computing.book();
    let blocks = asked.place.blocks()?;
    let (block, pin) = asked.place.pin()?;
    let results = ByBlock::of(blocks.item, book.item(blocks.item), asked.computed()?);
    let entry = results.entries(block).iter().find(|entry| *entry.name() == *pin.name)?;
    let Outcome::Amount { base, .. } = entry.outcome else { return None };
    let written = match &pin.value {
        crate::sheet::PinValue::Amount(Stated { unit, limits: None, .. }) => *unit,
        _ => return None,
    };
    let texts = handy_units(base, written);
    Some((span, texts.map(|unit| units::quantity(unit.from_base(base), &unit.to_string(), None)).collect()))
}
