use crate::book::EffectiveField;
use crate::check::amounts::ratio;
use crate::check::{ItemContext, Sink, readings};
use crate::sheet::{FieldValue, StatedReading};
use crate::units::Unit;

/// From run to run a channel seldom reads so many times more. Common practice, no source.
const TIMES: f64 = 10.0;

/// Whether a number of degrees may be an amount of the channel: up to so many times its readings. Common practice, no source.
const ALIKE: f64 = 3.0;

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let read = readings::all(context);
    for (n, (field, reading)) in read.iter().enumerate() {
        // Corrections make a first run the largest by far; trials and proofs read alike, whatever their order.
        let others = if context.setup().is_some() { &read[..] } else { &read[..n] };
        let others = others.iter().filter(|(other, its)| is_of_same(&(*other, its), &(*field, reading)));
        let in_its_unit = others.map(|(_, its)| reading.amount.unit.from_base(its.amount.base));
        let (Some(highest), Some(angle)) = (in_its_unit.reduce(f64::max), &reading.angle) else { continue };
        let number = reading.amount.unit.from_base(reading.amount.base);
        let degrees = Unit::DEGREE.from_base(angle.base);
        let may_be_swapped = number > TIMES * highest && number <= 360.0 && degrees > 0.0 && degrees <= ALIKE * highest;
        if !may_be_swapped {
            continue;
        }
        let message = format!(
            "{} is {} times the highest of the other readings; amount and angle may have changed places",
            context.line(*field),
            ratio(number / highest)
        );
        let draft = context.beside(*field, message);
        sink.report(match swapped(context.written(*field)) {
            Some(right) => draft
                .help(format!("write the amount first: `{right}`; if the amount is right, repeat the run"))
                .offer_value(context, *field, &right),
            None => {
                draft.help("write the amount first, then `@` and the angle; if the amount is right, repeat the run")
            }
        });
    }
}

/// Whether another fact says what the same channel read in the same way.
fn is_of_same(
    (other, its): &(EffectiveField<'_>, &StatedReading),
    (field, reading): &(EffectiveField<'_>, &StatedReading),
) -> bool {
    let scale = |reading: &StatedReading| reading.scale.as_ref().map(|scale| scale.text.clone());
    !std::ptr::eq(other.field, field.field)
        && std::ptr::eq(other.key, field.key)
        && other.field.name_text() == field.field.name_text()
        && matches!(other.field.value, FieldValue::Reading(_))
        && its.amount.dimension() == reading.amount.dimension()
        && scale(its) == scale(reading)
}

/// `4.69 div @ 283 deg` for `283 div @ 4.69 deg`
fn swapped(written: &str) -> Option<String> {
    let (amount, angle) = written.split_once('@')?;
    let (number, unit) = amount.trim().split_once(' ')?;
    let (degrees, degree) = angle.trim().split_once(' ')?;
    let are_numbers = [number, degrees].iter().all(|text| text.parse::<f64>().is_ok());
    (are_numbers && degree == Unit::DEGREE.to_string()).then(|| format!("{degrees} {unit} @ {number} {degree}"))
}
