use crate::book::Contradiction;
use crate::check::{ItemContext, Sink};
use crate::units;
use crate::vocabulary::setup;

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some((setup, trials)) = context.setup().and_then(|setup| Some((setup, setup.trials.as_ref()?))) else { return };
    for one in &setup.contradictions {
        let Some(run) = trials.runs.iter().find(|run| run.plane == Some(&*one.plane)) else { continue };
        let draft = match one.is_calibrated {
            true => {
                let draft = context.on_heading(&run.block, one.words());
                let calibration = setup.calibration(&one.reads).and_then(|calibration| calibration.block.as_ref());
                match calibration {
                    Some(block) => draft.related(block.item.file, block.written.heading, "the calibration"),
                    None => draft,
                }
            }
            false => match setup.block.field(setup::TOLERANCE_READS) {
                Some(field) => context.beside(field, demanded(one)).related(
                    run.block.item.file,
                    run.block.written.heading,
                    "the trial run",
                ),
                None => continue,
            },
        };
        let draft = draft.help(
            "calibrate and run the trials again, at one speed and with the dials untouched; where the dials were set after \
             the trials, say `trials made: before calibration`",
        );
        sink.report(draft.offer(context, &["trials made: before calibration"]));
    }
}

fn demanded(one: &Contradiction) -> String {
    let share = one.apart.get().map_or(0.0, |share| share.value());
    format!(
        "channel {} does not read what is demanded at the tolerance of plane {}: by the trial runs it is {} off",
        one.channel,
        one.plane,
        units::quantity(100.0 * share, "%", None)
    )
}
