use crate::check::amounts::ratio;
use crate::check::{ItemContext, Sink};
use crate::mechanics::influence::ACT_ALIKE;
use crate::units;

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(trials) = context.setup().and_then(|setup| setup.trials.as_ref()) else { return };
    let Some(likeness) = trials.found.likeness.as_ref().and_then(|likeness| likeness.get()) else { return };
    let Some(run) = trials.runs.first().filter(|_| likeness.value() > ACT_ALIKE) else { return };
    let message = format!(
        "planes {} act alike on channels {}: {} on a scale from 0 to 1, where more than {} tells them apart too poorly",
        trials.planes.join(" and "),
        trials.channels.join(" and "),
        ratio(likeness.value()),
        units::plainly(ACT_ALIKE),
    );
    sink.report(context.on_heading(&run.block, message).help(
        "take planes or channels that lie farther apart, or correct the static unbalance by equal masses at one angle in \
         both planes and the couple by equal masses half a turn apart",
    ));
}
