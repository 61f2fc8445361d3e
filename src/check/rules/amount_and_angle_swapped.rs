use rustc_hash::FxHashMap;

use crate::book::EffectiveField;
use crate::check::amounts::ratio;
use crate::check::{ItemContext, Sink, readings};
use crate::sheet::{FieldValue, StatedReading};
use crate::units::{Dimension, Unit};

/// From run to run a channel seldom reads so many times more. Common practice, no source.
const TIMES: f64 = 10.0;

/// Whether a number of degrees may be an amount of the channel: up to so many times its readings. Common practice, no source.
const ALIKE: f64 = 3.0;

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let read = readings::all(context);
    let read: Vec<_> =
        read.into_iter().filter(|(field, _)| matches!(field.field.value, FieldValue::Reading(_))).collect();
    // Corrections make a first run the largest by far; trials and proofs read alike, whatever their order.
    let in_any_order = context.setup().is_some();
    let mut highest_of: FxHashMap<Same<'_>, Highest> = FxHashMap::default();
    if in_any_order {
        read.iter().enumerate().for_each(|(n, one)| add(&mut highest_of, n, one));
    }
    for (n, (field, reading)) in read.iter().enumerate() {
        let highest = highest_of.get(&same(field, reading)).and_then(|highest| highest.beside(n));
        let highest = highest.map(|base| reading.amount.unit.from_base(base));
        if !in_any_order {
            add(&mut highest_of, n, &(*field, *reading));
        }
        let (Some(highest), Some(angle)) = (highest, &reading.angle) else { continue };
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

/// What readings of one channel, read in the same way, have in common: key, name, dimension and scale.
type Same<'b> = (&'static str, &'b str, Dimension, Option<&'b str>);

fn same<'b>(field: &EffectiveField<'b>, reading: &'b StatedReading) -> Same<'b> {
    let scale = reading.scale.as_ref().map(|scale| &*scale.text);
    (field.key.name, field.field.name_text(), reading.amount.dimension(), scale)
}

/// The two highest, each with its number, in base units.
#[derive(Default)]
struct Highest([Option<(usize, f64)>; 2]);

impl Highest {
    /// The highest of all but one.
    fn beside(&self, n: usize) -> Option<f64> {
        self.0.iter().flatten().find(|(number, _)| *number != n).map(|(_, base)| *base)
    }
}

fn add<'b>(
    highest_of: &mut FxHashMap<Same<'b>, Highest>,
    n: usize,
    (field, reading): &(EffectiveField<'b>, &'b StatedReading),
) {
    let Highest([first, second]) = highest_of.entry(same(field, reading)).or_default();
    let is_above = |other: &Option<(usize, f64)>| other.is_none_or(|(_, base)| reading.amount.base > base);
    let new = Some((n, reading.amount.base));
    if is_above(first) {
        (*first, *second) = (new, *first);
    } else if is_above(second) {
        *second = new;
    }
}

/// `4.69 div @ 283 deg` for `283 div @ 4.69 deg`
fn swapped(written: &str) -> Option<String> {
    let (amount, angle) = written.split_once('@')?;
    let (number, unit) = amount.trim().split_once(' ')?;
    let (degrees, degree) = angle.trim().split_once(' ')?;
    let are_numbers = [number, degrees].iter().all(|text| text.parse::<f64>().is_ok());
    (are_numbers && degree == Unit::DEGREE.to_string()).then(|| format!("{degrees} {unit} @ {number} {degree}"))
}
