//! How the rotor is laid in.

use super::{Sheet, hole, rows, unless_empty};
use crate::book::EffectiveBlock;
use crate::card::cautions;
use crate::card::document::{Row, Section, Value};
use crate::card::values::{self, bare, text_of_fact};
use crate::card::words::{Rank, Words};
use crate::sheet::FieldValue;
use crate::vocabulary::extra_mass::On;
use crate::vocabulary::made_of::PartBalanced;
use crate::vocabulary::{AnyFact, Choice, arbor, extra_mass, keyway, made_of, rotor, setup};

pub(super) fn mount(sheet: &Sheet<'_, '_>) -> Option<Section> {
    let mut list = rows(vec![
        supports(sheet),
        sheet.fact_row(setup::BELT_RUNS_ON, "Belt runs on"),
        sheet.fact_row(setup::PULLEY, "Motor pulley"),
    ]);
    list.extend(lay_in(sheet));
    list.extend(notes(sheet).into_iter().map(|note| Row::new("Note", Value::text(note))));
    unless_empty(Section::new("Mount").cautions(cautions::mounting(sheet.book, sheet.setup)).rows(list))
}

fn at_angles(row: Row) -> Row {
    row.about(Rank::Places)
}

/// What the rotor sits on and in which position.
pub(super) fn lay_in(sheet: &Sheet<'_, '_>) -> Vec<Row> {
    let setup = sheet.setup;
    let mut list = Vec::new();
    if let Some(arbor) = &setup.arbor {
        list.push(Row::new("Arbor", Value::strong(arbor.name_text())));
        list.extend(values::row(sheet.book, arbor, arbor::EXPANDED_TO, "Expanded to"));
        list.extend(values::row(sheet.book, arbor, arbor::ZERO_ANGLE, "Zero mark of the arbor").map(at_angles));
    }
    list.extend(setup.extra_masses().map(|mass| extra(sheet, mass)));
    if let Some(rotor) = setup.rotor.as_deref() {
        list.extend(values::row(sheet.book, &rotor.block, rotor::ZERO_ANGLE, "Zero mark of the rotor").map(at_angles));
        for keyway in &rotor.keyways {
            list.push(Row::new(Words::said("Keyway ").state(keyway.name), key(sheet, &keyway.block)));
        }
        for part in &rotor.parts {
            list.push(Row::new(Words::said("Part ").state(part.name), fitted(sheet, &part.block)));
        }
    }
    list
}

/// `ON in each run: 1460.0 g, radius 44 mm, at 0 deg, 120 mm from the datum`
fn extra(sheet: &Sheet<'_, '_>, mass: &EffectiveBlock<'_>) -> Row {
    let label = Words::said("Extra mass ").state(mass.name_text());
    let Some(on) = mass.choice(extra_mass::ON) else {
        return Row::new(label, hole("the sheet does not say when it is on: ask before the run"));
    };
    let words = match on {
        On::OnlyWhileBalancing => Words::strong("ON in each run, OFF before service"),
        On::AsInService => Words::strong("ON in each run"),
        On::OnlyInService => Words::strong("OFF in each run").say(", on in service: what is read is counted with it"),
        On::Always => Words::said("never comes off"),
    };
    Row::new(label, Value::Text(words.say(": ").with(&values::extra_mass(sheet.book, mass))))
}

fn supports(sheet: &Sheet<'_, '_>) -> Option<Row> {
    let field = sheet.setup.block.field(setup::SUPPORTS_AT)?;
    let value = match &field.field.value {
        FieldValue::Quantities(places) => match places.as_slice() {
            [left, right] => {
                let [left, right] = [left, right].map(|place| bare(place.base, place.unit));
                Value::Text(Words::said("left ").stress(left).say(", right ").stress(right))
            }
            _ => values::stated(sheet.book, field),
        },
        _ => values::stated(sheet.book, field),
    };
    Some(Row::new("Supports at", value))
}

fn key(sheet: &Sheet<'_, '_>, keyway: &EffectiveBlock<'_>) -> Value {
    let Some(convention) = keyway.choice(keyway::KEY) else {
        return hole("the sheet does not say whether half key, full key or no key: ask before the run");
    };
    let words = Words::strong(convention.words());
    Value::Text(match keyway.field(keyway::MARK).and_then(|field| text_of_fact(sheet.book, field)) {
        Some(mark) => words.say(", marked ").state(mark),
        None => words,
    })
}

fn fitted(sheet: &Sheet<'_, '_>, part: &EffectiveBlock<'_>) -> Value {
    let fact = |fact: AnyFact| part.field(fact).and_then(|field| text_of_fact(sheet.book, field));
    let balanced = part.choice(made_of::BALANCED).map(|how| match how {
        PartBalanced::NotBalanced => Words::stated(how.words()),
        PartBalanced::ByItself | PartBalanced::AfterFitting => Words::said("balanced ").state(how.words()),
    });
    let said = [
        fact(made_of::MATCH_MARK.any()).map(|mark| Words::said("marks meet: ").state(mark)),
        fact(made_of::FITTED_AT.any()).map(|angle| Words::said("its zero at ").state(angle)),
        balanced,
    ];
    let words = said.into_iter().flatten().reduce(|words, more| words.say("; ").with(&more));
    words.map_or_else(|| hole("the sheet does not say how it is fitted"), Value::Text)
}

fn notes(sheet: &Sheet<'_, '_>) -> Vec<String> {
    let of = |block: &EffectiveBlock<'_>, note: AnyFact| -> Vec<String> {
        let notes = block.fields.iter().filter(|field| field.field.key.is(note));
        notes.filter_map(|field| text_of_fact(sheet.book, *field)).collect()
    };
    let mut notes = of(&sheet.setup.block, setup::NOTE.any());
    notes.extend(sheet.setup.rotor.as_deref().map(|rotor| of(&rotor.block, rotor::NOTE.any())).unwrap_or_default());
    notes
}
