use crate::check::{ItemContext, Sink};

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(trials) = context.setup().and_then(|setup| setup.trials.as_ref()) else { return };
    let Some(why) = trials.two_answers() else { return };
    let Some(run) = trials.runs.first() else { return };
    sink.report(
        context
            .on_heading(&run.block, why.to_string())
            .help("run once more with the mass a third of a turn from the others; until then correct by neither"),
    );
}
