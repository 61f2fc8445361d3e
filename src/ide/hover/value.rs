//! What comes after a colon and is no name: quantities, grades, choices, places.

use std::fmt::Write as _;

use super::{Asked, Hover, key, quantity};
use crate::book::{self, Outcome};
use crate::ide::markdown::{code, plain};
use crate::ide::place::{self, covers};
use crate::ide::{amounts, explain, grades, results};
use crate::syntax::{Amount, Fact, Shape, Value};
use crate::text::Span;
use crate::units;
use crate::vocabulary::{self, ValueType};

pub(super) fn hover(asked: &Asked<'_, '_>, fact: &Fact) -> Option<Hover> {
    let spec = vocabulary::block(asked.place.around()?.last()?.kind);
    let expected = place::expected(asked.place.source, spec, &fact.head)?;
    let one = item_at(&fact.value, asked.offset);
    let (span, mut markdown) = match found(asked, one, expected.value) {
        Some(found) => found,
        None => (fact.value.span, key::of_key(spec, expected.key)),
    };
    markdown.push_str(&worked_out(asked, fact.value.span).unwrap_or_default());
    Some(Hover { span, markdown })
}

/// The value of a list that the cursor is on.
fn item_at(value: &Value, offset: u32) -> &Value {
    match &value.shape {
        Shape::List(values) => values.iter().find(|one| covers(one.span, offset)).unwrap_or(value),
        _ => value,
    }
}

fn found(asked: &Asked<'_, '_>, value: &Value, expected: ValueType) -> Option<(Span, String)> {
    let text = &asked.place.source.text;
    match &value.shape {
        Shape::Words => match expected {
            ValueType::UnitName(_) | ValueType::UnitNames(_) => {
                Some((value.span, quantity::unit(value.span.of(text))?))
            }
            ValueType::Choice(choices) => {
                let written = place::collapsed(value.span.of(text));
                Some((value.span, key::of_choices(choices, Some(&written))))
            }
            _ => None,
        },
        Shape::Grade { number, .. } => Some((value.span, grade(number.value))),
        Shape::Clock { .. } => {
            let words =
                "A place of the clock: where it is seen in the frame of the machine. It is not an angle on the rotor";
            Some((value.span, words.to_owned()))
        }
        Shape::Places { count, from } if !covers(from.span, asked.offset) => {
            Some((value.span, places(count.value, &asked.place.field()?.1.value)?))
        }
        _ => amounts::of_value(value).into_iter().find(|amount| covers(amount.span, asked.offset)).and_then(|amount| {
            let (span, words) = amount_at(asked, amount)?;
            Some((span, words))
        }),
    }
}

fn amount_at(asked: &Asked<'_, '_>, amount: Amount) -> Option<(Span, String)> {
    let whole = quantity::whole(asked, &amount);
    let literal = amounts::literal_at(&amount.expr, asked.offset);
    let Some(literal) = literal else { return whole.map(|whole| (amount.span, whole)) };
    let mut words = quantity::literal(asked, &amount, literal)?;
    let unit = literal.unit.filter(|unit| covers(*unit, asked.offset));
    if let Some(unit) = unit.and_then(|unit| quantity::unit(unit.of(&asked.place.source.text))) {
        let _ = write!(words, "\n\n{unit}");
    }
    if let Some(whole) = &whole {
        let _ = write!(words, "\n\n{whole}");
    }
    Some((if whole.is_none() { amount.span } else { literal.span }, words))
}

fn grade(number: f64) -> String {
    let mut text = format!("**G {0}**: permissible specific unbalance times speed is {0} mm/s", units::plainly(number));
    match grades::typical(number) {
        Some(rotors) => {
            let _ = write!(text, "\n\nUsual for {rotors}");
        }
        None => text.push_str("\n\nNo step of the standard's series, which goes by factors of 2.5"),
    }
    let _ = write!(text, "\n\n*Source: {}*", grades::SOURCE);
    text
}

/// Where evenly spaced places lie.
fn places(count: f64, value: &crate::sheet::FieldValue) -> Option<String> {
    const MOST: u32 = 24;
    let crate::sheet::FieldValue::Places { from, .. } = value else { return None };
    let all = count as u32;
    let angle = |n: u32| (from.base.to_degrees() + 360.0 * f64::from(n) / count).rem_euclid(360.0);
    let listed: Vec<String> = (0..all.min(MOST)).map(|n| units::plainly(angle(n))).collect();
    let more = if all > MOST { " …" } else { "" };
    Some(format!("{all} places, {} deg apart: {}{more} deg", units::plainly(360.0 / count), listed.join(", ")))
}

/// The results that stand beside the fact, one a line.
fn worked_out(asked: &Asked<'_, '_>, value: Span) -> Option<String> {
    let book = asked.computing.book();
    let blocks = asked.place.blocks()?;
    if !results::has_results(blocks.path[0].kind) {
        return None;
    }
    let computed = asked.computed()?;
    let beside = computed.entries().iter().filter(|entry| entry.place == (asked.place.file, value));
    let lines = beside.filter(|entry| !results::is_as_stated(entry)).filter_map(|entry| {
        let Outcome::Amount { .. } = entry.outcome else { return None };
        let numbers = entry.derivation.as_ref().and_then(|derivation| book::formula_with_numbers(derivation));
        let numbers = numbers.map(|numbers| format!(" {}", code(&format!("= {numbers}"))));
        let value = plain(&explain::value(book, entry));
        Some(format!("\n- {} **{value}**{}", plain(&entry.name()), numbers.unwrap_or_default()))
    });
    let lines: String = lines.collect();
    (!lines.is_empty()).then(|| format!("\n\n---\n\nWorked out from it:\n{lines}"))
}
