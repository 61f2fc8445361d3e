use crate::book::DoesNotCount;
use crate::check::runs::pins;
use crate::check::{ItemContext, Sink};
use crate::vocabulary::{result, traverse};

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(record) = context.record().filter(|_| !pins(context, &result::VERDICT)) else { return };
    let Some(verdict) = &record.verdict else { return };
    for found in verdict.not_counted(DoesNotCount::TraverseContradicts) {
        let Some(traverse) = record
            .traverses
            .iter()
            .rev()
            .find(|one| found.words.starts_with(&format!("the traverse of plane {} ", one.plane)))
        else {
            continue;
        };
        sink.report(context.beside_first(&traverse.block, &[traverse::READINGS.any()], found.words.clone()).help(
            "the traverse trusts no calibration and no angle: look for a readout that is calibrated wrongly or near its \
             limit, then run and traverse again",
        ));
    }
}
