use crate::check::{ItemContext, Sink, names};
use crate::vocabulary::NameOf;

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(instruments) = names::instruments(context.book()) else { return };
    names::report_unknown(context, sink, NameOf::Instrument, &instruments);
}
