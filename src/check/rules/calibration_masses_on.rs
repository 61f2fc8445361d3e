use crate::book::DoesNotCount;
use crate::check::runs::not_counted;
use crate::check::{ItemContext, Sink};
use crate::vocabulary::run;

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(record) = context.record() else { return };
    for run in not_counted(record, DoesNotCount::CalibrationMassesOn) {
        let message = format!("calibration masses were on in run \"{}\", on which the verdict rests", run.name);
        sink.report(
            context
                .beside_first(&run.block, &[run::CALIBRATION_MASSES.any()], message)
                .help("take them off, count them against what was put on, and run once more"),
        );
    }
}
