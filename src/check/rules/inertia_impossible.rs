use crate::check::{ItemContext, Sink, rotors};
use crate::vocabulary::rotor;

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(rotor) = context.rotor() else { return };
    let Some((polar, about_axis)) = rotors::quantity(&rotor.block, rotor::POLAR_INERTIA) else { return };
    if let Some((diametral, across)) = rotors::quantity(&rotor.block, rotor::DIAMETRAL_INERTIA)
        && about_axis.base > 2.0 * across.base * (1.0 + 1e-9)
    {
        let message = format!(
            "the polar inertia {} is more than twice the diametral inertia {}",
            rotors::written(context, polar),
            rotors::written(context, diametral),
        );
        let help = "twice is what a flat disc has, and no body has more; the two may have been exchanged";
        let other = diametral.field.value_span;
        let draft = context.draft(polar.field.value_span, message);
        sink.report(draft.help(help).related(context.id.file, other, "the other"));
        return;
    }
    let Some((diameter, across)) = rotors::quantity(&rotor.block, rotor::LARGEST_DIAMETER) else { return };
    let Some(mass) = rotor.mass.get() else { return };
    let radius = across.base / 2.0;
    let most = mass.in_kilograms() * radius * radius;
    if about_axis.base <= most * (1.0 + 1e-9) {
        return;
    }
    let message = format!(
        "the polar inertia {} is more than the {} that all of the mass at the rim of {} would have",
        rotors::written(context, polar),
        crate::book::display_value(most, about_axis.unit, 0.0),
        rotors::written(context, diameter),
    );
    sink.report(context.draft(polar.field.value_span, message).help(
        "look at its unit: kg·m² and g·mm² differ \
        by a thousand million",
    ));
}
