//! The check mass: what it must read before a kept sheet is used again.

use super::calibrate::CalibrateResults;
use crate::book::derive::Val;
use crate::book::effective::{EffectiveBlock, EffectiveField};
use crate::book::formulas as by;
use crate::book::origin::{Origin, Reason};
use crate::book::proofs::Day;
use crate::book::results::bench::Bench;
use crate::book::results::bench::mode::SHOWS_NO_UNBALANCE;
use crate::book::results::bench::readings::amount_on;
use crate::book::results::values::entry::{Recorder, Spot};
use crate::book::results::values::not_computed::WhyNot;
use crate::mechanics::calibration::drift_of_check;
use crate::sheet::FieldValue;
use crate::syntax::Kind;
use crate::units::{Dimension, Indication, Length, Mass, Ratio, Unbalance, Unit};
use crate::vocabulary::{check_mass, proof, result, setup};

/// What is computed of the check mass.
pub struct CheckMassResults<'b> {
    pub block: EffectiveBlock<'b>,
    pub plane: &'b str,
    pub mass: Val<Mass>,
    /// As worked out from mass and radius; missing where a readout shows neither unbalance nor divisions.
    pub reading: Val<Indication>,
    /// As stated; `None` when it is left out.
    pub stated_reading: Option<Val<Indication>>,
    /// As a share of the reading or as an amount on the readout; `None` when it is left out.
    pub within: Option<Val<Ratio>>,
    /// What it read on days since the latest proof, in their order.
    pub checked: Vec<Checked<'b>>,
}

/// What a check mass read one day.
pub struct Checked<'b> {
    pub day: Day,
    pub field: EffectiveField<'b>,
    pub reading: Val<Indication>,
    /// How far that is from what it must read, as a share of it.
    pub drift: Val<Ratio>,
}

impl CheckMassResults<'_> {
    /// The accepted band as an amount on the readout, to either side of the reading.
    pub fn band(&self) -> Option<Indication> {
        let within = self.within.as_ref()?;
        Some(Indication::new(band(self.reading.get()?, within.get()?, within.unit)))
    }

    /// Whether what it read one day is outside the band, by more than the reading is known to.
    pub fn is_outside(&self, one: &Checked<'_>) -> bool {
        let Some((must, read)) = self.reading.get().zip(one.reading.get()) else { return false };
        let known_to = one.reading.expanded_uncertainty();
        self.band().is_some_and(|band| (read.value() - must.value()).abs() > band.value() + known_to)
    }

    /// The highest reading that is accepted.
    pub fn highest(&self) -> Option<Indication> {
        Some(Indication::new(self.reading.get()?.value() + self.band()?.value()))
    }

    /// Whether what it read one day still says something on a later day: on the day itself, and as long as `checked every`
    /// says.
    pub fn holds(&self, checked: Day, on: Day) -> bool {
        let every = match self.block.field(check_mass::CHECKED_EVERY).map(|field| &field.field.value) {
            Some(FieldValue::Quantity(every)) => (every.base / SECONDS_A_DAY).round() as i64,
            _ => 0,
        };
        (checked <= on) && on.number() - checked.number() <= every
    }
}

const SECONDS_A_DAY: f64 = 86_400.0;

fn band(reading: Indication, within: Ratio, unit: Unit) -> f64 {
    if unit.dimension() == Dimension::NONE { reading.value() * within.value() } else { within.value() }
}

