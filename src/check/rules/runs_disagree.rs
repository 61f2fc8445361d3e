use crate::check::runs::pins;
use crate::check::{ItemContext, Sink};
use crate::vocabulary::result;

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(record) = context.record().filter(|_| !pins(context, &result::VERDICT)) else { return };
    let Some(verdict) = &record.verdict else { return };
    for found in &verdict.apart {
        let Some(run) = record.runs.get(found.run) else { continue };
        let mut draft = context.on_heading(&run.block, found.words.clone());
        if let Some(last) = verdict.run.and_then(|run| record.runs.get(run)) {
            let written = &last.block;
            draft = draft.related(written.item.file, written.written.heading, "the last run");
        }
        sink.report(draft.help(
            "nothing was corrected between them, so one of them is not to be trusted: find what moved or seats \
             differently, and run until two agree",
        ));
    }
}
