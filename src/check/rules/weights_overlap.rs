use crate::check::rotors::{given, quantity};
use crate::check::{ItemContext, Sink};
use crate::sheet::{FieldValue, Stated};
use crate::units::{Angle, Length, Typed, Unit};
use crate::vocabulary::{plane, run};

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(record) = context.record() else { return };
    let Some(rotor) = record.setup.as_deref().and_then(|setup| setup.rotor.as_deref()) else { return };
    for run in &record.runs {
        for (name, field) in run.block.named(run::WEIGHTS_AT) {
            let FieldValue::Quantities(stated) = &field.field.value else { continue };
            let Some(plane) = rotor.plane(&name.text) else { continue };
            let length = quantity(&plane.block, plane::WEIGHT_LENGTH).map(|(_, length)| Length::from_base(length.base));
            let (Some(length), Some(radius)) = (length, plane.radius.get()) else { continue };
            let apart = Angle::radians((length / radius).value());
            let Some(([one, other], gap)) = nearest(stated) else { continue };
            // Angles are read to a step.
            let read_to = Angle::from_base(stated[one].half_step + stated[other].half_step);
            if gap + read_to >= apart {
                continue;
            }
            let message = format!(
                "weights {} and {} of {} are {} apart; each takes up {} of the groove",
                one + 1,
                other + 1,
                plane.name,
                given(gap, Unit::DEGREE),
                given(Angle::degrees((apart.in_degrees() * 10.0).round() / 10.0), Unit::DEGREE),
            );
            sink.report(context.beside(field, message).help("write where each weight is, weight 1 first"));
        }
    }
}

/// The two that are nearest to each other, by number from 0, and how far apart they are.
fn nearest(stated: &[Stated]) -> Option<([usize; 2], Angle)> {
    let pairs = (0..stated.len()).flat_map(|one| (one + 1..stated.len()).map(move |other| [one, other]));
    let between = |[one, other]: [usize; 2]| {
        let turn = Angle::from_base(stated[other].base - stated[one].base).within_one_turn();
        ([one, other], turn.min(Angle::degrees(360.0) - turn))
    };
    pairs.map(between).min_by(|(_, a), (_, b)| a.in_degrees().total_cmp(&b.in_degrees()))
}
