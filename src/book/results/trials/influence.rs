//! Influence coefficients of a setup's trials, and the correction that the run as found calls for.

use std::sync::Arc;

use super::series::{BY_TRIALS, Series};
use crate::book::derive::Val;
use crate::book::formulas as by;
use crate::book::origin::{Missing, Origin, Reason};
use crate::book::results::plane::called_for::{mass_for, meaning_of, radius_for};
use crate::book::results::plane::carried::Carried;
use crate::book::results::values::entry::{Meaning, Recorder, Spot, origin};
use crate::book::results::values::not_computed::WhyNot;
use crate::book::vectors::{Gathered, Numbers, Produced, VectorVal};
use crate::mechanics::influence::{self as physics, FromRuns, Influence, TrialRun};
use crate::mechanics::{Computed, DomainError};
use crate::units::{Amount, Dimension, Indication, Mass, Ratio, Sensitivity, Unbalance, Unit, Vector};
use crate::vocabulary::{Of, Sense, result, trial};

/// What the trials tell of channels and planes.
#[derive(Default)]
pub struct InfluenceResults {
    /// One row a channel, one column a plane. Empty when the readings have no angles.
    pub coefficients: Vec<Vec<VectorVal<Sensitivity>>>,
    /// What each channel reads as found.
    #[cfg_attr(not(feature = "internals"), expect(dead_code, reason = "tests read it"))]
    pub as_found: Vec<VectorVal<Indication>>,
    #[cfg_attr(not(feature = "internals"), expect(dead_code, reason = "tests read it"))]
    pub condition: Option<Val<Ratio>>,
    pub likeness: Option<Val<Ratio>>,
    /// The unbalance in each plane as found, where it is in excess.
    pub found: Vec<VectorVal<Unbalance>>,
    /// The mass that each plane's method must add or remove; `None` where the rotor has no such plane.
    #[cfg_attr(not(feature = "internals"), expect(dead_code, reason = "tests read it"))]
    pub corrections: Vec<Option<VectorVal<Mass>>>,
    /// Without angles: by how much the runs disagree.
    pub disagreement: Option<Val<Ratio>>,
    /// The farthest that a reading lies from what the coefficients explain, and how many runs there are beyond those that
    /// the planes need; `None` where there are no more.
    pub misfit: Option<(Indication, usize)>,
    /// Without angles: the unbalance that one unit of the readout means.
    pub worth_of_amount: Option<Val<Unbalance>>,
    /// Without angles: the rotor as found.
    pub amount_as_found: Option<AmountAsFound>,
}

/// A rotor as trials without angles found it.
#[derive(Clone)]
pub struct AmountAsFound {
    /// What its channel read.
    pub read: Val<Indication>,
    /// With its angle, which the trials told, and with all masses that were on.
    pub(in crate::book::results) unbalance: VectorVal<Unbalance>,
}

pub(in crate::book::results) fn of<'b>(recorder: &mut Recorder<'b>, series: &Series<'_, 'b>) -> InfluenceResults {
    let spot = series.spot();
    let none = |found| InfluenceResults { found, ..InfluenceResults::default() };
    let missing = match &series.states {
        Err(missing) => Some(missing.clone()),
        Ok(_) if series.planes.is_empty() => {
            let why = match series.members.is_empty() {
                true => "no trial run was made at the balancing speed",
                false => "no trial run at the balancing speed has a mass in a plane",
            };
            recorder.not_asked(&spot, &BY_TRIALS, why);
            return none(Vec::new());
        }
        Ok(_) if series.channels.is_empty() => Some(no_readings(series)),
        Ok(_) if !series.with_angles => Some(no_angles(&spot)),
        Ok(_) => None,
    };
    let sense = series.bench.angles().sense(&recorder.facts);
    if let Some(missing) = missing {
        let unit = recorder.facts.shop.unbalance_unit;
        let others = BY_TRIALS.into_iter().filter(|spec| **spec != result::UNBALANCE_FOUND);
        recorder.not_asked(&spot, &others.collect::<Vec<_>>(), WhyNot::Lacks(missing.clone()));
        let found: Vec<VectorVal<Unbalance>> = series
            .planes
            .iter()
            .map(|plane| {
                let of_plane = spot.of_plane(plane);
                let lacking = VectorVal::lacking(origin(&of_plane, &result::UNBALANCE_FOUND), missing.clone(), unit);
                recorder.keep_vector(&of_plane, &result::UNBALANCE_FOUND, &lacking, Meaning::HeavySpot, &sense);
                lacking
            })
            .collect();
        return none(found);
    }
    let fitted = match one_by_one(series) {
        Some(pairs) => {
            let why = "there are no more runs than planes need: nothing is left over to be explained";
            recorder.not_asked(&spot, &[&result::MISFIT], why);
            let coefficients = each_alone(recorder, series, &spot, &pairs);
            FittedTogether { coefficients, as_found: starting(series), misfit: None, known_to: None }
        }
        None => all_together(recorder, series, &spot),
    };
    let coefficients = &fitted.coefficients;
    recorder.not_asked(&spot, &[&result::DISAGREEMENT], "the trials are read with angles");
    keep_coefficients(recorder, series, &spot, coefficients, &sense);
    let condition = condition(recorder, &spot, coefficients);
    let likeness = likeness(recorder, &spot, coefficients);
    let found = found(recorder, series, &spot, &fitted, &sense);
    left_over(recorder, series, &spot, coefficients, &fitted.as_found);
    let corrections = corrections(recorder, series, &spot, &found, &sense);
    let FittedTogether { coefficients, as_found, misfit, .. } = fitted;
    InfluenceResults {
        coefficients,
        as_found,
        condition: Some(condition),
        likeness,
        found,
        corrections,
        disagreement: None,
        misfit,
        worth_of_amount: None,
        amount_as_found: None,
    }
}

