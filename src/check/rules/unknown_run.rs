use crate::check::{ItemContext, Sink, names};
use crate::syntax::Kind;
use crate::vocabulary::NameOf;

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(runs) = names::of_blocks(context, Kind::Record, Kind::Run) else { return };
    names::report_unknown(context, sink, NameOf::Run, &runs);
}
