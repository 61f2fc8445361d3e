use crate::check::{ItemContext, Sink};
use crate::vocabulary::trial;

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(trials) = context.setup().and_then(|setup| setup.trials.as_ref()) else { return };
    // Amounts of several planes are compared with each other alone.
    let corrects = trials.with_angles || trials.planes.len() == 1;
    if !context.is_read_whole() || !corrects {
        return;
    }
    for run in trials.runs.iter().filter(|run| run.put_on.is_some() && run.block.field(trial::ANGLE).is_none()) {
        let message = format!("trial \"{}\" does not say at which angle its mass was", run.name);
        let draft = context.beside_first(&run.block, &[trial::MASS.any(), trial::MASS_IN.any()], message).help(
            "write where it was, `angle: 0 deg` at the zero mark: without it nothing says where the correction goes",
        );
        sink.report(draft.offer_in(context.book(), run.block.place(), &["angle: ?"]));
    }
}
