//! The sketch of the rotor: from the side, and each plane from the end.

use super::document::{Figure, Part, Section};
use super::drawing;
use super::values;
use super::words::{Rank, Words};
use crate::book::{Book, EffectiveBlock, RotorResults, SetupResults};
use crate::vocabulary::{AnyFact, Choice, Fact, plane, rotor};

/// From the side alone.
pub(super) fn side(book: &Book, rotor: Option<&RotorResults<'_>>, setup: Option<&SetupResults<'_>>) -> Option<Section> {
    let rotor = rotor?;
    let section = Section::new("Sketch");
    Some(match drawing::side_view(rotor, setup) {
        Ok(drawing) => section.part(Part::Figures(vec![Figure {
            title: Words::default(),
            drawing,
            below: vec![how_to_read(book, rotor)],
        }])),
        Err(why) => section.text(Words::said("Not drawn, because ").with(&why).say(".")),
    })
}

/// From the side, and each plane from the end.
pub(super) fn section(book: &Book, rotor: &RotorResults<'_>) -> Option<Section> {
    let mut section = side(book, Some(rotor), None)?;
    let (mut figures, mut missing): (Vec<Figure>, Vec<Words>) = (Vec::new(), Vec::new());
    for plane in &rotor.planes {
        match drawing::end_view(rotor, plane, None, None) {
            Ok(drawing) => figures.push(Figure {
                title: Words::said("Plane ").stress(plane.name),
                drawing,
                below: under(book, plane),
            }),
            Err(why) => missing.push(
                Words::said("Plane ").state(plane.name).say(" is not drawn from the end, because ").with(&why).say("."),
            ),
        }
    }
    if !figures.is_empty() {
        section = section.part(Part::Figures(figures)).text(turning(book, rotor));
    }
    for words in missing {
        section = section.text(words);
    }
    Some(section)
}

fn fact<T: ?Sized>(book: &Book, block: &EffectiveBlock<'_>, fact: Fact<T>) -> Option<String> {
    block.field(fact).and_then(|field| values::text_of_fact(book, field))
}

fn how_to_read(book: &Book, rotor: &RotorResults<'_>) -> Words {
    let mut words = match fact(book, &rotor.block, rotor::DATUM) {
        Some(datum) => Words::said("Places count from: ").state(datum).say("."),
        None => Words::said("The sheet does not say where axial places count from."),
    };
    if rotor.planes.iter().any(|plane| plane.radius.is_known()) {
        words = words.say(" Heavy lines: planes, as far out as the centre of mass of a correction.");
    }
    if let Some(largest) = fact(book, &rotor.block, rotor::LARGEST_DIAMETER) {
        words = words.say(" Broken lines: largest diameter, ").state(largest).say(".");
    }
    words
}

fn under(book: &Book, plane: &crate::book::PlaneResults<'_>) -> Vec<Words> {
    let mut lines = Vec::new();
    if let super::document::Value::Text(radius) = values::amount(book, Some(&plane.block), plane::RADIUS, &plane.radius)
    {
        lines.push(Words::said("radius ").with(&radius));
    }
    if let Some(places) = fact(book, &plane.block, plane::PLACES) {
        lines.push(Words::said("places: ").state(places));
    }
    if let Some(used) = fact(book, &plane.block, plane::PLACES_USED) {
        lines.push(Words::said("taken already: ").state(used));
    }
    if let Some(barred) = fact(book, &plane.block, plane::BARRED) {
        lines.push(Words::said("barred: ").state(barred));
    }
    lines
}

/// What all end views have in common.
fn turning(book: &Book, rotor: &RotorResults<'_>) -> Words {
    let said = |stated: AnyFact| fact(book, &rotor.block, stated).unwrap_or_default();
    let rotation = rotor.block.choice(rotor::ROTATION);
    let mut words = Words::said("Seen from the ")
        .state(rotation.map_or("", |rotation| rotation.seen_from().words()))
        .say(", turning ")
        .state(rotation.map_or("", |rotation| if rotation.is_clockwise() { "clockwise" } else { "anticlockwise" }))
        .say(". Angles count ")
        .state(said(rotor::ANGLES_COUNT.any()))
        .about(Rank::Places);
    words = match fact(book, &rotor.block, rotor::ZERO_ANGLE) {
        Some(zero) => words.say(" from: ").state(zero).say(" (the filled mark)."),
        None => words.say("; the sheet does not say which mark is zero."),
    };
    words.say(" Broken circle: radius to the centre of mass of a correction. Crossed or hatched: not to be used.")
}
