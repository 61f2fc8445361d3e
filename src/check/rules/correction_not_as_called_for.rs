use crate::book::{CorrectionResults, Fit, SetupResults};
use crate::check::amounts::vector;
use crate::check::{ItemContext, Sink};
use crate::mechanics::effect::{Effect, apart};
use crate::units::Angle;
use crate::vocabulary::correction;

/// A correction in the right direction to within this angle, and not too much, is a first step. Source: common practice,
/// no source.
const FIRST_STEP: f64 = 15.0;

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some((record, setup)) = context.record().and_then(|record| Some((record, record.setup.as_ref()?))) else {
        return;
    };
    for correction in &record.corrections {
        let Some(fit) = correction.fit.filter(|fit| is_another(setup, correction, fit)) else { continue };
        let unit = correction.done.as_ref().map_or(context.computing.facts().shop.unbalance_unit, |done| done.unit);
        let message = format!(
            "the correction in plane {} puts on {}, where its run calls for {}: {}",
            correction.plane,
            vector(fit.done, unit),
            vector(fit.wanted, unit),
            off(apart(fit.done, fit.wanted).value())
        );
        let facts = [
            correction::ANGLE.any(),
            correction::ADD_PLACE.any(),
            correction::REMOVE_PLACE.any(),
            correction::ADD.any(),
            correction::REMOVE.any(),
        ];
        sink.report(context.beside_first(&correction.block, &facts, message).help(
            "look at masses, places and `after`; a correction that was made for another reason is said by a `note`",
        ));
    }
}

/// A share that fills no line; where nothing was called for, it has no end.
fn off(share: f64) -> String {
    match share > 9.99 {
        true => "more than ten times off".to_owned(),
        false => format!("{} off", crate::check::amounts::percent(share)),
    }
}

/// Whether what was done is something else: neither what is called for, nor a slip that has a name, nor a first step of
/// it, and more is left than the plane may have.
fn is_another(setup: &SetupResults<'_>, correction: &CorrectionResults<'_>, fit: &Fit) -> bool {
    let off = fit.done.angle() - fit.wanted.angle();
    let is_first_step = off.cos() >= Angle::degrees(FIRST_STEP).cos() && fit.done.amount() <= fit.wanted.amount();
    let plane = setup.rotor.as_ref().and_then(|rotor| rotor.plane(correction.plane));
    let left = (fit.done - fit.wanted).amount();
    let matters = plane.and_then(|plane| plane.tolerance.get()).is_none_or(|tolerance| left > tolerance);
    fit.effect == Effect::Unexplained && !is_first_step && matters
}
