use crate::check::{ItemContext, Sink, names};
use crate::vocabulary::{NameOf, setup};

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(channels) = names::channels(context) else { return };
    names::report_unknown(context, sink, NameOf::Channel, &channels);
    names::report_inherited(context, sink, NameOf::Channel, setup::MACHINE.any(), &channels);
}
