use crate::book::{EffectiveBlock, EffectiveField};
use crate::check::{ItemContext, Sink, rotors};
use crate::sheet::Stated;
use crate::text::Edit;
use crate::units::{self, Length, Typed};
use crate::vocabulary::{Fact, plane, rotor};

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(rotor) = context.rotor() else { return };
    let largest = rotors::quantity(&rotor.block, rotor::LARGEST_DIAMETER);
    for plane in &rotor.planes {
        for (fact, whole, twins) in [
            (plane::RADIUS, plane::DIAMETER, [plane::SURFACE_DIAMETER, plane::PITCH_DIAMETER]),
            (plane::SURFACE_RADIUS, plane::SURFACE_DIAMETER, [plane::DIAMETER, plane::PITCH_DIAMETER]),
        ] {
            let Some(radius) = rotors::quantity(&plane.block, fact) else { continue };
            let twin = twins.into_iter().find_map(|twin| rotors::quantity(&plane.block, twin));
            let twin = twin.into_iter().chain(largest).find(|twin| units::is_same(twin.1.base, radius.1.base));
            let message = match (twin, largest) {
                (Some((twin, _)), _) => {
                    format!("`{fact}` is {}, the same as `{}`", rotors::written(context, radius.0), twin.field.key.name)
                }
                (None, Some((_, largest))) if radius.1.base > largest.base / 2.0 * (1.0 + 1e-9) => format!(
                    "`{fact}` of {} reaches beyond the rotor's largest radius of {}",
                    rotors::written(context, radius.0),
                    rotors::given(Length::from_base(largest.base / 2.0), largest.unit),
                ),
                _ => continue,
            };
            report(context, &plane.block, radius, whole, message, sink);
        }
    }
}

fn report(
    context: &ItemContext<'_, '_>,
    plane: &EffectiveBlock<'_>,
    (field, _): (EffectiveField<'_>, &Stated),
    whole: Fact<Length>,
    message: String,
    sink: &mut Sink,
) {
    let help = format!(
        "a radius goes from the axis; write `{whole}: …` for what callipers measure across, or \
        halve it"
    );
    let draft = context.draft(field.field.value_span, message).help(help);
    let stands = plane.field(whole).is_some();
    sink.report(match stands {
        true => draft,
        false => draft.fix(format!("Write `{whole}`"), Edit::replace(field.field.head, whole.words())),
    });
}
