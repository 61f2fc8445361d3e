use crate::book::PartResults;
use crate::check::{ItemContext, Severity, Sink, rotors};
use crate::mechanics::fits::clearance_for_unbalance;
use crate::units::{Unbalance, Unit};
use crate::vocabulary::{made_of, made_of::PartBalanced};

/// The share of a tolerance that a fit may take before it is worth a word. Common practice, no source.
const HALF: f64 = 0.5;

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(assembly) = context.rotor() else { return };
    let Some(whole) = assembly.permissible.get() else { return };
    for part in &assembly.parts {
        let Some((field, _)) = rotors::quantity(&part.block, made_of::FIT_CLEARANCE) else { continue };
        let fit = part.fit.as_ref().and_then(|fit| fit.get());
        let Some(fit) = fit.filter(|fit| *fit >= whole * HALF) else { continue };
        let unit = assembly.permissible.unit;
        let takes = if fit >= whole { "all" } else { "more than half" };
        let message = format!(
            "a clearance of {} lets \"{}\" put {} in, {takes} of the assembly's tolerance of {}",
            rotors::written(context, field),
            part.name,
            rotors::in_unit(fit, unit),
            rotors::in_unit(whole, unit),
        );
        let draft = context.draft(field.field.value_span, message);
        sink.report(match part.block.choice(made_of::BALANCED) {
            // Balanced in its place, it stays good as long as it is not taken apart.
            Some(PartBalanced::AfterFitting) => {
                draft.weighing(Severity::Note).help("once it has been taken apart the assembly must be balanced again")
            }
            _ if fit >= whole => draft.help(format!("no run can show it within; {}", clearance(context, part, whole))),
            _ => draft.weighing(Severity::Warning).help(clearance(context, part, whole)),
        });
    }
}

/// The clearance at which the fit takes half the tolerance.
fn clearance(context: &ItemContext<'_, '_>, part: &PartResults<'_>, whole: Unbalance) -> String {
    let mass = part.rotor.as_ref().and_then(|rotor| rotor.mass.get());
    match mass.and_then(|mass| clearance_for_unbalance(whole * HALF, mass).ok()) {
        Some(clearance) => format!(
            "at {} clearance it takes half; make the fit closer, or balance after fitting",
            rotors::in_unit(clearance, context.book().rules().shown(Unit::MICROMETRE))
        ),
        None => "make the fit closer, or balance after fitting".to_owned(),
    }
}
