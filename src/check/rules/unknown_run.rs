use crate::check::{ItemContext, Rule, Run, Severity, Sink, names};
use crate::syntax::Kind;
use crate::vocabulary::NameOf;

pub static RULE: Rule = Rule {
    code: "unknown-run",
    severity: Severity::Error,
    title: "A run is named that the record has not",
    page: include_str!("unknown_run.md"),
    run: Run::Item(&[Kind::Record], judge),
};

fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(runs) = names::of_blocks(context, Kind::Record, Kind::Run) else { return };
    names::report_unknown(context, sink, NameOf::Run, &runs);
}
