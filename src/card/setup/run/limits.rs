//! What may be read at most, and on which scale.

use super::super::{Sheet, hole};
use super::numbers::{pair, shown};
use crate::book::{Entry, Outcome, VibrationLimit};
use crate::card::document::{Number, Value};
use crate::card::values::bare;
use crate::card::words::{Rank, Words};
use crate::units::{Amount, Indication, Length, Mass, Typed, Unit};
use crate::vocabulary::{Of, result};

/// What may be read of a plane at most and is still within every limit, in base units of the readout; `None` where no
/// reading shows it, or where channels together tell the planes.
pub(super) fn limit(sheet: &Sheet<'_, '_>, plane: &str) -> Option<(f64, Unit)> {
    let (base, unit) = most(sheet, plane)?;
    let readout = sheet.setup.machine.as_ref()?.readout.as_ref()?;
    let base = readable(base, readout.step_for(Indication::new(base)).map(Indication::value))?;
    (unit.dimension() == readout.unit.dimension()).then_some((base, unit))
}

/// The same, where channels together tell the planes as an unbalance.
fn most(sheet: &Sheet<'_, '_>, plane: &str) -> Option<(f64, Unit)> {
    let own = |entry: &&Entry| {
        entry.is(&result::LIMIT_TO_READ) && entry.of.as_ref().and_then(Of::plane).is_none_or(|of| of == plane)
    };
    match sheet.setup.entries.iter().find(own)?.outcome {
        Outcome::Amount { base, unit, .. } => Some((base, unit)),
        _ => None,
    }
}

/// As much of a limit as the readout shows; nothing is rounded up. `None` below the smallest that it shows.
fn readable(limit: f64, step: Option<f64>) -> Option<f64> {
    let shown = step.map_or(limit, |step| (limit / step * (1.0 + 1e-9)).floor() * step);
    (shown > 0.0).then_some(shown)
}

/// `1 div`, one for both planes where they are alike.
pub(super) fn good_at(sheet: &Sheet<'_, '_>) -> Vec<Number> {
    let planes = sheet.planes();
    let texts: Vec<Option<String>> =
        planes.iter().map(|(plane, _)| limit(sheet, plane).map(|(base, unit)| shown(base, unit))).collect();
    // On an arbor no single reading is the rotor's.
    let label = |words: &'static str| match sheet.setup.is_told_by_half_sums() {
        true => Words::said("Half sum g").say(&words[1..]),
        false => Words::said(words),
    };
    let number = |label: Words, value: Value| vec![Number::new(label, value)];
    match texts.as_slice() {
        all if !all.is_empty() && sheet.setup.extra_masses().next().is_some() && all.iter().all(Option::is_none) => {
            number(
                "Good at or below".into(),
                hole("extra masses count beside what is read; the record of each run has them"),
            )
        }
        all if all.len() > 1 && all.iter().all(Option::is_none) => {
            match residuals(sheet) {
                // No reading shows them: they are said where readings are entered.
                Some(_) => Vec::new(),
                None if sheet.setup.rotor.as_deref().is_none_or(|rotor| rotor.tolerance_block().is_none()) => {
                    number(label("Good at or below"), hole("the rotor has no tolerance"))
                }
                None if sheet.is_by_trials() && !sheet.has_trials_made() => {
                    number(label("Good at or below"), hole("the trial runs are not made yet"))
                }
                None => number(label("Good at or below"), hole("the record of each run gives it")),
            }
        }
        [] => number("Good at".into(), hole("no plane is read")),
        [Some(one)] => number(label("Good at"), Value::text(one.clone())),
        [Some(one), others @ ..] if others.iter().all(|other| other.as_ref() == Some(one)) => {
            number(label("Good at, each"), Value::text(one.clone()))
        }
        [Some(left), Some(right)] => {
            let short = |n: usize| planes[n].1.unwrap_or(planes[n].0);
            let label = label("Good at: ").state(short(0)).say(" | ").state(short(1));
            number(label, Value::text(pair(left, right)))
        }
        all => planes.iter().zip(all).flat_map(|((plane, _), text)| each(sheet, plane, text.as_ref())).collect(),
    }
}

