use crate::book::{self, EffectiveBlock, Outcome};
use crate::check::settings::{self, Setting};
use crate::check::{Draft, ItemContext, Sink};
use crate::sheet::{FieldValue, SettingValue, Stated};
use crate::vocabulary::{control, setup};

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    for setting in settings::all(context) {
        sink.drafts.extend(judge_one(context, &setting));
    }
    for control in settings::controls(context).unwrap_or_default() {
        sink.drafts.extend(worked_out(context, control));
    }
}

/// What is worked out for a control, where the sheet does not state another setting.
fn worked_out<'b>(context: &ItemContext<'b, '_>, control: &EffectiveBlock<'b>) -> Option<Draft> {
    let name = control.name_text();
    if settings::all(context).iter().any(|setting| *setting.name.text == *name) {
        return None;
    }
    let entry = settings::worked_out(context, name)?;
    let Outcome::ToSet { base, unit, decimals, .. } = entry.outcome else { return None };
    // A range without a unit is told at the machine.
    let range =
        control.field(control::RANGE).filter(|range| !matches!(range.field.value, FieldValue::NumberRange(..)))?;
    let stated = Stated { base, unit, half_step: 0.0, limits: None, plain: false };
    let why = misfit(&range.field.value, &SettingValue::Quantity(stated))?;
    let to_set = book::to_set_text(base, unit, decimals);
    let message =
        format!("\"{name}\" would have to be set to {to_set}, {why}: its dial goes {}", goes(context.written(range)));
    let pin = settings::pinned(context).iter().find(|pin| *pin.name == *name);
    let draft = match pin {
        Some(pin) => context.draft(pin.head, message),
        None => context.beside_first(&context.setup()?.block, &[setup::MACHINE.any()], message),
    };
    Some(
        draft
            .help("correct the places or the radius that it follows from, or the `range` of the control in the machine")
            .about(range, "the dial"),
    )
}

fn judge_one<'b>(context: &ItemContext<'b, '_>, setting: &Setting<'b>) -> Option<Draft> {
    let range = settings::control_of(context, setting)?.field(control::RANGE)?;
    let why = misfit(&range.field.value, setting.value()?)?;
    let written = context.written(setting.field);
    let message =
        format!("\"{}\" is set to {written}, {why}: its dial goes {}", setting.name.text, goes(context.written(range)));
    Some(
        context
            .beside(setting.field, message)
            .help("correct the setting, or the `range` of the control in the machine")
            .about(range, "the dial"),
    )
}

/// Why a value does not suit a dial; `None` when it does, or when one of the two cannot be read.
fn misfit(range: &FieldValue, value: &SettingValue) -> Option<&'static str> {
    let beyond = |low: f64, high: f64, value: f64| {
        let noise = 1e-9 * value.abs();
        (value < low - noise || value > high + noise).then_some("which is out of range")
    };
    match (range, value) {
        (_, SettingValue::AsFound) => None,
        (FieldValue::NumberRange(low, high), SettingValue::Number(value)) => beyond(*low, *high, *value),
        (FieldValue::NumberRange(..), SettingValue::Quantity(_)) => Some("which has a unit"),
        (FieldValue::Range(range), SettingValue::Quantity(value)) => {
            let [low, high] = [range.low, range.high];
            if low.or(high).is_some_and(|end| end.dimension() != value.dimension()) {
                return Some("which is in another kind of unit");
            }
            let low = low.map_or(f64::NEG_INFINITY, |end| end.base);
            beyond(low, high.map_or(f64::INFINITY, |end| end.base), value.base)
        }
        (FieldValue::Range(_), SettingValue::Number(_)) => Some("which has no unit"),
        (FieldValue::NumberRange(..) | FieldValue::Range(_), SettingValue::Position(_)) => Some("which is a word"),
        _ => None,
    }
}

/// `from 0 to 999`, `up to 6 mm`
fn goes(range: &str) -> String {
    match range.starts_with("up to") || range.starts_with("from") {
        true => range.to_owned(),
        false => format!("from {range}"),
    }
}
