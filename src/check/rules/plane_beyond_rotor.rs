use crate::check::{ItemContext, Sink, rotors};
use crate::vocabulary::{plane, rotor};

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(rotor) = context.rotor() else { return };
    let Some((whole, largest)) = rotors::quantity(&rotor.block, rotor::LARGEST_DIAMETER) else { return };
    for plane in &rotor.planes {
        let diameters = [plane::DIAMETER, plane::SURFACE_DIAMETER, plane::PITCH_DIAMETER].into_iter();
        for (field, stated) in diameters.filter_map(|fact| rotors::quantity(&plane.block, fact)) {
            if stated.base <= largest.base * (1.0 + 1e-9) {
                continue;
            }
            let message = format!(
                "`{}` of {} is larger than the rotor's largest diameter of {}",
                field.field.key.name,
                rotors::written(context, field),
                rotors::written(context, whole),
            );
            sink.report(
                context
                    .draft(field.field.value_span, message)
                    .help("measure both again; the largest diameter must clear the machine")
                    .related(context.id.file, whole.field.value_span, "the rotor's largest"),
            );
        }
    }
}
