use crate::check::{ItemContext, Rule, Run, Severity, Sink, rotors};
use crate::syntax::Kind;
use crate::vocabulary::rotor;

pub static RULE: Rule = Rule {
    code: "mass-centre-implausible",
    severity: Severity::Warning,
    title: "The mass centre lies far from everything else on the rotor",
    page: include_str!("mass_centre_implausible.md"),
    run: Run::Item(&[Kind::Rotor], judge),
};

fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(rotor) = context.rotor() else { return };
    let Some(centre) = rotor.mass_centre.get() else { return };
    let Some(rotors::Beyond { beyond, low, high }) = rotors::centre_beyond_everything(rotor) else { return };
    let unit = rotor.mass_centre.unit;
    let message = format!(
        "the mass centre at {} lies {} beyond the bearings and planes, which stand from {} to {}",
        rotors::in_unit(centre, unit),
        rotors::in_unit(beyond, unit),
        rotors::given(low, unit),
        rotors::given(high, unit),
    );
    sink.report(
        context
            .draft(rotors::span_of(&rotor.block, &[rotor::MASS_CENTRE.any(), rotor::WEIGHED.any()]), message)
            .help("look whether it counts from the rotor's `datum`, and whether its unit is right"),
    );
}