pub(in crate::book::results) fn of<'b>(
    recorder: &mut Recorder<'b>,
    bench: &Bench<'_, 'b>,
    calibrations: &[CalibrateResults<'b>],
) -> Option<CheckMassResults<'b>> {
    let block = bench.setup.inner(Kind::CheckMass).next()?;
    let named = match block.field(check_mass::PLANE).map(|field| &field.field.value) {
        Some(FieldValue::Name(plane)) => Ok(plane),
        _ => Err(WhyNot::LeftOut(check_mass::PLANE.any())),
    };
    let found = named.and_then(|plane| {
        let rotor = bench.rotor.ok_or_else(|| recorder.no_such_item(bench.setup, setup::ROTOR))?;
        Ok((plane, rotor.plane(&plane.text).ok_or("the rotor has no such plane")?))
    });
    let (plane, rotor) = match found {
        Ok(found) => found,
        Err(why) => {
            recorder.none_of(block, bench.id, why);
            return None;
        }
    };
    let spot =
        Spot::beside(block, bench.id, block.field(check_mass::RADIUS).or_else(|| block.field(check_mass::DIAMETER)));
    let mass: Val<Mass> = recorder.facts.quantity(block, check_mass::MASS);
    let radius: Val<Length> = recorder.facts.radius(block, check_mass::RADIUS, check_mass::DIAMETER);
    let spec = &result::CHECK_READING;
    let calibration = calibrations.iter().find(|one| one.plane == &*plane.text);
    let tolerance = calibration.map(|one| &one.tolerance);
    let division = calibration.filter(|one| one.unbalance.is_known() && one.one_division.is_known());
    let reading: Val<Indication> = match bench.reads(tolerance.unwrap_or(&rotor.tolerance), &rotor.radius) {
        Ok(reads) => {
            let reading = match division {
                Some(CalibrateResults { one_division, .. }) => {
                    let inputs = (&mass, &radius, one_division);
                    let f = |(m, r, one): (Mass, Length, Unbalance)| Ok(Indication::new((m * r / one).value()));
                    recorder.on_the_way(&spot, spec, reads.unit, &by::READING_BY_DIVISION, inputs, f)
                }
                None => reads.reading_of(recorder, &spot, spec, (&mass, &radius)),
            };
            recorder.keep(&spot, spec, &reading);
            reading
        }
        Err(_) => {
            recorder.not_asked(&spot, &[spec], SHOWS_NO_UNBALANCE);
            Val::missing(recorder.facts.origin(block, check_mass::READING, None), Reason::NotGiven, Unit::DIVISION)
        }
    };
    let stated_reading = super::reading::stated(recorder, block, bench.readout());
    let checked = checked(recorder, bench, block, &reading);
    match checked.last() {
        Some(latest) => {
            recorder.keep(&Spot::beside(block, bench.id, Some(latest.field)), &result::DRIFT, &latest.drift)
        }
        None => {
            let why = "it was not checked since the proof";
            recorder.not_asked(&spot, &[&result::DRIFT], why);
        }
    }
    let results = |within| CheckMassResults {
        block: block.clone(),
        plane: &plane.text,
        mass: mass.clone(),
        reading: reading.clone(),
        stated_reading,
        within,
        checked,
    };
    let Some(field) = block.field(check_mass::WITHIN) else {
        let specs = [&result::CHECK_LOWEST, &result::CHECK_HIGHEST];
        recorder.not_asked(&spot, &specs, WhyNot::LeftOut(check_mass::WITHIN.any()));
        return Some(results(None));
    };
    let within: Val<Ratio> = recorder.facts.quantity_in(block, check_mass::WITHIN);
    let spot = Spot::beside(block, bench.id, Some(field));
    let unit = within.unit;
    for (spec, sign) in [(&result::CHECK_LOWEST, -1.0), (&result::CHECK_HIGHEST, 1.0)] {
        recorder.work_out(&spot, spec, reading.unit, &by::CHECK_BAND, (&reading, &within), |(reading, within)| {
            Ok(Indication::new(reading.value() + sign * band(reading, within, unit)))
        });
    }
    Some(results(Some(within)))
}

/// The checks on and after the day of the latest proof, or all of a sheet without one.
fn checked<'b>(
    recorder: &Recorder<'b>,
    bench: &Bench<'_, 'b>,
    block: &EffectiveBlock<'b>,
    must_read: &Val<Indication>,
) -> Vec<Checked<'b>> {
    let proven = bench.setup.latest_proof().and_then(|proof| proof.day(proof::DATE));
    let one = |field: &EffectiveField<'b>| {
        let FieldValue::OfDay(of_day) = &field.field.value else { return None };
        let day = Day::of(&field.field.value).filter(|day| proven.is_none_or(|proven| proven <= *day))?;
        let origin =
            Origin { name: format!("{} {day}", check_mass::CHECKED).into(), ..recorder.facts.origin_of(block, *field) };
        let reading = amount_on(&recorder.facts, bench.readout(), *field, (0, &of_day.reading), origin);
        let spot = Spot::beside(block, bench.id, Some(*field));
        let f = |(read, must): (Indication, Indication)| drift_of_check(read, must);
        let drift =
            recorder.on_the_way(&spot, &result::DRIFT, Unit::PERCENT, &by::DRIFT_OF_CHECK, (&reading, must_read), f);
        Some(Checked { day, field: *field, reading, drift })
    };
    let lines = block.fields.iter().filter(|field| field.key.is(check_mass::CHECKED));
    let mut found: Vec<Checked<'b>> = lines.filter_map(one).collect();
    found.sort_by_key(|checked| checked.day);
    found
}