/// Trials of which none has a reading yet.
fn no_readings(series: &Series<'_, '_>) -> Arc<Missing> {
    let block = &series.runs[series.members.first().copied().unwrap_or(0)].block;
    let origin =
        Origin { item: block.item, path: block.path.clone(), name: trial::READING.words().into(), place: None };
    Arc::new(Missing { origin, reason: Reason::NotGiven })
}

fn no_angles(spot: &Spot) -> Arc<Missing> {
    let why = "amounts without angles do not tell where an unbalance is in more than one plane";
    let origin = origin(spot, &result::UNBALANCE_FOUND);
    Arc::new(Missing { origin, reason: Reason::Impossible(why.into()) })
}

/// For each plane its only trial and the run it is compared with, when that is all there is and one run is as found.
fn one_by_one(series: &Series<'_, '_>) -> Option<Vec<(usize, usize)>> {
    let states = series.states.as_ref().ok()?;
    let as_found = series.members.iter().filter(|run| states[**run].is_empty()).count();
    if series.members.len() != series.planes.len() + 1 || as_found != 1 {
        return None;
    }
    let pair = |plane: &&str| {
        let run = series.run_of(plane)?;
        Some((series.before(run)?, run))
    };
    series.planes.iter().map(pair).collect()
}

fn coefficient_unit(series: &Series<'_, '_>, unbalance: Unit) -> Unit {
    let readings = series.members.iter().flat_map(|run| &series.runs[*run].readings);
    let reading = readings.into_iter().find(|reading| reading.amount.is_known());
    let Some(reading) = reading.map(|reading| reading.amount.unit) else { return Unit::ONE };
    // A pick-up shows next to nothing for a gram-millimetre.
    let is_vibration = matches!(reading.dimension(), Dimension::VELOCITY | Dimension::LENGTH);
    let per = if is_vibration && unbalance == Unit::GRAM_MILLIMETRE { Unit::KILOGRAM_MILLIMETRE } else { unbalance };
    reading.per_whole(per).unwrap_or(Unit::ONE)
}

fn of_both(series: &Series<'_, '_>, channel: usize, plane: usize) -> Of {
    Of::ChannelAndPlane { channel: series.channels[channel].into(), plane: series.planes[plane].into() }
}

/// One trial a plane: each coefficient from its own two runs.
fn each_alone<'b>(
    recorder: &Recorder<'b>,
    series: &Series<'_, 'b>,
    spot: &Spot,
    pairs: &[(usize, usize)],
) -> Vec<Vec<VectorVal<Sensitivity>>> {
    let unit = coefficient_unit(series, recorder.facts.shop.unbalance_unit);
    let coefficient = |channel: usize, (plane, (before, run)): (usize, &(usize, usize))| {
        let spot = spot.with(of_both(series, channel, plane));
        let mut gathered = Gathered::new();
        let v0 = gathered.vector(&series.vector(*before, channel));
        let v1 = gathered.vector(&series.vector(*run, channel));
        let put = series.runs[*run].put_on.as_ref().expect("a run with a plane has a mass in it");
        let t = gathered.vector(put);
        let outputs = gathered.work_out(recorder.explained(&by::COEFFICIENT), |numbers| {
            let (before, with_trial) = (numbers.vector(v0), numbers.vector(v1));
            Ok(Produced::vector(physics::coefficient(before, with_trial, numbers.vector(t))?))
        });
        outputs.vector(0, origin(&spot, &result::INFLUENCE), unit)
    };
    let rows = 0..series.channels.len();
    rows.map(|channel| pairs.iter().enumerate().map(|pair| coefficient(channel, pair)).collect()).collect()
}

