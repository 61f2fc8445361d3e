use crate::book::{HeavySpot, SeparationResults, display_value};
use crate::check::{Draft, ItemContext, Sink};
use crate::units::{Angle, Unit};
use crate::vocabulary::{calibrate, separation, setup};

/// Where two facts put the heavy spot in different places.
pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    sink.drafts.extend(by_calibration(context));
    sink.drafts.extend(by_proof(context));
}

fn degrees(angle: Angle) -> String {
    display_value(angle.in_radians(), Unit::DEGREE, 0.0)
}

fn by_calibration<'b>(context: &ItemContext<'b, '_>) -> Vec<Draft> {
    let Some(setup) = context.setup() else { return Vec::new() };
    let one = |spot: &HeavySpot<'b>| {
        let indicates = setup.block.field(setup::INDICATES)?;
        let block = setup.calibration(spot.plane)?.block.as_ref()?;
        let (angle, shows) = (block.field(calibrate::ANGLE)?, block.field(calibrate::SHOWS)?);
        let message = format!(
            "{} and {} put the mass of plane {} {} from where {} says",
            context.line(angle),
            context.line(shows),
            spot.plane,
            degrees(spot.apart?),
            context.line(indicates),
        );
        let help = "look at the machine with the mass on, and put right whichever is wrong; or leave `indicates` out: the \
                    calibration says more";
        Some(context.beside(shows, message).about(indicates, "what the setup indicates").help(help))
    };
    setup.heavy_spots.iter().filter_map(one).collect()
}

fn by_proof<'b>(context: &ItemContext<'b, '_>) -> Vec<Draft> {
    let Some(setup) = context.setup() else { return Vec::new() };
    let separations = setup.proof.iter().flat_map(|proof| &proof.separations);
    let one = |separation: &SeparationResults<'b>| {
        let off = separation.own_angle.as_ref()?.get()?;
        let stands = separation.block.field(separation::ANGLE)?;
        let block = setup.calibration(separation.plane).and_then(|calibration| calibration.block.as_ref());
        let calibrated = block.filter(|block| block.field(calibrate::ANGLE).is_some());
        let said = calibrated.and_then(|block| block.field(calibrate::SHOWS));
        let said = said.or_else(|| setup.block.field(setup::INDICATES))?;
        let message = format!(
            "the mass in plane {} reads {} from its true angle, half a turn from where {} puts it",
            separation.plane,
            degrees(Angle::radians(off.in_radians().abs())),
            context.line(said),
        );
        let help = "put the mass on again and run: if the machine points at the mass, it indicates the heavy spot; if it points half a turn away, the light spot";
        Some(context.beside(stands, message).about(said, "what the setup says").help(help))
    };
    separations.filter(|separation| separation.shows_the_other_spot()).filter_map(one).collect()
}
