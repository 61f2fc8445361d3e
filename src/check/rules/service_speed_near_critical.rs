use crate::check::{ItemContext, Rule, Run, Severity, Sink, rotors};
use crate::syntax::Kind;
use crate::units::{Ratio, Typed, Unit};
use crate::vocabulary::rotor;

pub static RULE: Rule = Rule {
    code: "service-speed-near-critical",
    severity: Severity::Warning,
    title: "The rotor runs near its first bending critical speed",
    page: include_str!("service_speed_near_critical.md"),
    run: Run::Item(&[Kind::Rotor], judge),
};

/// Above this share of the first bending critical a rotor is no longer taken as rigid. Common practice, no source.
const RIGID_UP_TO: f64 = 0.7;

fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(rotor) = context.rotor() else { return };
    let Some((field, critical)) = rotors::quantity(&rotor.block, rotor::FIRST_BENDING_CRITICAL) else { return };
    let Some(service) = rotor.service_speed.get() else { return };
    let share = service.base() / critical.base;
    if share <= RIGID_UP_TO {
        return;
    }
    let message = format!(
        "the highest service speed {} is {} of the first bending critical {}; up to {} a rotor is taken as rigid",
        rotors::given(service, rotor.service_speed.unit),
        rotors::percent(share),
        rotors::written(context, field),
        rotors::given(Ratio::new(RIGID_UP_TO), Unit::PERCENT),
    );
    sink.report(context.draft(rotors::span_of(&rotor.block, &[rotor::HIGHEST_SERVICE_SPEED.any()]), message).help(
        "balance it as a flexible rotor, in more planes and up to its service speed, or show that its \
                unbalance stays put",
    ));
}