fn starting(series: &Series<'_, '_>) -> Vec<VectorVal<Indication>> {
    let run = series.as_found().or(series.members.first().copied()).unwrap_or(0);
    (0..series.channels.len()).map(|channel| series.vector(run, channel)).collect()
}

/// What all runs tell together.
struct FittedTogether {
    /// By channel and plane.
    coefficients: Vec<Vec<VectorVal<Sensitivity>>>,
    as_found: Vec<VectorVal<Indication>>,
    /// How far a reading lies off, and how many runs there are beyond need.
    misfit: Option<(Indication, usize)>,
    /// What the unbalances found are known to by that, one a plane.
    known_to: Option<Vec<Unbalance>>,
}

/// More runs than needed, or not one a plane: all coefficients from all runs by least squares.
fn all_together<'b>(recorder: &mut Recorder<'b>, series: &Series<'_, 'b>, spot: &Spot) -> FittedTogether {
    let mut gathered = Gathered::new();
    let (channels, planes) = (series.channels.len(), series.planes.len());
    let members = series.members.iter();
    let read: Vec<Vec<usize>> = members
        .map(|run| (0..channels).map(|channel| gathered.vector(&series.vector(*run, channel))).collect())
        .collect();
    let put: Vec<Option<usize>> =
        series.runs.iter().map(|run| run.put_on.as_ref().map(|put| gathered.vector(put))).collect();
    let states = series.states.as_ref().expect("looked at before");
    let plane_of = |run: usize| series.planes.iter().position(|plane| series.runs[run].plane == Some(plane));
    let run = |numbers: &Numbers, n: usize| -> TrialRun {
        let mut put_on = vec![Vector::<Unbalance>::zero(); planes];
        for on in &states[series.members[n]] {
            if let (Some(plane), Some(at)) = (plane_of(*on), put[*on]) {
                put_on[plane] = put_on[plane] + numbers.vector(at);
            }
        }
        TrialRun { put_on, readings: read[n].iter().map(|at| numbers.vector(*at)).collect() }
    };
    let runs = |numbers: &Numbers| -> Vec<TrialRun> { (0..read.len()).map(|n| run(numbers, n)).collect() };
    let known_to = gathered.numbers().and_then(|numbers| Influence::from_runs(&runs(&numbers)).ok()?.known_to);
    let outputs = gathered.work_out(recorder.explained(&by::COEFFICIENTS), |numbers| {
        let runs = runs(numbers);
        let FromRuns { as_found, influence, misfit, .. } = Influence::from_runs(&runs)?;
        let as_found = as_found.into_iter().fold(Produced::default(), Produced::and_vector);
        let each = (0..channels).flat_map(|channel| (0..planes).map(move |plane| (channel, plane)));
        let coefficients = each.map(|(channel, plane)| influence.coefficient(channel, plane));
        Ok(coefficients.fold(as_found, Produced::and_vector).and(misfit))
    });
    let unit = coefficient_unit(series, recorder.facts.shop.unbalance_unit);
    let reading_unit = series.amount(series.members[0], 0).unit;
    let as_found = (0..channels).map(|channel| {
        let spot = spot.of_channel(series.channels[channel]);
        outputs.vector(2 * channel, origin(&spot, &result::LEFT_IN_CHANNEL), reading_unit)
    });
    let as_found = as_found.collect();
    let coefficient = |channel: usize, plane: usize| {
        let spot = spot.with(of_both(series, channel, plane));
        let at = 2 * (channels + channel * planes + plane);
        outputs.vector(at, origin(&spot, &result::INFLUENCE), unit)
    };
    let rows = 0..channels;
    let coefficients = rows.map(|channel| (0..planes).map(|plane| coefficient(channel, plane)).collect()).collect();
    let mut left = None;
    if outputs.is_known() {
        let at = 2 * channels * (planes + 1);
        let misfit: Val<Indication> = outputs.value(at, origin(spot, &result::MISFIT), reading_unit);
        let exact = Val { contributions: crate::units::Contributions::none(), ..misfit };
        recorder.keep(spot, &result::MISFIT, &exact);
        left = exact.get().zip(series.runs.len().checked_sub(planes + 1).filter(|spare| *spare > 0));
    } else if let Err(missing) = outputs.value::<Indication>(0, origin(spot, &result::MISFIT), reading_unit).known {
        recorder.not_asked(spot, &[&result::MISFIT], WhyNot::Lacks(missing));
    }
    FittedTogether { coefficients, as_found, misfit: left, known_to }
}

