use crate::book::RecordResults;
use crate::check::{ItemContext, Sink, rotors};
use crate::sheet::FieldValue;
use crate::vocabulary::{AnyFact, plane};

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    if let Some(record) = context.record() {
        return corrections(context, record, sink);
    }
    let Some(rotor) = context.rotor() else { return };
    for plane in &rotor.planes {
        let value = |fact: AnyFact| plane.block.field(fact).map(|field| &field.field.value);
        let (Some(FieldValue::Places { count, .. }), Some(FieldValue::Names(used))) =
            (value(plane::PLACES.any()), value(plane::PLACES_USED.any()))
        else {
            continue;
        };
        for name in used {
            let Ok(number) = name.text.parse::<u32>() else { continue };
            if (1..=*count).contains(&number) {
                continue;
            }
            let heading = rotors::heading(context, &plane.block);
            let message = format!("place {number} is said to be taken, but {heading} has places 1 to {count}");
            sink.report(context.draft(name.span, message).help(
                "places are numbered from 1, beginning at the \
                angle in `places`",
            ));
        }
    }
}

/// Places that corrections of a record name.
fn corrections<'b>(context: &ItemContext<'b, '_>, record: &RecordResults<'b>, sink: &mut Sink) {
    let Some(rotor) = record.setup.as_ref().and_then(|setup| setup.rotor.as_ref()) else { return };
    for correction in &record.corrections {
        let Some(plane) = rotor.plane(correction.plane) else { continue };
        let (has, help) = match plane.block.field(plane::PLACES).map(|field| &field.field.value) {
            Some(FieldValue::Places { count, .. }) => {
                (format!("has places 1 to {count}"), "places are numbered from 1, as the rotor's plane has it")
            }
            None => ("has no numbered places".to_owned(), "give the mass with its `angle` instead"),
            Some(_) => continue,
        };
        for place in correction.places.iter().filter(|place| !plane.has_place(place.name)) {
            let message = format!("place {} is corrected, but plane {} {has}", place.name, correction.plane);
            sink.report(context.beside(place.field, message).help(help));
        }
    }
}
