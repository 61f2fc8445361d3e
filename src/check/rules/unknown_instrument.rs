use crate::check::{ItemContext, Rule, Run, Severity, Sink, names};
use crate::syntax::Kind;
use crate::vocabulary::NameOf;

pub static RULE: Rule = Rule {
    code: "unknown-instrument",
    severity: Severity::Error,
    title: "An instrument is named that the shop has not",
    page: include_str!("unknown_instrument.md"),
    run: Run::Item(&[Kind::Setup, Kind::Record], judge),
};

fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(instruments) = names::instruments(context.book()) else { return };
    names::report_unknown(context, sink, NameOf::Instrument, &instruments);
}
