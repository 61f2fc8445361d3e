use crate::book::{CarriedCut, CorrectionResults, RecordResults};
use crate::check::rotors::{given, in_unit, quantity};
use crate::check::{ItemContext, Sink};
use crate::units::{Angle, Typed, Unit};
use crate::vocabulary::{correction, plane};

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(record) = context.record() else { return };
    let Some(rotor) = record.setup.as_deref().and_then(|setup| setup.rotor.as_deref()) else { return };
    for correction in record.corrections.iter().filter(|one| one.adds == Some(false)) {
        let Some(plane) = rotor.plane(correction.plane) else { continue };
        let Some((field, stated)) = quantity(&correction.block, correction::ANGLE) else { continue };
        let angle = Angle::from_base(stated.base);
        let Some(depth) = correction.then.cut_at(angle).and_then(|cut| cut.depth) else { continue };
        // A hole of an earlier record is known no better than this one.
        let own = stated.half_step;
        let known_to = |cut: &CarriedCut| Angle::from_base(own + known_to(record, correction, cut).unwrap_or(own));
        let Some(near) = plane.too_near(&correction.carried, (angle, depth), known_to) else { continue };
        let length = |length| in_unit(length, plane.geometry.hole_diameter.unit);
        let degrees = |angle: Angle| given(Angle::degrees((angle.in_degrees() * 10.0).round() / 10.0), Unit::DEGREE);
        let at_bottom = match near.at_bottom < near.at_surface {
            true => format!(" where they go in and {} at their bottoms", length(near.at_bottom)),
            false => String::new(),
        };
        let asked = match plane.block.field(plane::HOLE_SPACING_AT_LEAST) {
            Some(_) => format!("`{}` of the plane is {}", plane::HOLE_SPACING_AT_LEAST, length(near.least)),
            None => format!("they are {} wide", length(near.least)),
        };
        let message = format!(
            "the holes of plane {} at {} and {} are {} apart{at_bottom}; {asked}",
            plane.name,
            degrees(near.angle),
            degrees(angle),
            length(near.at_surface),
        );
        let help = match near.meet {
            true => "holes that run into each other take off less than each alone: weigh the chips",
            false => "have what is left between them looked at; if they are not so near, correct the angles",
        };
        sink.report(context.beside(field, message).help(help));
    }
}

/// Half a step of the angle of an earlier hole of this record.
fn known_to(record: &RecordResults<'_>, of: &CorrectionResults<'_>, cut: &CarriedCut) -> Option<f64> {
    let own = record.corrections.iter().filter(|one| one.plane == of.plane);
    let mut stated = own.filter_map(|one| Some(quantity(&one.block, correction::ANGLE)?.1));
    let is_its = |one: Angle| (one - cut.angle).in_degrees().abs() < 1e-9;
    stated.find(|stated| is_its(Angle::from_base(stated.base))).map(|stated| stated.half_step)
}
