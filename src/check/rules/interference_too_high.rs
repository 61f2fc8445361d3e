use crate::book::Val;
use crate::check::amounts::{limit, percent};
use crate::check::{ItemContext, Severity, Sink};
use crate::units::Ratio;
use crate::vocabulary::{separation, trial};

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(setup) = context.setup() else { return };
    let accepted = context.book().rules().interference;
    let too_high = |ratio: &Option<Val<Ratio>>| ratio.as_ref()?.get().filter(|ratio| *ratio > accepted);
    for separation in setup.proof.iter().flat_map(|proof| &proof.separations) {
        let Some(ratio) = too_high(&separation.interference) else { continue };
        let message = says("the mass", separation.plane, ratio, accepted);
        sink.report(context.beside_first(&separation.block, &[separation::MASS.any()], message).help(
            "set the separation again, until the mass leaves the other plane's reading where it was; then calibrate and \
             prove again",
        ));
    }
    let Some(trials) = &setup.trials else { return };
    let proved = |plane: &str| {
        let separations = setup.proof.iter().flat_map(|proof| &proof.separations);
        separations.filter(|separation| separation.plane == plane).any(|one| one.interference.is_some())
    };
    for run in &trials.runs {
        let (Some(ratio), Some(plane)) = (too_high(&run.interference), run.plane) else { continue };
        // The needles were separated after these runs, and the proof shows how well.
        if proved(plane) {
            continue;
        }
        let message = says(&format!("the mass of trial \"{}\"", run.name), plane, ratio, accepted);
        let draft = context.beside_first(&run.block, &[trial::MASS_IN.any()], message);
        sink.report(match trials.with_angles {
            true => draft.weighing(Severity::Note).help(
                "results from the trials already allow for this; a channel read on its own shows both planes until the separation is set and proved",
            ),
            false => draft.help(
                "amounts do not tell the planes apart: set the separation until the mass leaves the other plane's reading \
                 where it was, or read the angles as well",
            ),
        });
    }
}

fn says(mass: &str, plane: &str, ratio: Ratio, accepted: Ratio) -> String {
    format!(
        "{} of {mass} in plane {plane} shows in the other plane; the shop accepts {}",
        percent(ratio.value()),
        limit(accepted.value())
    )
}
