use crate::book::DoesNotCount;
use crate::check::runs::not_counted;
use crate::check::{ItemContext, Rule, Run, Severity, Sink};
use crate::syntax::Kind;
use crate::vocabulary::{run, trial};

pub static RULE: Rule = Rule {
    code: "run-speed-unsaid",
    severity: Severity::Warning,
    title: "The run that counts does not say its speed",
    page: include_str!("run_speed_unsaid.md"),
    run: Run::Item(&[Kind::Setup, Kind::Record], judge),
};

fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    if !context.is_read_whole() {
        return;
    }
    let help = "write what the tachometer showed: `speed: 1150 rpm`";
    for trial in context.setup().and_then(|setup| setup.trials.as_ref()).iter().flat_map(|trials| &trials.runs) {
        if trial.block.field(trial::SPEED).is_none() {
            let message =
                format!("trial \"{}\" does not say its speed, without which no verdict rests on it", trial.name);
            sink.report(context.on_heading(&trial.block, message).weighing(Severity::Note).help(help));
        }
    }
    let Some(record) = context.record() else { return };
    for run in not_counted(record, DoesNotCount::SpeedNotStated) {
        if run.block.field(run::SPEED).is_some() {
            continue;
        }
        let message = format!("run \"{}\", on which the verdict rests, does not say its speed", run.name);
        sink.report(context.on_heading(&run.block, message).help(help));
    }
}
