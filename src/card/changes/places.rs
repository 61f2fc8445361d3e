//! Places that are elsewhere on the drawing of a plane, in words: hands go by its numbers.

use super::lines::Line;
use super::{CardChange, CardChangeKind};
use crate::card::drawing::{Drawing, Form, PLACE, READ_FOR};
use crate::units::Unit;

/// The first of the places that are somewhere else, and how many more there are.
pub(super) fn moved(old: &Line<'_>, new: &Line<'_>) -> Option<CardChange> {
    let (before, after) = (old.drawing?, new.drawing?);
    let (said, now, before) = match read(after).is_empty() || read(before).is_empty() {
        false => ("read at", read(after), read(before)),
        true => ("from the zero mark, clockwise", drawn(after), drawn(before)),
    };
    let was = |place: &str| before.iter().find(|(other, _)| *other == place).map(|(_, at)| at);
    let moved: Vec<_> = now.iter().filter_map(|(place, at)| Some((place, was(place)?, at))).collect();
    let mut moved = moved.into_iter().filter(|(_, was, at)| was != at);
    let (place, was, at) = moved.next()?;
    let more = match moved.count() {
        0 => String::new(),
        1 => ", and 1 more place".to_owned(),
        more => format!(", and {more} more places"),
    };
    Some(CardChange {
        side: new.side,
        section: new.section.clone(),
        of: format!("{place}, {said}"),
        old: Some(format!("{was} {}", Unit::DEGREE)),
        new: Some(format!("{at} {}{more}", Unit::DEGREE)),
        what: CardChangeKind::Drawing,
        is_set: false,
        about: None,
    })
}

/// What is read where each place is the one to correct at.
fn read(drawing: &Drawing) -> Vec<(&str, String)> {
    let of = |shape: &'_ crate::card::drawing::Shape| match &shape.form {
        Form::Text { text, .. } => Some(text.clone()),
        _ => None,
    };
    let shapes = drawing.shapes.iter();
    shapes.filter_map(|shape| Some((shape.of.strip_prefix(READ_FOR)?, of(shape)?))).collect()
}

/// The angle of each place on paper, from the zero mark at the top.
fn drawn(drawing: &Drawing) -> Vec<(&str, String)> {
    let middle = drawing.shapes.iter().find_map(|shape| match shape.form {
        Form::Circle { at, .. } if !shape.of.starts_with(PLACE) => Some(at),
        _ => None,
    });
    let Some(middle) = middle else { return Vec::new() };
    let of = |form: &Form| match form {
        Form::Circle { at, .. } => {
            let clockwise = (at[0] - middle[0]).atan2(middle[1] - at[1]).to_degrees();
            Some(format!("{:.0}", clockwise.round().rem_euclid(360.0)))
        }
        _ => None,
    };
    let places = drawing.shapes.iter().filter(|shape| shape.of.starts_with(PLACE));
    places.filter_map(|shape| Some((shape.of.as_str(), of(&shape.form)?))).collect()
}
