use crate::book::DoesNotCount;
use crate::check::runs::not_counted;
use crate::check::{ItemContext, Rule, Run, Severity, Sink};
use crate::syntax::Kind;

pub static RULE: Rule = Rule {
    code: "run-speed-unsaid",
    severity: Severity::Warning,
    title: "The run that counts does not say its speed",
    page: include_str!("run_speed_unsaid.md"),
    run: Run::Item(&[Kind::Record], judge),
};

fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(record) = context.record().filter(|_| context.is_read_whole()) else { return };
    for run in not_counted(record, DoesNotCount::SpeedNotStated) {
        if run.block.field("speed").is_some() {
            continue;
        }
        let message = format!("run \"{}\", on which the verdict rests, does not say its speed", run.name);
        let help = "write what the tachometer showed: `speed: 1150 rpm`";
        sink.report(context.on_heading(&run.block, message).help(help));
    }
}
