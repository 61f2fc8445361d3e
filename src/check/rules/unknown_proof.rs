use crate::check::{ItemContext, Sink, names};
use crate::syntax::Kind;
use crate::vocabulary::NameOf;

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(proofs) = names::of_blocks(context, Kind::Setup, Kind::Proof) else { return };
    names::report_unknown(context, sink, NameOf::Proof, &proofs);
}
