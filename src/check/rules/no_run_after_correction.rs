use crate::book::DoesNotCount;
use crate::check::{ItemContext, Sink};

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(record) = context.record() else { return };
    let Some(verdict) = &record.verdict else { return };
    if verdict.not_counted(DoesNotCount::NoRunAfterCorrection).next().is_none() {
        return;
    }
    let Some(last) = record.corrections.last() else { return };
    sink.report(
        context
            .on_heading(&last.block, "no run follows this correction, so nothing is known of the rotor as it is now")
            .help("run the rotor with the correction in place and all calibration and trial masses off, and record the run"),
    );
}
