//! A test mass moved round a plane: the residual unbalance without trusting the machine's angles.

use super::run::Runner;
use crate::book::derive::Val;
use crate::book::effective::EffectiveBlock;
use crate::book::formulas as by;
use crate::book::origin::Reason;
use crate::book::results::bench::readings as reading;
use crate::book::results::values::entry::{Meaning, Recorder, Spot, origin};
use crate::book::results::values::not_computed::WhyNot;
use crate::book::vectors::{Gathered, VectorVal, components};
use crate::mechanics::machine::{TRAVERSE_BAND, missed_by_extremes, residual_from_traverse};
use crate::sheet::FieldValue;
use crate::units::{Amount, Angle, Indication, Length, Mass, Ratio, Typed, Unbalance, Unit, Vector};
use crate::units::{Contributions, Part, Source};
use crate::vocabulary::{result, traverse};

/// What is computed of one traverse.
pub struct TraverseResults<'b> {
    pub plane: &'b str,
    pub block: EffectiveBlock<'b>,
    /// Where it is in excess, in the rotor's angles.
    pub residual: VectorVal<Unbalance>,
    #[cfg_attr(not(feature = "internals"), expect(dead_code, reason = "tests read it"))]
    pub by_extremes: Val<Unbalance>,
    pub departure: Val<Ratio>,
    /// What the test mass put in.
    pub test: Val<Unbalance>,
    /// The residual above the test unbalance that would have read the same.
    pub would_read_alike: Val<Unbalance>,
    /// The farthest that a reading lies from what the residual explains.
    pub scatter: Val<Unbalance>,
    /// Whether the readings tell it from the other residual that would read the same.
    pub is_told: bool,
    /// Whether the machine shows that it reaches its smallest residual; `None` unless the test mass is the one for it.
    pub passes: Option<bool>,
    /// Readings and places, when they are not as many.
    pub counts: Option<(usize, usize)>,
}

