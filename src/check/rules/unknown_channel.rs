use crate::check::{ItemContext, Rule, Run, Severity, Sink, names};
use crate::syntax::Kind;
use crate::vocabulary::{NameOf, setup};

pub static RULE: Rule = Rule {
    code: "unknown-channel",
    severity: Severity::Error,
    title: "A channel is named that the machine has not",
    page: include_str!("unknown_channel.md"),
    run: Run::Item(&[Kind::Setup, Kind::Record], judge),
};

fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(channels) = names::channels(context) else { return };
    names::report_unknown(context, sink, NameOf::Channel, &channels);
    names::report_inherited(context, sink, NameOf::Channel, setup::MACHINE.any(), &channels);
}
