use crate::book::{EffectiveBlock, ToleranceRule, Val};
use crate::check::{ItemContext, Sink, factors, rotors};
use crate::units::{Typed, Unbalance};
use crate::vocabulary::{Fact, tolerance};

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(rotor) = context.rotor() else { return };
    let Some(tolerance) = rotor.tolerance_block() else { return };
    let Some(governing) = rotor.governing else { return };
    let Some((_, lowest)) = rotor.rules.iter().find(|(rule, _)| *rule == governing) else { return };
    let Some(least) = lowest.get() else { return };
    for (rule, value) in rotor.rules.iter().filter(|(rule, _)| *rule != governing) {
        if *rule == ToleranceRule::Bearings && rotor.is_overhung {
            continue;
        }
        let Some(amount) = value.get() else { continue };
        let steps = half_steps(*rule, tolerance) + half_steps(governing, tolerance);
        let agree = amount.base() - least.base() <= steps + 1e-3 * least.base();
        if agree || factors::familiar(amount.base(), least.base(), steps / least.base()).is_some() {
            continue;
        }
        let (loose, tight) = (shown(*rule, value), shown(governing, lowest));
        let message =
            format!("`{}` allows {loose} and `{}` {tight}; the lower governs", rule.words(), governing.words());
        let heading = tolerance.written.heading;
        let span = |rule: ToleranceRule| rule.field(tolerance).map_or(heading, |field| field.field.head);
        sink.report(
            context
                .draft(span(*rule), message)
                .help("leave both if both were demanded; else take out the one not demanded")
                .related(context.id.file, span(governing), "this one governs"),
        );
    }
}

fn shown(rule: ToleranceRule, value: &Val<Unbalance>) -> String {
    let shown = match rule {
        ToleranceRule::Total => value.get().map(|amount| rotors::given(amount, value.unit)),
        _ => rotors::shown(value),
    };
    shown.unwrap_or_default()
}

/// Half a step of the last digits by which a rule is stated; nothing for rules that are worked out.
fn half_steps(rule: ToleranceRule, tolerance: &EffectiveBlock<'_>) -> f64 {
    let step = |fact: Fact<Unbalance>| rotors::quantity(tolerance, fact).map_or(0.0, |(_, stated)| stated.half_step);
    match rule {
        ToleranceRule::Total => step(tolerance::TOTAL),
        ToleranceRule::Bearings => step(tolerance::AT_BEARING_A) + step(tolerance::AT_BEARING_B),
        _ => 0.0,
    }
}
