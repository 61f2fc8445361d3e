use crate::check::{ItemContext, Rule, Run, Severity, Sink, names};
use crate::syntax::Kind;
use crate::vocabulary::{NameOf, setup};

pub static RULE: Rule = Rule {
    code: "unknown-plane",
    severity: Severity::Error,
    title: "A plane is named that the rotor has not",
    page: include_str!("unknown_plane.md"),
    run: Run::Item(&[Kind::Rotor, Kind::Setup, Kind::Record], judge),
};

fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(planes) = names::of_blocks(context, Kind::Rotor, Kind::Plane) else { return };
    names::report_unknown(context, sink, NameOf::Plane, &planes);
    names::report_inherited(context, sink, NameOf::Plane, setup::ROTOR.any(), &planes);
}
