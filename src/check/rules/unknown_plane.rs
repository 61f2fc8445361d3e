use crate::check::{ItemContext, Sink, names};
use crate::syntax::Kind;
use crate::vocabulary::{NameOf, setup};

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(planes) = names::of_blocks(context, Kind::Rotor, Kind::Plane) else { return };
    names::report_unknown(context, sink, NameOf::Plane, &planes);
    names::report_inherited(context, sink, NameOf::Plane, setup::ROTOR.any(), &planes);
}
