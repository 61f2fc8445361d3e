use super::speed_with_three_decimals::is_doubtful;
use crate::book::ToleranceRule;
use crate::check::{ItemContext, Sink, rotors};
use crate::units::{Length, SpecificUnbalance, Speed, Typed};
use crate::vocabulary::rotor;

/// No drawing allows a mass centre so far off the axis. Common practice, no source.
const FARTHEST_MILLIMETRES: f64 = 1.0;
/// A grade with a speed below this is most likely right, and the speed is not. Common practice, no source.
const SLOW_RPM: f64 = 100.0;

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(results) = context.rotor() else { return };
    let Some(tolerance) = results.tolerance_block() else { return };
    let Some(specific) = results.permissible_specific.get() else { return };
    if specific <= SpecificUnbalance::from_base(Length::millimetres(FARTHEST_MILLIMETRES).base()) {
        return;
    }
    let speed = results.block.field(rotor::HIGHEST_SERVICE_SPEED);
    // What is told of the speed is the cause of this.
    if speed.is_some_and(|field| is_doubtful(context, field.field)) {
        return;
    }
    let rule = results.governing;
    let by_speed = rule.is_some_and(|rule| matches!(rule, ToleranceRule::Grade | ToleranceRule::JournalLoad));
    let is_slow = results.service_speed.get().is_some_and(|speed| speed < Speed::rpm(SLOW_RPM));
    let suspect = match (speed, rule) {
        (Some(speed), _) if by_speed && is_slow => Some(speed),
        (_, Some(rule)) => rule.field(tolerance),
        _ => None,
    };
    let written = suspect.map(|field| context.text(field.item.file, field.field.value_span));
    let cause = written.map_or("the tolerance or the mass".to_owned(), |written| format!("`{written}`"));
    let allowed = rotors::shown(&results.permissible_specific).unwrap_or_default();
    let message = format!("{cause} is probably wrong: it allows the mass centre to lie {allowed} off the axis");
    let span = suspect
        .filter(|field| field.item == context.id)
        .map_or(tolerance.written.heading, |field| field.field.value_span);
    sink.report(
        context
            .draft(span, message)
            .help("look for a missing decimal point, a wrong unit, or grams entered as kilograms"),
    );
}
