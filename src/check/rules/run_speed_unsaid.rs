use crate::book::DoesNotCount;
use crate::check::runs::not_counted;
use crate::check::{ItemContext, Severity, Sink};
use crate::vocabulary::{run, trial};

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    if !context.is_read_whole() {
        return;
    }
    let help = "write what the tachometer showed: `speed: 1150 rpm`";
    for trial in context.setup().and_then(|setup| setup.trials.as_ref()).iter().flat_map(|trials| &trials.runs) {
        if trial.block.field(trial::SPEED).is_none() {
            let message =
                format!("trial \"{}\" does not say its speed, without which no verdict rests on it", trial.name);
            sink.report(context.on_heading(&trial.block, message).weighing(Severity::Note).help(help).offer_in(
                context.book(),
                trial.block.place(),
                &["speed: ?"],
            ));
        }
    }
    let Some(record) = context.record() else { return };
    for run in not_counted(record, DoesNotCount::SpeedNotStated) {
        if run.block.field(run::SPEED).is_some() {
            continue;
        }
        let message = format!("run \"{}\", on which the verdict rests, does not say its speed", run.name);
        let draft = context.on_heading(&run.block, message).help(help);
        sink.report(draft.offer_in(context.book(), run.block.place(), &["speed: ?"]));
    }
}
