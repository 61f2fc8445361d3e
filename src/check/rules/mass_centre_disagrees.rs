use crate::check::{ItemContext, Rule, Run, Severity, Sink, rotors};
use crate::syntax::Kind;
use crate::units::{Amount, Typed};

pub static RULE: Rule = Rule {
    code: "mass-centre-disagrees",
    severity: Severity::Warning,
    title: "The stated mass centre is not the one that weighing gives",
    page: include_str!("mass_centre_disagrees.md"),
    run: Run::Item(&[Kind::Rotor], judge),
};

fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(rotor) = context.rotor() else { return };
    let Some((field, stated)) = rotors::quantity(&rotor.block, "mass centre") else { return };
    let Some((_, centre)) = &rotor.by_weighing else { return };
    let Some(weighed) = centre.get() else { return };
    let apart = (stated.base - weighed.base()).abs();
    if apart <= centre.expanded_uncertainty() + stated.half_step {
        return;
    }
    let message = format!(
        "the stated mass centre {} and the {} from weighing lie {} apart",
        rotors::written(context, field),
        crate::book::display_value(weighed.raw(), stated.unit, centre.standard_uncertainty()),
        crate::book::display_value(apart, stated.unit, 0.0),
    );
    let scales = rotors::span_of(&rotor.block, &["weighed"]);
    sink.report(
        context
            .draft(field.field.value_span, message)
            .help("the stated one counts; take it out, or correct the places of the scales")
            .related(context.id.file, scales, "the weighing"),
    );
}
