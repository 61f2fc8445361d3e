use crate::check::{ItemContext, Severity, Sink, rotors};
use crate::units::{Amount, Typed};
use crate::vocabulary::rotor;

/// How far a rotor's mass may be off its drawing without anybody being at fault. Common practice, no source.
const USUAL: f64 = 0.02;

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(rotor) = context.rotor() else { return };
    let Some((field, stated)) = rotors::quantity(&rotor.block, rotor::MASS) else { return };
    let Some((mass, _)) = &rotor.by_weighing else { return };
    let Some(weighed) = mass.get() else { return };
    let apart = (stated.base - weighed.base()).abs();
    if apart <= mass.expanded_uncertainty() + stated.half_step {
        return;
    }
    let share = apart / weighed.base();
    let message = format!(
        "the stated mass {} and the {} of the two scales differ by {}",
        rotors::written(context, field),
        crate::book::display_value(weighed.raw(), stated.unit, mass.standard_uncertainty()),
        rotors::percent(share),
    );
    // Castings come a little heavier or lighter than drawn.
    let severity = if share > USUAL { Severity::Warning } else { Severity::Note };
    let scales = rotors::span_of(&rotor.block, &[rotor::WEIGHED.any()]);
    sink.report(
        context
            .draft(field.field.value_span, message)
            .weighing(severity)
            .help(
                "the stated mass is used; delete it if the rotor was weighed in the condition in which it is balanced",
            )
            .related(context.id.file, scales, "the weighing"),
    );
}