fn keep_coefficients<'b>(
    recorder: &mut Recorder<'b>,
    series: &Series<'_, 'b>,
    spot: &Spot,
    coefficients: &[Vec<VectorVal<Sensitivity>>],
    sense: &Result<Sense, Arc<Missing>>,
) {
    for (channel, row) in coefficients.iter().enumerate() {
        for (plane, coefficient) in row.iter().enumerate() {
            let spot = spot.with(of_both(series, channel, plane));
            recorder.keep_vector(&spot, &result::INFLUENCE, coefficient, Meaning::ReadingAgainstMass, sense);
        }
    }
}

/// The places of a matrix of coefficients among gathered numbers.
pub(in crate::book::results) struct Matrix(Vec<Vec<usize>>);

impl Matrix {
    pub fn gather(gathered: &mut Gathered, coefficients: &[Vec<VectorVal<Sensitivity>>]) -> Self {
        Self(coefficients.iter().map(|row| row.iter().map(|one| gathered.vector(one)).collect()).collect())
    }

    pub fn influence(&self, numbers: &Numbers) -> Computed<Influence> {
        let row = |row: &Vec<usize>| row.iter().map(|at| numbers.vector(*at)).collect();
        Influence::new(&self.0.iter().map(row).collect::<Vec<_>>())
    }
}

fn condition(recorder: &mut Recorder<'_>, spot: &Spot, coefficients: &[Vec<VectorVal<Sensitivity>>]) -> Val<Ratio> {
    let mut gathered = Gathered::new();
    let matrix = Matrix::gather(&mut gathered, coefficients);
    let outputs = gathered.work_out(recorder.explained(&by::CONDITION_NUMBER), |numbers| {
        Ok(Produced::amount(matrix.influence(numbers)?.condition()?))
    });
    let value = outputs.value(0, origin(spot, &result::CONDITION), Unit::ONE);
    recorder.keep(spot, &result::CONDITION, &value);
    value
}

fn likeness(
    recorder: &mut Recorder<'_>,
    spot: &Spot,
    coefficients: &[Vec<VectorVal<Sensitivity>>],
) -> Option<Val<Ratio>> {
    if coefficients.len() != 2 || coefficients.iter().any(|row| row.len() != 2) {
        let specs = [&result::LIKENESS, &result::SEPARATION_ADVICE];
        recorder.not_asked(spot, &specs, "it takes two planes, read by two channels");
        return None;
    }
    let mut gathered = Gathered::new();
    let matrix = Matrix::gather(&mut gathered, coefficients);
    let outputs = gathered.work_out(recorder.explained(&by::ALIKE), |numbers| {
        let likeness = matrix.influence(numbers)?.likeness();
        let what = crate::mechanics::Input::TrialRuns;
        let must = crate::mechanics::Requirement::ActApart;
        Ok(Produced::amount(likeness.ok_or(DomainError { what, must })?))
    });
    let mut value: Val<Ratio> = outputs.value(0, origin(spot, &result::LIKENESS), Unit::ONE);
    if let Some(of_both) = of_both_small(coefficients) {
        value.contributions.add(&value.contributions.beyond_first_order(of_both.value()), 1.0);
    }
    recorder.keep(spot, &result::LIKENESS, &value);
    if value.get().is_some_and(|likeness| likeness.value() > physics::ACT_ALIKE) {
        let advice = "the planes act alike: correct the static unbalance by equal masses at one angle in both, \
                      and the couple by equal masses half a turn apart";
        recorder.words(spot, &result::SEPARATION_ADVICE, advice);
    } else {
        recorder.not_asked(spot, &[&result::SEPARATION_ADVICE], "the planes are not shown to act alike");
    }
    Some(value)
}

