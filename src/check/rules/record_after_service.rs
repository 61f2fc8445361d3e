use crate::book::Untimely;
use crate::check::{ItemContext, Sink};
use crate::vocabulary::record;

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(binding) = context.record().and_then(|record| record.binding.as_ref()) else { return };
    let Some(untimely @ Untimely::AfterService { .. }) = binding.untimely else { return };
    let Some(proof) = context.effective().field(record::PROOF) else { return };
    let draft = context.beside(proof, untimely.words());
    sink.report(draft.help("name the proof that was made after the service, and measure again where there is none"));
}