pub(in crate::book::results) fn of<'b>(
    recorder: &mut Recorder<'b>,
    runner: &Runner<'_, 'b>,
    block: &EffectiveBlock<'b>,
) -> TraverseResults<'b> {
    let field = block.field(traverse::READINGS);
    let spot = Spot::beside(block, runner.id, field);
    let unit = recorder.facts.shop.unbalance_unit;
    let angles = runner.measuring.sheet.angles();
    let channel = match block.field(traverse::CHANNEL).map(|field| &field.field.value) {
        Some(FieldValue::Name(name)) => &name.text,
        _ => "",
    };
    let readings = field.map_or_else(Vec::new, |field| reading::several(recorder, &angles, block, channel, field));
    let (count, from) = match block.field(traverse::PLACES).map(|field| &field.field.value) {
        Some(FieldValue::Places { count, from }) => (*count as usize, Some(Angle::from_base(from.base))),
        _ => (0, None),
    };
    let mass: Val<Mass> = recorder.facts.quantity(block, traverse::MASS);
    let radius: Val<Length> = recorder.facts.radius(block, traverse::RADIUS, traverse::DIAMETER);
    // Where it is known what one unit of the readout means, the readings tell which of two residuals it is.
    let measuring = runner.measuring;
    let reads_plane = measuring.resting_on().is_none() && measuring.sheet.mode().is_some();
    let worth = measuring.sheet.worth(block.name_text(), unit);
    let worth = if reads_plane { worth.of(Indication::new(1.0)) } else { None };
    let mut gathered = Gathered::new();
    let (m, r) = (gathered.value(&mass), gathered.value(&radius));
    let read: Vec<usize> = readings.iter().map(|reading| gathered.value(&reading.amount)).collect();
    let outputs = gathered.work_out(recorder.explained(&by::OF_TRAVERSE), |numbers| {
        let test: Unbalance = numbers.value::<Mass>(m) * numbers.value::<Length>(r);
        let readings: Vec<Indication> = read.iter().map(|at| numbers.value(*at)).collect();
        let traverse = residual_from_traverse(test, &readings)?;
        let traverse = match worth {
            Some(worth) => {
                let amounts: Vec<Unbalance> = readings.iter().map(|reading| worth * reading.value()).collect();
                traverse.by_amounts(test, &amounts)?
            }
            None => traverse,
        };
        let at = from.unwrap_or(Angle::ZERO) + traverse.heavy_spot;
        let mut all = components([Vector::from_polar(traverse.residual_from_harmonic, at)]);
        all.push(traverse.residual_from_extremes.raw());
        all.push(traverse.largest_departure.raw());
        all.extend([test, traverse.would_read_alike, traverse.scatter].map(Amount::raw));
        Ok(all)
    });
    let [test, would_read_alike, scatter] = [4, 5, 6].map(|n| {
        let value: Val<Unbalance> = outputs.value(n, origin(&spot, &result::RESIDUAL), unit);
        Val { contributions: Default::default(), derivation: None, ..value }
    });
    let counts = (count != readings.len()).then_some((readings.len(), count));
    let mut residual = outputs.vector(0, origin(&spot, &result::RESIDUAL), unit);
    let mut by_extremes: Val<Unbalance> = outputs.value(2, origin(&spot, &result::RESIDUAL_OF_EXTREMES), unit);
    let departure: Val<Ratio> = outputs.value(3, origin(&spot, &result::DEPARTURE), Unit::PERCENT);
    if let (Some(field), Some(found)) = (field, by_extremes.get()) {
        let at = field.item.file.place(field.field.value_span);
        let source = Source::Written { at, nth: 0, part: Part::Residual };
        let missed = missed_by_extremes(found, readings.len()).base() / 3f64.sqrt();
        by_extremes.contributions.add(&Contributions::of(source, missed), 1.0);
    }
    if let Some((readings, places)) = counts {
        let why = Reason::Impossible(format!("there are {readings} readings for {places} places").into());
        residual = VectorVal::missing(residual.origin, why.clone(), unit);
        by_extremes = Val::missing(by_extremes.origin, why, unit);
    }
    recorder.keep(&spot, &result::RESIDUAL, &residual.amount());
    let extremes = Val { derivation: None, ..by_extremes.clone() };
    recorder.keep(&spot, &result::RESIDUAL_OF_EXTREMES, &extremes);
    recorder.keep_direction(&spot, &result::RESIDUAL_AT, &residual, Meaning::HeavySpot, &runner.sense);
    let departure = Val { contributions: Default::default(), derivation: None, ..departure };
    recorder.keep(&spot, &result::DEPARTURE, &departure);
    let plane = block.name_text();
    let passes = passes(runner, plane, &test, &departure);
    match &passes {
        Ok(passes) => recorder.words(&spot, &result::TRAVERSE_TEST, if *passes { "passes" } else { "does not pass" }),
        Err(why) => recorder.not_asked(&spot, &[&result::TRAVERSE_TEST], why.clone()),
    }
    let passes = passes.ok();
    let is_told = worth.is_some();
    let block = block.clone();
    TraverseResults {
        plane,
        block,
        residual,
        by_extremes,
        departure,
        test,
        would_read_alike,
        scatter,
        is_told,
        passes,
        counts,
    }
}

/// A test mass within this share of ten times the machine's smallest residual makes a traverse a test of the machine.
/// Source: common practice, no source.
const THE_TEST_MASS: f64 = 0.1;

/// Whether the readings stay within the band, where the test mass is ten times the smallest residual of the machine.
fn passes(runner: &Runner<'_, '_>, plane: &str, test: &Val<Unbalance>, departure: &Val<Ratio>) -> Result<bool, WhyNot> {
    let calibration = runner.setup.calibration(plane).ok_or("the setup does not read this plane")?;
    let smallest = calibration.smallest_residual.as_ref();
    let smallest = smallest.ok_or("the machine does not state the smallest residual it reaches")?;
    let (smallest, test) = (smallest.known.clone(), test.known.clone());
    let times = (test.map_err(WhyNot::Lacks)? / (smallest.map_err(WhyNot::Lacks)? * 10.0)).value();
    let departure = departure.known.clone().map_err(WhyNot::Lacks)?;
    match (times - 1.0).abs() <= THE_TEST_MASS {
        true => Ok(departure.value() <= TRAVERSE_BAND),
        false => Err("the test mass is not ten times the smallest residual of the machine".into()),
    }
}
