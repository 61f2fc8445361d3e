//! A test mass moved round a plane: the residual unbalance without trusting the machine's angles.

use super::entry::{Meaning, Recorder, Spot, origin};
use super::readings as reading;
use super::run::Runner;
use crate::book::catalogue as result;
use crate::book::derive::Val;
use crate::book::effective::EffectiveBlock;
use crate::book::formulas as by;
use crate::book::origin::Reason;
use crate::book::vectors::{Gathered, VectorVal, components};
use crate::mechanics::machine::residual_from_traverse;
use crate::sheet::FieldValue;
use crate::units::{Amount, Angle, Indication, Length, Mass, Ratio, Unbalance, Unit, Vector};

/// What is computed of one traverse.
pub struct TraverseResults<'b> {
    pub plane: &'b str,
    pub block: EffectiveBlock<'b>,
    /// Where it is in excess, in the rotor's angles.
    pub residual: VectorVal<Unbalance>,
    pub by_extremes: Val<Unbalance>,
    pub departure: Val<Ratio>,
    /// Readings and places, when they are not as many.
    pub counts: Option<(usize, usize)>,
}

pub(super) fn of<'b>(
    recorder: &mut Recorder<'b>,
    runner: &Runner<'_, 'b>,
    block: &EffectiveBlock<'b>,
) -> TraverseResults<'b> {
    let field = block.field("readings");
    let spot = Spot::beside(block, runner.id, field);
    let unit = recorder.facts.shop.unbalance_unit;
    let angles = runner.measuring.setup.angles();
    let channel = match block.field("channel").map(|field| &field.field.value) {
        Some(FieldValue::Name(name)) => &name.text,
        _ => "",
    };
    let readings = field.map_or_else(Vec::new, |field| reading::several(recorder, &angles, block, channel, field));
    let (count, from) = match block.field("places").map(|field| &field.field.value) {
        Some(FieldValue::Places { count, from }) => (*count as usize, Some(Angle::from_raw(from.base))),
        _ => (0, None),
    };
    let mass: Val<Mass> = recorder.facts.quantity(block, "mass");
    let radius: Val<Length> = recorder.facts.radius(block, "radius", "diameter");
    let mut gathered = Gathered::new();
    let (m, r) = (gathered.value(&mass), gathered.value(&radius));
    let read: Vec<usize> = readings.iter().map(|reading| gathered.value(&reading.amount)).collect();
    let outputs = gathered.work_out(recorder.explained(&by::OF_TRAVERSE), |numbers| {
        let test: Unbalance = numbers.value::<Mass>(m) * numbers.value::<Length>(r);
        let readings: Vec<Indication> = read.iter().map(|at| numbers.value(*at)).collect();
        let traverse = residual_from_traverse(test, &readings)?;
        let at = from.unwrap_or(Angle::ZERO) + traverse.heavy_spot;
        let mut all = components([Vector::from_polar(traverse.residual_from_harmonic, at)]);
        all.push(traverse.residual_from_extremes.raw());
        all.push(traverse.largest_departure.raw());
        Ok(all)
    });
    let counts = (count != readings.len()).then_some((readings.len(), count));
    let mut residual = outputs.vector(0, origin(&spot, &result::RESIDUAL), unit);
    let mut by_extremes: Val<Unbalance> = outputs.value(2, origin(&spot, &result::RESIDUAL_OF_EXTREMES), unit);
    let departure: Val<Ratio> = outputs.value(3, origin(&spot, &result::DEPARTURE), Unit::PERCENT);
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
    TraverseResults { plane: block.name_text(), block: block.clone(), residual, by_extremes, departure, counts }
}
