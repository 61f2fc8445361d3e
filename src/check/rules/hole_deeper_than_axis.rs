use crate::book::Method;
use crate::check::{ItemContext, Sink, rotors};
use crate::units::Length;
use crate::vocabulary::plane::HoleDirection;
use crate::vocabulary::{Choice, plane};

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(rotor) = context.rotor() else { return };
    for plane in &rotor.planes {
        let geometry = &plane.geometry;
        let radial = match plane.method {
            Some(Method::Drilling) => !geometry.axial,
            Some(Method::Milling | Method::Grinding) => true,
            _ => false,
        };
        let (Some(depth), Some(surface)) = (geometry.depth.get(), geometry.surface.get()) else { continue };
        let tip = rotors::tip(plane).unwrap_or(Length::ZERO);
        if !radial || depth + tip <= surface * (1.0 + 1e-9) {
            continue;
        }
        let unit = geometry.depth.unit;
        let message = format!(
            "{} {} deep from a surface of radius {} ends beyond the axis",
            rotors::cut(plane),
            rotors::in_unit(depth + tip, unit),
            rotors::given(surface, unit),
        );
        let draft = context.draft(rotors::span_of(&plane.block, &[plane::DEPTH.any()]), message).help(
            "look at the units of `depth` and of the surface, and whether the holes run along the \
                    axis: `direction: axial`",
        );
        sink.report(match (plane.method, plane.block.field(plane::DIRECTION)) {
            (Some(Method::Drilling), Some(direction)) => {
                draft.offer_value(context, direction, HoleDirection::Axial.words())
            }
            (Some(Method::Drilling), None) => {
                draft.offer_in(context.book(), plane.block.place(), &["direction: axial"])
            }
            _ => draft,
        });
    }
}
