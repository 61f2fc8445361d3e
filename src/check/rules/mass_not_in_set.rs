use crate::check::calibration::{self, Finding, stated};
use crate::check::{ItemContext, Sink};
use crate::vocabulary::calibrate;

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    for (calibration, block) in calibration::blocks(context) {
        let Some((field, _)) = stated(block, &[calibrate::MASS.any()]) else { continue };
        let Some(set) = calibration::set_without(context, block) else { continue };
        let message = format!(
            "the calibration mass of plane {}, {}, is neither a mass of the set \"{}\" nor two or three of them \
             together",
            calibration.plane,
            context.written(field),
            set.name_text()
        );
        let advice = calibration::advice(context, calibration, block, Finding::NotInSet);
        let draft = context.beside(field, message);
        sink.report(match advice {
            Some(better) => calibration::offer_better(context, draft.help(better), calibration, block),
            None => draft.help("take masses of the set"),
        });
    }
}
