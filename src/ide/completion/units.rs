//! Units for a number: those of the dimension that is expected, the one that the sheet uses first.

use super::context::Context;
use super::{Completion, CompletionKind};
use crate::ide::names::Owners;
use crate::sheet::{Block, FieldValue, SettingValue, Stated, StatedRange};
use crate::syntax::Kind;
use crate::text::Span;
use crate::units::{Dimension, Unit};
use crate::vocabulary::{self, KeySpec, QuantityKind, ValueType, readout};

/// The dimensions that a number may have where the cursor is; `before` is what comes before it in its value.
pub(super) fn dimensions(value: ValueType, before: &str) -> &'static [Dimension] {
    use ValueType as T;
    match value {
        T::Reading | T::Readings | T::ReadingOfDay | T::UnbalanceVector | T::UnbalanceOrPercentage
            if before.contains('@') =>
        {
            &[Dimension::ANGLE]
        }
        T::Reading | T::Readings | T::ReadingOfDay => vocabulary::READING_DIMENSIONS,
        T::PercentageOrAmount => vocabulary::PERCENTAGE_OR_READING,
        T::Setting | T::DialRange | T::DialStep => vocabulary::DIAL_DIMENSIONS,
        T::Places if !before.contains("from") => &[],
        T::Weighing => match before.contains(" at ") {
            true => &[Dimension::LENGTH],
            false => &[Dimension::MASS],
        },
        _ => value.dimensions(),
    }
}

/// The units of these dimensions as completions. On a readout, what it shows comes first, and nothing else when it is
/// known.
pub(super) fn completions(
    context: &Context<'_, '_>,
    key: &KeySpec,
    dimensions: &[Dimension],
    replace: Span,
) -> Vec<Completion> {
    let dimensions = readout_dimensions(context, dimensions).unwrap_or_else(|| dimensions.to_vec());
    let mut found: Vec<Completion> = Vec::new();
    for dimension in dimensions {
        let first = preferred(context, key, dimension).to_string();
        let usual = dimension.usual_units().iter().map(|unit| (*unit).to_owned());
        let specific = key.quantity == Some(QuantityKind::SpecificUnbalance);
        for unit in std::iter::once(first).chain(usual) {
            if (specific || !is_of_a_specific_unbalance(&unit))
                && !unit.is_empty()
                && found.iter().all(|other| other.label != unit)
            {
                let detail = Some(dimension.name().into_owned());
                let filter = ascii(&unit);
                let completion = Completion::new(unit.clone(), CompletionKind::Unit, replace, unit);
                found.push(Completion { detail, filter, ..completion });
            }
        }
    }
    found
}

/// An unbalance divided by a mass is a length, and no unit for any other one.
fn is_of_a_specific_unbalance(unit: &str) -> bool {
    unit.contains("/kg")
}

/// A unit as it can be typed on any keyboard.
fn ascii(unit: &str) -> Option<String> {
    let typed = unit.replace('·', "*").replace('²', "2").replace('³', "3").replace('µ', "u").replace('°', "deg");
    (typed != unit).then_some(typed)
}

/// What the machine's readout shows, when a reading is expected and the machine is known. A dial with scales is read in
/// marks too.
fn readout_dimensions(context: &Context<'_, '_>, dimensions: &[Dimension]) -> Option<Vec<Dimension>> {
    if dimensions != vocabulary::READING_DIMENSIONS {
        return None;
    }
    let machine = Owners::new(context.book, context.item()?).machine?;
    let readout = context.book.item(machine).inner(Kind::Readout).next()?;
    let shown = readout.choice(readout::SHOWS)?.dimension();
    let marks = readout.inner(Kind::Scale).next().map(|_| Dimension::MARK);
    Some(std::iter::once(shown).chain(marks).collect())
}