/// On a stand: the mass at the radius of the only plane that may just set the rotor rolling where it rests anywhere, `3 g`.
/// So much times the radius may be there at any angle; as a bound in two directions it is known to √2 of it, k = 2, and the
/// verdict holds that against each limit. Nothing is rounded up.
pub(super) fn starts_with_at_most(sheet: &Sheet<'_, '_>) -> Option<String> {
    let rotor = sheet.setup.rotor.as_deref()?;
    let [plane] = &rotor.planes[..] else { return None };
    let [a, b] = [rotor.bearings[0].get()?, rotor.bearings[1].get()?];
    let at = plane.at.get();
    let share = |far: Length| at.map(|at| ((at - far) / (b - a)).value().abs()).filter(|share| *share > 0.0);
    let at_bearing = |n: usize, far: Length| {
        let limit = rotor.at_bearings[n].get()?;
        Some(limit / share(far)?)
    };
    let limits = [plane.tolerance.get(), at_bearing(0, b), at_bearing(1, a)];
    let limit = limits.into_iter().flatten().min_by(|a, b| a.base().total_cmp(&b.base()))?;
    let most: Mass = limit / plane.radius.get()? / 2f64.sqrt();
    let unit = sheet.book.rules().shown(Unit::GRAM);
    let value = unit.from_base(most.raw());
    let step = 10f64.powf((value.log10().floor() - 1.0).max(-2.0));
    let readable = (value / step).floor() * step;
    Some(bare((most * (readable / value)).raw(), unit))
}

/// `2.8 mm/s`, one for each channel in which vibration is limited.
fn vibration(sheet: &Sheet<'_, '_>) -> Vec<(String, String)> {
    let one = |limit: &VibrationLimit<'_>| {
        Some((limit.channel.text.to_string(), shown(limit.limit.get()?.value(), limit.limit.unit)))
    };
    sheet.setup.vibration_limits.iter().filter_map(one).collect()
}

/// What no channel may read at the end, whatever is left in the planes.
pub(super) fn never_above_at_the_end(sheet: &Sheet<'_, '_>) -> Option<Number> {
    match vibration(sheet).as_slice() {
        [] => None,
        [(channel, limit)] => Some(Number::new(
            Words::said("At the end, never above: ").state(channel.clone()),
            Value::text(limit.clone()),
        )),
        [(left, one), (right, other), ..] => {
            let label = Words::said("At the end, never above: ").state(left.clone()).say(" | ").state(right.clone());
            Some(Number::new(label, Value::text(pair(one, other))))
        }
    }
}

/// `never above: de 2.8 mm/s; nde 2.8 mm/s`
pub(super) fn never_above(sheet: &Sheet<'_, '_>) -> Words {
    let each = vibration(sheet).into_iter().enumerate();
    each.fold(Words::default(), |words, (n, (channel, limit))| {
        words.say(if n == 0 { "never above: " } else { "; " }).state(channel).say(" ").state(limit).about(Rank::Speed)
    })
}

/// Where channels together tell the planes: what may be left in each, which `balance` works out of the readings.
pub(super) fn residuals(sheet: &Sheet<'_, '_>) -> Option<Words> {
    let readout = sheet.setup.machine.as_ref()?.readout.as_ref()?;
    let residual = |(plane, _): (&str, Option<&str>)| {
        let (base, unit) = most(sheet, plane).filter(|(_, unit)| unit.dimension() != readout.unit.dimension())?;
        Some(Words::stated(plane).say(" ").state(bare(base, unit)))
    };
    // A sentence reads the same whatever stands first in the sheets.
    let mut planes = sheet.planes();
    planes.sort_unstable();
    let each: Vec<Words> = planes.into_iter().map(residual).collect::<Option<_>>()?;
    each.into_iter().reduce(|words, one| words.say(", ").with(&one))
}

fn each(sheet: &Sheet<'_, '_>, plane: &str, text: Option<&String>) -> Option<Number> {
    let why = match sheet.setup.reading_at_tolerance.is_left_out() {
        true => "the sheet does not say what the tolerance reads",
        false => "no reading shows that the limits are kept",
    };
    let value = text.map_or_else(|| hole(why), |text| Value::text(text.clone()));
    let label = if sheet.setup.is_told_by_half_sums() { "Half sum good at, " } else { "Good at, " };
    Some(Number::new(Words::said(label).state(plane), value))
}

/// The limit of a plane as it is read: `1 div, 2 marks on fine`.
pub(super) fn as_read(sheet: &Sheet<'_, '_>, plane: &str) -> Option<String> {
    let (base, unit) = limit(sheet, plane)?;
    Some(with_scale(sheet, base, unit))
}

/// A reading with the scale that it is read on, where the readout has scales.
pub(super) fn with_scale(sheet: &Sheet<'_, '_>, base: f64, unit: Unit) -> String {
    let text = shown(base, unit);
    match on_scale(sheet, base) {
        Some(marks) => format!("{text}, {marks}"),
        None => text,
    }
}

/// The marks of the scale on which it is read.
pub(super) fn on_scale(sheet: &Sheet<'_, '_>, base: f64) -> Option<String> {
    let readout = sheet.setup.machine.as_ref()?.readout.as_ref()?;
    let scale = readout.scale_for(Indication::new(base))?;
    let marks = base / scale.one_mark?;
    let count = bare(marks, Unit::ONE);
    let plural = if count.trim() == "1" { "" } else { "s" };
    Some(format!("{} {}{plural} on {}", count.trim(), Unit::MARK, scale.name))
}