/// What the uncertainties of the two smaller coefficients make together of the likeness, which is their product over that of
/// the others: to first order nothing where both are next to nothing (u²(x·y) has u²(x)·u²(y) besides).
fn of_both_small(coefficients: &[Vec<VectorVal<Sensitivity>>]) -> Option<Ratio> {
    let [across, along] =
        [[(0, 1), (1, 0)], [(0, 0), (1, 1)]].map(|pair| pair.map(|(i, j)| coefficients[i][j].amount()));
    let product = |pair: &[Val<Sensitivity>; 2]| Some(pair[0].get()?.raw() * pair[1].get()?.raw());
    let (small, large) = if product(&across)? < product(&along)? { (&across, &along) } else { (&along, &across) };
    Some(Ratio::new(small[0].standard_uncertainty() * small[1].standard_uncertainty() / product(large)?))
}

/// The unbalance in each plane that readings of the channels stand for.
pub(in crate::book::results) fn unbalances<'b>(
    recorder: &Recorder<'b>,
    spots: &[Spot],
    spec: &'static crate::vocabulary::ResultSpec,
    coefficients: &[Vec<VectorVal<Sensitivity>>],
    readings: &[VectorVal<Indication>],
) -> Vec<VectorVal<Unbalance>> {
    let unit = recorder.facts.shop.unbalance_unit;
    let (channels, planes) = (coefficients.len(), spots.len());
    let formulas: &[&'static crate::book::formulas::Formula] = match (channels, planes) {
        (1, 1) => &[&by::FOUND_IN_ONE],
        (2, 2) => &[&by::FOUND_IN_FIRST, &by::FOUND_IN_SECOND],
        _ => &[],
    };
    (0..planes)
        .map(|plane| {
            let mut gathered = Gathered::new();
            // The reading comes first in the formula of one plane, last in those of two.
            let early = (planes == 1).then(|| gather_all(&mut gathered, readings));
            let matrix = Matrix::gather(&mut gathered, coefficients);
            let read = early.unwrap_or_else(|| gather_all(&mut gathered, readings));
            let formula = formulas.get(plane).copied().unwrap_or(&by::FOUND_IN_PLANES);
            let outputs = gathered.work_out(recorder.explained(formula), |numbers| {
                let readings: Vec<Vector<Indication>> = read.iter().map(|at| numbers.vector(*at)).collect();
                Ok(Produced::vector(matrix.influence(numbers)?.unbalances(&readings)?[plane]))
            });
            outputs.vector(0, origin(&spots[plane], spec), unit)
        })
        .collect()
}

fn gather_all(gathered: &mut Gathered, readings: &[VectorVal<Indication>]) -> Vec<usize> {
    readings.iter().map(|reading| gathered.vector(reading)).collect()
}

fn found<'b>(
    recorder: &mut Recorder<'b>,
    series: &Series<'_, 'b>,
    spot: &Spot,
    fitted: &FittedTogether,
    sense: &Result<Sense, Arc<Missing>>,
) -> Vec<VectorVal<Unbalance>> {
    let spec = &result::UNBALANCE_FOUND;
    let spots: Vec<Spot> = series.planes.iter().map(|plane| spot.of_plane(plane)).collect();
    let mut found =
        series.counted(recorder, unbalances(recorder, &spots, spec, &fitted.coefficients, &fitted.as_found));
    // Runs that contradict each other know no plane better than they agree.
    for (found, known_to) in found.iter_mut().zip(fitted.known_to.iter().flatten()) {
        found.known_no_better_than(*known_to);
    }
    for (spot, found) in spots.iter().zip(&found) {
        recorder.keep_vector(spot, spec, found, Meaning::HeavySpot, sense);
    }
    found
}

