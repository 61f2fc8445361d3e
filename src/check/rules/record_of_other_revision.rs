use std::cmp::Ordering;

use crate::book::{DoesNotCount, RecordVerdict, revision_order};
use crate::check::runs::pins;
use crate::check::{ItemContext, Sink};
use crate::sheet::FieldValue;
use crate::vocabulary::{record, result, setup};

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(record) = context.record() else { return };
    let Some(setup) = &record.setup else { return };
    let (Some(ran), Some(now)) = (record.block.field(record::REVISION), setup.block.field(setup::REVISION)) else {
        return;
    };
    let (FieldValue::Text(ran_by), FieldValue::Text(today)) = (&ran.field.value, &now.field.value) else { return };
    if revision_order(ran_by, today) == Some(Ordering::Greater) {
        let message = format!("it was run by revision {ran_by}, and the sheet is only at revision {today}");
        let draft = context.beside(ran, message).about(now, "the sheet as it is now");
        sink.report(draft.help("write the revision that was on its card"));
        return;
    }
    let of_other = |verdict: &&RecordVerdict| verdict.not_counted(DoesNotCount::OtherRevision).next().is_some();
    if !record.verdict.iter().any(|verdict| of_other(&verdict)) || pins(context, &result::VERDICT) {
        return;
    }
    let message = format!("it was run by revision {ran_by}, and the sheet is at revision {today}");
    let draft = context.beside(ran, message).about(now, "the sheet as it is now").help(
        "its readings cannot be judged by today's sheet: run it again, or pin the verdict that remains, \
         `verdict => \"not shown\"`",
    );
    sink.report(draft.offer(context, &["verdict => \"not shown\""]));
}
