use crate::book::{self, RotorResults, SetupResults, WhyNot};
use crate::check::calibration::{self, ToSet};
use crate::check::{ItemContext, Sink, rotors};
use crate::vocabulary::setup;

const HELP: &str = "give what is missing, or set the sheet back to draft";

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(setup) = context.setup().filter(|setup| setup.is_released() && context.is_read_whole()) else { return };
    limits(context, setup, sink);
    corrections(context, setup.rotor.as_deref(), sink);
    // With trial runs the sensitivities are found at the machine.
    if setup.has_trial_runs() {
        return;
    }
    for (calibration, block) in calibration::blocks(context) {
        let Some(ToSet { fact, known: Err(missing) }) = ToSet::of(calibration, block) else { continue };
        // What cannot be read is reported where it is, and so is a tolerance without its reading.
        let unread = missing.is_reported() || !book::is_read_whole(context.book(), missing.origin.item);
        // A pin of it says the same.
        let pinned = block.own.is_some_and(|own| own.pins.iter().any(|pin| *pin.name == *fact.words()));
        if pinned || unread || missing.origin.name == setup::TOLERANCE_READS.words() {
            continue;
        }
        let why = book::why(context.book(), &missing);
        let message =
            format!("the sheet is released, but the {fact} of plane {} is not computed: {why}", calibration.plane);
        sink.report(context.on_heading(block, message).help(HELP));
    }
}

/// Without a limit nobody knows when the rotor is done.
fn limits<'b>(context: &ItemContext<'b, '_>, setup: &SetupResults<'b>, sink: &mut Sink) {
    let Some(rotor) = setup.rotor.as_deref() else { return };
    if rotors::has_limits(rotor) || !setup.vibration_limits.is_empty() || !book::is_read_whole(context.book(), rotor.id)
    {
        return;
    }
    let name = context.book().item(rotor.id).name_text();
    let message =
        format!("the sheet is released, but nothing says when the rotor is done: rotor \"{name}\" has no tolerance");
    sink.report(context.beside_first(&setup.block, &[setup::ROTOR.any()], message).help(HELP));
}

/// Without a radius a reading says nothing of a mass.
fn corrections(context: &ItemContext<'_, '_>, rotor: Option<&RotorResults<'_>>, sink: &mut Sink) {
    for calibration in context.setup().map_or(&[][..], |setup| &setup.calibrations) {
        // A machine set by dimensions has no `calibrate` block.
        let block = calibration.block.as_ref().unwrap_or(context.effective());
        let Some(plane) = rotor.and_then(|rotor| rotor.plane(calibration.plane)) else { continue };
        let Err(missing) = &plane.radius.known else { continue };
        if missing.is_reported() || !book::is_read_whole(context.book(), missing.origin.item) {
            continue;
        }
        let why = WhyNot::NoRadius(missing.clone()).words(context.book());
        let message = format!(
            "the sheet is released, but how much to correct in plane {} is not computed: {why}",
            calibration.plane
        );
        sink.report(context.on_heading(block, message).help(HELP));
    }
}
