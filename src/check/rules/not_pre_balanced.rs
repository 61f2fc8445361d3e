use crate::check::amounts::{amount, shown};
use crate::check::{ItemContext, Sink};

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(trials) = context.setup().and_then(|setup| setup.trials.as_ref()) else { return };
    let Some(state) = trials.pre_balanced.as_ref().filter(|state| !state.holds) else { return };
    let found = trials.runs.iter().find(|run| run.plane.is_none());
    let Some(run) = found.filter(|_| trials.planes.len() > 1) else { return };
    let message = format!(
        "the rotor read {} as found; without angles, amounts can be compared only below {}",
        shown(&state.as_found),
        amount(state.limit, state.as_found.unit)
    );
    sink.report(context.on_heading(&run.block, message).help(
        "pre-balance the rotor below that and run the trials again, or read the angles: the difference of two amounts \
         is not the effect of the mass",
    ));
}
