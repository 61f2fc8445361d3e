use crate::check::placing::line_at_end;
use crate::check::{ItemContext, Sink};
use crate::vocabulary::trial;

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(trials) = context.setup().and_then(|setup| setup.trials.as_ref()) else { return };
    if !context.is_read_whole() {
        return;
    }
    let Some((_, before)) = trials.runs.split_last() else { return };
    for run in before.iter().filter(|run| run.put_on.is_some() && run.block.field(trial::TRIAL_MASS).is_none()) {
        let message =
            format!("another run follows trial \"{}\", which does not say whether its mass was taken off", run.name);
        let mut draft = context.beside_first(&run.block, &[trial::MASS_IN.any()], message).help(
            "write `trial mass: taken off` or `trial mass: left on`: the effect of the next mass is found from the one \
             or the other",
        );
        for (line, title) in [("trial mass: taken off", "It was taken off"), ("trial mass: left on", "It was left on")]
        {
            let edit = run.block.own.and_then(|own| line_at_end(context.source(), own, line));
            if let Some(edit) = edit {
                draft = draft.fix(title, edit);
            }
        }
        sink.report(draft);
    }
}
