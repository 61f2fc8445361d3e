use crate::check::{ItemContext, Sink};
use crate::vocabulary::correction;

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(record) = context.record() else { return };
    for correction in &record.corrections {
        let (Some(after), Some(field)) = (correction.after, correction.block.field(correction::AFTER)) else {
            continue;
        };
        let called = record.runs[after].name;
        let Some(last) = correction.written_after.filter(|last| after <= *last) else {
            let message = format!("this correction is said to follow run \"{called}\", which was made later");
            sink.report(context.beside(field, message).help(
                "write the correction below the run that called for it: runs and corrections are in the order in which \
                 they were made",
            ));
            continue;
        };
        // Another correction between that run and this one has changed the rotor since.
        let between =
            |other: &usize| record.corrections[*other].written_after.is_some_and(|at| after <= at && at < last);
        if (0..record.corrections.len()).any(|other| between(&other)) {
            let message = format!(
                "this correction is said to follow run \"{called}\", but the rotor was corrected and run again since, last \
                 in run \"{}\"",
                record.runs[last].name
            );
            let last = crate::check::wording::name_as_written(record.runs[last].name);
            let draft = context.beside(field, message).help(format!(
                "correct what the last run calls for (`after: {last}`), or write this correction where it was made"
            ));
            sink.report(draft.offer_value(context, field, &last));
        }
    }
}
