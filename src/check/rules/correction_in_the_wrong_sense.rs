use crate::check::amounts::percent;
use crate::check::{ItemContext, Sink};
use crate::mechanics::effect::Effect;
use crate::vocabulary::correction;

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(record) = context.record() else { return };
    let mut reported = Vec::new();
    for step in &record.steps {
        for (plane, effect) in &step.slips {
            let run = &record.runs[step.to];
            let Some((what, help)) = shown_by_runs(effect.effect) else { continue };
            let message = format!(
                "run \"{}\" shows the correction in plane {plane} {what}: as it was meant, {} of it does not fit",
                run.name,
                percent(effect.off_as_meant.value().min(9.99))
            );
            reported.extend(step.corrections.iter().filter(|n| record.corrections[**n].plane == *plane));
            sink.report(context.on_heading(&run.block, message).help(help));
        }
        let Some(effect) = &step.effect else { continue };
        let run = &record.runs[step.to];
        let Some((what, help)) = shown_by_runs(effect.effect) else { continue };
        let message = format!(
            "run \"{}\" shows the correction {what}: as it was meant, {} of it does not fit",
            run.name,
            percent(effect.off_as_meant.value().min(9.99))
        );
        reported.extend(step.corrections.iter().copied());
        sink.report(context.on_heading(&run.block, message).help(help));
    }
    let unreported = record.corrections.iter().enumerate().filter(|(number, _)| !reported.contains(number));
    for (_, correction) in unreported {
        let Some((what, help)) = correction.fit.and_then(|fit| stated(fit.effect)) else { continue };
        let facts = [correction::ANGLE.any(), correction::ADD.any(), correction::REMOVE.any()];
        let message = format!("the correction in plane {} {what}", correction.plane);
        sink.report(context.beside_first(&correction.block, &facts, message).help(help));
    }
}

/// What runs before and after a correction say of it, and what to look at.
fn shown_by_runs(effect: Effect) -> Option<(&'static str, &'static str)> {
    Some(match effect {
        Effect::Opposite => (
            "half a turn off",
            "look at `indicates` and at whether the plane adds or removes: mass went where it should have come off",
        ),
        Effect::Mirrored => (
            "mirrored",
            "look at `angles count` of the rotor and of the readout, and from which end the angle was set off",
        ),
        Effect::Swapped => {
            ("in the other plane", "look at which channel is said to read which plane, and at which end is which")
        }
        Effect::AsMeant | Effect::Unexplained => return None,
    })
}

/// What a stated correction says of itself beside what its run calls for.
fn stated(fit: Effect) -> Option<(&'static str, &'static str)> {
    Some(match fit {
        Effect::Opposite => (
            "is half a turn from what its run calls for, and doubles the unbalance",
            "mass is taken off at the heavy spot and put on half a turn from it",
        ),
        Effect::Mirrored => (
            "fits its run only if readings and masses are counted in opposite senses",
            "look at `angles count` of the rotor and of the readout; one of them is not as the angle was set off",
        ),
        Effect::Swapped => ("is what the run calls for in the other plane", "look at which plane it was made in"),
        Effect::AsMeant | Effect::Unexplained => return None,
    })
}
