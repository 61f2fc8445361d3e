use crate::book;
use crate::book::{EffectiveField, RotorResults};
use crate::check::machine_limits::{machine_fact, machine_name, rotor_name};
use crate::check::{ItemContext, Sink};
use crate::sheet::{FieldValue, Stated};
use crate::units::Length;
use crate::vocabulary::{Fact, machine, plane, rotor, setup};

/// Facts of a plane that say how far it reaches, with how often they go into a diameter.
const OF_A_PLANE: [(Fact<Length>, f64); 5] = [
    (plane::RADIUS, 2.0),
    (plane::DIAMETER, 1.0),
    (plane::SURFACE_RADIUS, 2.0),
    (plane::SURFACE_DIAMETER, 1.0),
    (plane::PITCH_DIAMETER, 1.0),
];

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some((setup, swing)) = machine_fact(context, machine::SWING) else { return };
    let (Some(rotor), FieldValue::Quantity(clears)) = (&setup.rotor, &swing.field.value) else { return };
    let Some((across, field, stated)) = largest(rotor) else { return };
    if across <= clears.base * (1.0 + 1e-9) {
        return;
    }
    let message = format!(
        "rotor \"{}\" is {} across by its {}, more than the swing of machine \"{}\", {}",
        rotor_name(setup),
        book::display_value(across, stated.unit, 0.0),
        context.line(field),
        machine_name(setup),
        context.written(swing)
    );
    sink.report(
        context
            .beside_first(&setup.block, &[setup::ROTOR.any()], message)
            .help("set it up on a machine with a larger swing; or see whether a diameter was written as a radius")
            .about(field, "how far the rotor reaches")
            .about(swing, "what clears the bed"),
    );
}

/// The largest diameter that the rotor states, in metres, and the fact that states it.
fn largest<'b>(rotor: &RotorResults<'b>) -> Option<(f64, EffectiveField<'b>, Stated)> {
    let whole = rotor.block.field(rotor::LARGEST_DIAMETER).map(|field| (field, 1.0));
    let planes = rotor.planes.iter().flat_map(|plane| {
        OF_A_PLANE.iter().filter_map(|(fact, times)| plane.block.field(*fact).map(|field| (field, *times)))
    });
    whole
        .into_iter()
        .chain(planes)
        .filter_map(|(field, times)| match field.field.value {
            FieldValue::Quantity(stated) => Some((stated.base * times, field, stated)),
            _ => None,
        })
        .max_by(|a, b| a.0.total_cmp(&b.0))
}
