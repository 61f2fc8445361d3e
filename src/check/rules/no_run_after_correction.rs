use crate::book::DoesNotCount;
use crate::check::{ItemContext, Rule, Run, Severity, Sink};
use crate::syntax::Kind;

pub static RULE: Rule = Rule {
    code: "no-run-after-correction",
    severity: Severity::Note,
    title: "A record ends with a correction",
    page: include_str!("no_run_after_correction.md"),
    run: Run::Item(&[Kind::Record], judge),
};

fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(record) = context.record() else { return };
    let Some(verdict) = &record.verdict else { return };
    if verdict.not_counted(DoesNotCount::NoRunAfterCorrection).next().is_none() {
        return;
    }
    let Some(last) = record.corrections.last() else { return };
    sink.report(
        context
            .on_heading(&last.block, "no run follows this correction, so nothing is known of the rotor as it is now")
            .help("run it with all masses off and write the run down"),
    );
}
