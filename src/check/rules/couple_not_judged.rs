use crate::book::ToleranceRule;
use crate::check::{ItemContext, Sink, rotors};
use crate::vocabulary::tolerance;

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(rotor) = context.rotor() else { return };
    let Some(tolerance) = rotor.tolerance_block() else { return };
    let alone = matches!(rotor.rules[..], [(ToleranceRule::Static, _)]);
    let limited = tolerance.field(tolerance::COUPLE).is_some() || tolerance.named(tolerance::PLANE).next().is_some();
    if !alone || limited || rotors::two_planes(rotor).is_none() || !rotors::is_read_whole(context) {
        return;
    }
    let static_limit = tolerance.field(tolerance::STATIC).map_or("", |field| rotors::written(context, field));
    let message = format!("the rotor has two planes, but only its static unbalance is limited, to {static_limit}");
    sink.report(
        context
            .draft(rotors::span_of(tolerance, &[tolerance::STATIC.any()]), message)
            .help("add `couple: … g·mm²`, or `planes: one` if the couple is not to be judged"),
    );
}
