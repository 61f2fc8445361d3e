use crate::book::Untimely;
use crate::check::{ItemContext, Sink};
use crate::vocabulary::record;

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(binding) = context.record().and_then(|record| record.binding.as_ref()) else { return };
    let Some(untimely @ Untimely::BeforeProof { .. }) = binding.untimely else { return };
    let Some(date) = context.effective().field(record::DATE) else { return };
    let draft = context.beside(date, untimely.words());
    sink.report(draft.help(
        "nothing shows that the setup could be trusted on that day: correct the date, or measure the rotor again",
    ));
}
