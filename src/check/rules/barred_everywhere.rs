use crate::book::barred;
use crate::check::{ItemContext, Sink, angles, rotors};
use crate::vocabulary::plane;

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(rotor) = context.rotor() else { return };
    for plane in &rotor.planes {
        let ranges = barred(&plane.block);
        let message = match &plane.places {
            _ if ranges.is_empty() => continue,
            Some(places) if places.barred.len() == places.angles.len() => {
                format!(
                    "all {} places of {} lie in barred \
                    angles",
                    places.angles.len(),
                    rotors::heading(context, &plane.block)
                )
            }
            None if angles::cover_everything(&ranges) => {
                format!("the barred angles of {} go all round", rotors::heading(context, &plane.block))
            }
            _ => continue,
        };
        sink.report(
            context
                .draft(rotors::span_of(&plane.block, &[plane::BARRED.any()]), message)
                .help("a range runs with increasing angle and may pass zero: `350 deg to 10 deg` is 20 deg wide"),
        );
    }
}
