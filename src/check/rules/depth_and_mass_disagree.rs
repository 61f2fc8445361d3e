use crate::book::Val;
use crate::check::amounts::{amount, shown};
use crate::check::{ItemContext, Sink, rotors};
use crate::units::{Angle, Length, Mass, Ratio};
use crate::vocabulary::{correction, plane};

/// Swarf is not weighed well, nor is the density of a casting known well. Source: common practice, no source.
const AGREES: f64 = 0.25;

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(record) = context.record() else { return };
    let Some(rotor) = record.setup.as_ref().and_then(|setup| setup.rotor.as_ref()) else { return };
    let facts = context.computing.facts();
    for correction in &record.corrections {
        let Some(plane) = rotor.plane(correction.plane) else { continue };
        let depth: Val<Length> = facts.quantity(&correction.block, correction::DEPTH);
        let mass: Val<Mass> = facts.quantity(&correction.block, correction::REMOVE);
        let (Some(deep), Some(stated), Some(method)) = (depth.get(), mass.get(), plane.method) else { continue };
        let Some(one) = plane.geometry.mass_at_depth(method, deep).filter(|one| *one > Mass::ZERO) else { continue };
        // Of a hole that was drilled deeper, what came off then.
        let angle: Val<Angle> = facts.quantity(&correction.block, correction::ANGLE);
        let before = angle.get().and_then(|angle| correction.carried.made_deeper_by(angle, deep)?.depth);
        let before = before.and_then(|before| plane.geometry.mass_at_depth(method, before)).unwrap_or(Mass::ZERO);
        let one = one - before;
        let most: Val<Ratio> = facts.number(&plane.block, plane::HOLES_AT_MOST);
        let most = most.get().map_or(1.0, Ratio::value).max(1.0);
        let holes = (stated / one).value().round().clamp(1.0, most);
        if ((stated / (one * holes)).value() - 1.0).abs() <= AGREES {
            continue;
        }
        let cut = rotors::cut(plane);
        let message = format!(
            "{cut} {} deep in plane {} takes off {}, where {} are stated",
            shown(&depth),
            plane.name,
            amount(one, mass.unit),
            shown(&mass)
        );
        let help = "weigh what came off, or measure the depth again; the stated mass is used";
        sink.report(context.beside_first(&correction.block, &[correction::DEPTH.any()], message).help(help));
    }
}
