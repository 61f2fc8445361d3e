use crate::check::{ItemContext, Sink, rotors};
use crate::vocabulary::{Choice, plane, plane::CorrectBy};

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(rotor) = context.rotor() else { return };
    for plane in &rotor.planes {
        let (Some(correct), Some(method)) = (plane.block.choice(plane::CORRECT), plane.block.choice(plane::METHOD))
        else {
            continue;
        };
        let does = match (correct, method.does()) {
            (CorrectBy::Add, CorrectBy::Remove) => "takes material off",
            (CorrectBy::Remove, CorrectBy::Add) => "puts material on",
            _ => continue,
        };
        let message = format!(
            "{} is to {} material, but {} {does}",
            rotors::heading(context, &plane.block),
            correct.words(),
            method.words()
        );
        let other = if correct == CorrectBy::Add { CorrectBy::Remove } else { CorrectBy::Add };
        let draft = context
            .draft(rotors::span_of(&plane.block, &[plane::METHOD.any()]), message)
            .help(format!("write `correct: {}`, or the method that is meant", other.words()));
        sink.report(match plane.block.field(plane::CORRECT) {
            Some(field) => draft.offer_value(context, field, other.words()),
            None => draft,
        });
    }
}
