use crate::check::runs::pins;
use crate::check::{ItemContext, Sink};
use crate::vocabulary::result;

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(setup) = context.setup() else { return };
    // A draft that says of itself that its calibration is void has been looked at.
    if !context.is_released() && pins(context, &result::CALIBRATION_HOLDS) {
        return;
    }
    for cause in &setup.void_causes {
        let (file, span) = cause.place;
        let draft =
            match file == context.id.file {
                true => context.draft(span, format!("the calibration is void: {}", cause.what)),
                false => context
                    .draft(context.block.heading, format!("the calibration is void: {}", cause.what))
                    .related(file, span, "this has changed since"),
            };
        let (file, span) = cause.proven;
        let draft = draft.related(file, span, "as it was proven").weighing(context.by_status());
        sink.report(draft.help("calibrate and prove the sheet as it is now, and write the new proof down"));
    }
}
