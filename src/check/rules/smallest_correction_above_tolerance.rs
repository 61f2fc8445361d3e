use crate::book::{Method, PlaneResults};
use crate::check::{ItemContext, Sink, rotors};
use crate::mechanics::correction::drilling::{Drill, axial_hole, radial_hole};
use crate::units::{Length, Typed, Unbalance};
use crate::vocabulary::{AnyFact, plane};

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(rotor) = context.rotor() else { return };
    for plane in &rotor.planes {
        let Some((smallest, what, fact)) = smallest(plane) else { continue };
        let Some(tolerance) = plane.tolerance.get() else { continue };
        // A correction of at most twice the tolerance can still bring any unbalance above it to within it.
        if smallest.base() <= 2.0 * tolerance.base() || tolerance.base() <= 0.0 {
            continue;
        }
        let unit = plane.tolerance.unit;
        let message = format!(
            "{what} makes {}, more than twice the tolerance of {}, {}",
            rotors::in_unit(smallest, unit),
            rotors::heading(context, &plane.block),
            rotors::in_unit(tolerance, unit),
        );
        sink.report(
            context
                .draft(rotors::span_of(&plane.block, &[fact]), message)
                .help("use a smaller drill or lighter pieces, or a plane at a smaller radius for the last step"),
        );
    }
}

/// The least that the plane's method takes off or puts on, what that is, and the fact it comes from.
fn smallest(plane: &PlaneResults<'_>) -> Option<(Unbalance, &'static str, AnyFact)> {
    let geometry = &plane.geometry;
    match plane.method? {
        Method::Drilling => {
            let drill = Drill { diameter: geometry.hole_diameter.get()?, point_angle: geometry.point_angle.get()? };
            let density = geometry.density.get()?;
            let tip = match geometry.axial {
                true => axial_hole(drill, Length::ZERO, geometry.pitch_radius.get()?, density),
                false => radial_hole(drill, Length::ZERO, geometry.surface.get()?, density),
            };
            Some((tip.ok()?.unbalance, "the tip of the drill alone", plane::HOLE_DIAMETER.any()))
        }
        method if method.is_in_pieces() => {
            Some((geometry.mass_each.get()? * plane.radius.get()?, "one piece", plane::MASS_EACH.any()))
        }
        _ => None,
    }
}