/// The units of a control's range, which are those that it is set in; none when its range is one of plain numbers.
pub(super) fn of_range(range: &FieldValue, replace: Span) -> Option<Vec<Completion>> {
    let unit = match range {
        FieldValue::Range(range) => range.low.or(range.high)?.unit,
        FieldValue::NumberRange(..) => return Some(Vec::new()),
        _ => return None,
    };
    let usual = unit.dimension().usual_units().iter().map(|unit| (*unit).to_owned());
    let mut found: Vec<Completion> = Vec::new();
    for name in std::iter::once(unit.to_string())
        .chain(usual)
        .filter(|name| !name.is_empty() && !is_of_a_specific_unbalance(name))
    {
        if found.iter().all(|other| other.label != name) {
            let detail = Some(unit.dimension().name().into_owned());
            let filter = ascii(&name);
            let completion = Completion::new(name.clone(), CompletionKind::Unit, replace, name);
            found.push(Completion { detail, filter, ..completion });
        }
    }
    Some(found)
}

/// The unit that the sheet writes for this key, else for this dimension, else the usual one.
pub(super) fn preferred(context: &Context<'_, '_>, key: &KeySpec, dimension: Dimension) -> Unit {
    let mut used = Vec::new();
    if let Some(blocks) = &context.blocks {
        collect(blocks.path[0], key, &mut used);
    }
    let of = |same_key: bool| used.iter().find(|(same, unit)| unit.dimension() == dimension && (*same || !same_key));
    if let Some((_, unit)) = of(true) {
        return *unit;
    }
    if let Some(unit) = usual(context, dimension) {
        return unit;
    }
    of(false)
        .map(|(_, unit)| *unit)
        .unwrap_or_else(|| dimension.usual_units().first().and_then(|unit| Unit::parse(unit).ok()).unwrap_or(Unit::ONE))
}

/// Where the usual unit of a dimension depends on what is described.
fn usual(context: &Context<'_, '_>, dimension: Dimension) -> Option<Unit> {
    match dimension {
        Dimension::UNBALANCE => Some(context.book.rules().unbalance_unit),
        Dimension::MASS => Some(match context.around.last() {
            Some(Kind::Rotor | Kind::Machine | Kind::Arbor | Kind::SimilarPart) => Unit::KILOGRAM,
            _ => context.book.rules().shown(Unit::GRAM),
        })
        // A shop that writes ounces goes on doing so.
        .filter(|_| !uses_ounces(context)),
        _ => None,
    }
}

fn uses_ounces(context: &Context<'_, '_>) -> bool {
    let Some(blocks) = &context.blocks else { return false };
    let mut used = Vec::new();
    collect(blocks.path[0], &blocks.path[0].spec().keys[0], &mut used);
    used.iter().any(|(_, unit)| *unit == Unit::OUNCE || *unit == Unit::POUND)
}

/// Every unit that a block writes, and whether it comes after the key.
fn collect(block: &Block, key: &KeySpec, used: &mut Vec<(bool, Unit)>) {
    for field in &block.fields {
        let same = field.key.name == key.name;
        used.extend(units_of(&field.value).into_iter().map(|unit| (same, unit)));
    }
    block.blocks.iter().for_each(|inner| collect(inner, key, used));
}

fn units_of(value: &FieldValue) -> Vec<Unit> {
    let one = |stated: &Stated| stated.unit;
    let ends =
        |range: &StatedRange| [range.low, range.high].into_iter().flatten().map(|end| end.unit).collect::<Vec<_>>();
    match value {
        FieldValue::Quantity(stated) | FieldValue::Setting(SettingValue::Quantity(stated)) => vec![stated.unit],
        FieldValue::Range(range) => ends(range),
        FieldValue::Ranges(ranges) => ranges.iter().flat_map(ends).collect(),
        FieldValue::Quantities(list) => list.iter().map(one).collect(),
        FieldValue::Reading(reading) => vec![reading.amount.unit],
        FieldValue::OfDay(checked) => vec![checked.reading.amount.unit],
        FieldValue::Readings(readings) => readings.iter().map(|reading| reading.amount.unit).collect(),
        FieldValue::Weighing(pairs) => pairs.iter().flat_map(|(mass, at)| [mass.unit, at.unit]).collect(),
        _ => Vec::new(),
    }
}
