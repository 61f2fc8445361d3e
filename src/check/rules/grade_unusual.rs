use crate::check::{ItemContext, Sink};
use crate::sheet::FieldValue;
use crate::vocabulary::tolerance;

/// The grades that ISO 21940-11 names, each 2.5 times the next (from memory).
const STEPS: [f64; 11] = [4000.0, 1600.0, 630.0, 250.0, 100.0, 40.0, 16.0, 6.3, 2.5, 1.0, 0.4];

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(tolerance) = context.rotor().and_then(|rotor| rotor.tolerance_block()) else { return };
    let Some(field) = tolerance.field(tolerance::GRADE) else { return };
    let FieldValue::Grade(grade) = field.field.value else { return };
    let steps_apart = |step: &f64| (step / grade).ln().abs();
    let Some(nearest) = STEPS.into_iter().min_by(|a, b| steps_apart(a).total_cmp(&steps_apart(b))) else { return };
    if steps_apart(&nearest) < 1e-9 {
        return;
    }
    let nearest = crate::units::plainly(nearest);
    let written = crate::check::rotors::written(context, field);
    let message = format!("`{written}` is not a step of the standard's series; the nearest is G {nearest}");
    sink.report(context.draft(field.field.value_span, message).help(format!(
        "if it was agreed so, leave it and name the agreement in `source`; else write `G \
                {nearest}`"
    )));
}