/// What more channels than planes leave over, once the planes are corrected as well as they can be.
fn left_over<'b>(
    recorder: &mut Recorder<'b>,
    series: &Series<'_, 'b>,
    spot: &Spot,
    coefficients: &[Vec<VectorVal<Sensitivity>>],
    as_found: &[VectorVal<Indication>],
) {
    if series.channels.len() <= series.planes.len() {
        let why = "there are no more channels than planes";
        return recorder.not_asked(spot, &[&result::LEFT_IN_CHANNEL], why);
    }
    let mut gathered = Gathered::new();
    let matrix = Matrix::gather(&mut gathered, coefficients);
    let read = gather_all(&mut gathered, as_found);
    let outputs = gathered.work_out(recorder.explained(&by::LEFT_OVER), |numbers| {
        let influence = matrix.influence(numbers)?;
        let readings: Vec<Vector<Indication>> = read.iter().map(|at| numbers.vector(*at)).collect();
        let found = influence.unbalances(&readings)?;
        let correction: Vec<Vector<Unbalance>> = found.into_iter().map(|unbalance| -unbalance).collect();
        let left = influence.after(&readings, &correction).into_iter().map(Vector::amount);
        Ok(left.fold(Produced::default(), Produced::and))
    });
    for (n, channel) in series.channels.iter().enumerate() {
        let spot = spot.of_channel(channel);
        let spec = &result::LEFT_IN_CHANNEL;
        let left: Val<Indication> = outputs.value(n, origin(&spot, spec), series.amount(series.members[0], n).unit);
        recorder.keep(&spot, spec, &left);
    }
}

/// The mass that each plane's method must add or remove for the unbalance found in it.
pub(in crate::book::results) fn corrections<'b>(
    recorder: &mut Recorder<'b>,
    series: &Series<'_, 'b>,
    spot: &Spot,
    found: &[VectorVal<Unbalance>],
    sense: &Result<Sense, Arc<Missing>>,
) -> Vec<Option<VectorVal<Mass>>> {
    let spec = &result::CALLED_FOR;
    let masses = series.runs.iter().map(|run| recorder.facts.quantity::<Mass>(&run.block, trial::MASS));
    let own = masses.filter(Val::is_known).map(|mass| mass.unit).next().unwrap_or(Unit::GRAM);
    let unit = recorder.facts.shop.shown(own);
    let correction = |(name, found): (&&'b str, &VectorVal<Unbalance>)| {
        let spot = spot.of_plane(name);
        let Some(plane) = series.bench.rotor.and_then(|rotor| rotor.plane(name)) else {
            recorder.not_asked(&spot, &[spec], "the rotor has no such plane");
            return None;
        };
        let (meaning, mass) = match meaning_of(plane) {
            Ok(meaning) => {
                let radius = radius_for(recorder, plane, &Carried::default(), (meaning, found));
                let mass = mass_for(recorder, &spot, spec, meaning, found, &radius);
                (meaning, VectorVal { unit, ..mass })
            }
            Err(missing) => (Meaning::ToAdd, VectorVal::lacking(origin(&spot, spec), missing, unit)),
        };
        recorder.keep_vector(&spot, spec, &mass, meaning, sense);
        Some(mass)
    };
    series.planes.iter().zip(found).map(correction).collect()
}

impl InfluenceResults {
    /// The coefficients as numbers; `None` while one is not known.
    pub(in crate::book::results) fn influence(&self) -> Option<Influence> {
        let row = |row: &Vec<VectorVal<Sensitivity>>| row.iter().map(VectorVal::get).collect::<Option<Vec<_>>>();
        Influence::new(&self.coefficients.iter().map(row).collect::<Option<Vec<_>>>()?).ok()
    }

    /// What a channel that reads plane `own` shows for an unbalance in plane `of`, as a share of it.
    pub(in crate::book::results) fn interference(
        &self,
        recorder: &Recorder<'_>,
        spot: &Spot,
        channel: usize,
        own: usize,
        of: usize,
    ) -> Val<Ratio> {
        let spec = &result::INTERFERENCE;
        let Some(row) = self.coefficients.get(channel) else {
            let missing = self.found.first().and_then(|found| found.known.as_ref().err().cloned());
            let why = Reason::Impossible("there are no influence coefficients".into());
            let value = Val::missing(origin(spot, spec), why, Unit::PERCENT);
            return match missing {
                Some(missing) => Val { known: Err(missing), ..value },
                None => value,
            };
        };
        let mut gathered = Gathered::new();
        let (across, along) = (gathered.vector(&row[of]), gathered.vector(&row[own]));
        let outputs = gathered.work_out(recorder.explained(&by::INTERFERENCE_OF_COEFFICIENTS), |numbers| {
            let row = vec![numbers.vector::<Sensitivity>(along), numbers.vector(across)];
            Ok(Produced::vector(Influence::new(&[row])?.interference(0, 0, 1)?))
        });
        // As a vector, so that what is nothing is still known no better than the readings tell.
        let ratio: VectorVal<Ratio> = outputs.vector(0, origin(spot, spec), Unit::PERCENT);
        ratio.amount()
    }
}
