//! From what the channels of a setup read to the unbalance in the planes.

pub(in crate::book::results) mod agreement;
pub(in crate::book::results) mod sheet;
pub(in crate::book::results) mod turn;

use std::borrow::Cow;

use crate::book::derive::Val;
use crate::book::formulas as by;
use crate::book::origin::{Origin, Reason};
use crate::book::results::bench::mode::{Mode, UnitAt};
use crate::book::results::bench::readings::ReadingResults;
use crate::book::results::trials::TrialResults;
use crate::book::results::trials::influence;
use crate::book::results::values::entry::{Recorder, Spot, origin};
use crate::book::vectors::{Gathered, VectorVal, amounts, components};
use crate::mechanics::hard_supports::Dimensions;
use crate::syntax::Kind;
use crate::units::{Angle, Indication, Length, Speed, Unbalance, Unit, Vector};
use crate::vocabulary::{ResultSpec, setup};
use agreement::{Contradiction, are_of_before};
use sheet::Sheet;

/// An unbalance in a plane, as far as the readings tell it.
#[derive(Clone, Debug)]
pub enum Found {
    /// Where it is in excess, in the rotor's angles.
    Vector(VectorVal<Unbalance>),
    /// No angle was read.
    Amount(Val<Unbalance>),
}

impl Found {
    pub fn amount(&self) -> Val<Unbalance> {
        match self {
            Found::Vector(vector) => vector.amount(),
            Found::Amount(amount) => amount.clone(),
        }
    }

    pub fn vector(&self) -> Option<&VectorVal<Unbalance>> {
        match self {
            Found::Vector(vector) => Some(vector),
            Found::Amount(_) => None,
        }
    }
}

/// How the readings of a setup become unbalances; card, rules, questions at the bench and rehearsal go by this alone.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum WorkedBy {
    /// As the readout shows them, calibrated where a mass was set up.
    Dials,
    /// By trial runs, which tell the planes.
    Trials,
    /// By trial runs without angles, of one plane.
    Amounts,
    /// By the dimensions of hard supports.
    Dimensions,
    /// By trial runs that are not made yet.
    TrialsToMake,
    Unknown,
}

impl WorkedBy {
    /// Whether trial runs are what it goes by, made or not.
    pub const fn is_by_trials(self) -> bool {
        matches!(self, Self::Trials | Self::Amounts | Self::TrialsToMake)
    }
}

/// How a setup turns readings into unbalances.
pub(in crate::book::results) struct Measuring<'a, 'b> {
    pub sheet: Sheet<'a, 'b>,
    how: How<'a, 'b>,
    /// The planes it can tell, in the order of its channels or trials.
    pub planes: Vec<&'b str>,
}

enum How<'a, 'b> {
    /// Each channel reads the plane that the setup says, in what its readout shows.
    ByCalibration,
    /// Channels together tell the planes, by trial runs.
    ByInfluence(&'a TrialResults<'b>),
    /// Amounts of one plane, by trial runs without angles.
    ByAmounts(&'a TrialResults<'b>),
    /// Unbalances at hard supports, brought into the planes by their dimensions.
    ByDimensions,
    Unknown(Cow<'static, str>),
}

impl<'a, 'b> Measuring<'a, 'b> {
    pub fn of(sheet: Sheet<'a, 'b>, contradictions: &[Contradiction]) -> Self {
        let mode = sheet.mode();
        // Trials tell what readings stand for, unless a calibration mass in every plane that is read tells the same.
        let made = sheet.trials.filter(|trials| trials.is_kept || !are_of_before(sheet.block));
        let trials = made.filter(|trials| !trials.found.coefficients.is_empty());
        let amounts = made.filter(|trials| trials.found.worth_of_amount.is_some());
        let mapped: Vec<&'b str> = sheet.channels.iter().map(|(_, plane)| *plane).collect();
        let shared = || -> Vec<&'b str> {
            let planes = sheet.rotor.iter().flat_map(|rotor| &rotor.planes);
            planes.filter(|plane| plane.shares_tolerance).map(|plane| plane.name).collect()
        };
        let reads = !mapped.is_empty() && mode.is_some();
        let is_known = |plane: &&str| sheet.calibration(plane).is_some_and(|one| one.one_division.is_known());
        let divisions_known = mode != Some(Mode::Divisions) || mapped.iter().all(is_known);
        let calibrated = divisions_known
            && !made.is_some_and(|trials| trials.is_kept)
            && mapped.iter().all(|plane| sheet.is_calibrated(plane))
            && !contradictions.iter().any(|one| one.is_calibrated);
        let (how, planes) = if reads && (calibrated || trials.is_none() && amounts.is_none()) {
            (How::ByCalibration, mapped)
        } else if let Some(trials) = trials {
            (How::ByInfluence(trials), trials.planes.clone())
        } else if let Some(trials) = amounts {
            (How::ByAmounts(trials), trials.planes.clone())
        } else if sheet.is_on_hard_supports() && mode == Some(Mode::Unbalance) {
            (How::ByDimensions, shared())
        } else if let Some(why) = made.and_then(TrialResults::two_answers) {
            (How::Unknown(why.to_owned().into()), mapped)
        } else if mapped.is_empty() {
            let why = "no `channel` line says which plane a channel reads, and there are no trial runs";
            (How::Unknown(why.into()), shared())
        } else {
            (How::Unknown("only trial runs with angles turn what the readout shows into an unbalance".into()), mapped)
        };
        Self { sheet, how, planes }
    }

    /// The same for whoever asks how it is worked, and not for the numbers.
    pub fn worked_by(&self) -> WorkedBy {
        let of_plane = |plane: &&'b str| self.sheet.is_calibrated(plane);
        let to_make = || self.sheet.block.inner(Kind::Trial).next().is_some() && !are_of_before(self.sheet.block);
        match self.how {
            How::ByInfluence(trials) if trials.has_readings_to_come() => WorkedBy::TrialsToMake,
            How::ByInfluence(_) => WorkedBy::Trials,
            How::ByAmounts(_) => WorkedBy::Amounts,
            How::ByCalibration | How::Unknown(_) if !self.planes.iter().any(of_plane) && to_make() => {
                WorkedBy::TrialsToMake
            }
            How::ByCalibration => WorkedBy::Dials,
            How::ByDimensions => WorkedBy::Dimensions,
            How::Unknown(_) => WorkedBy::Unknown,
        }
    }

    /// The trials that readings are judged by; `None` when something else judges them.
    pub fn trials(&self) -> Option<&'a TrialResults<'b>> {
        match self.how {
            How::ByInfluence(trials) => Some(trials),
            _ => None,
        }
    }

    /// The trials that the unbalances are worked out by, with angles or without.
    pub fn resting_on(&self) -> Option<&'a TrialResults<'b>> {
        match self.how {
            How::ByInfluence(trials) | How::ByAmounts(trials) => Some(trials),
            _ => None,
        }
    }

    /// The unbalance that one unit of the readout means, where trials without angles tell it.
    pub fn worth_of_amount(&self) -> Option<&'a Val<Unbalance>> {
        match self.how {
            How::ByAmounts(trials) => trials.found.worth_of_amount.as_ref(),
            _ => None,
        }
    }

    /// Unbalances in the planes as trials would find them from what the channels read of them, with what is known of that;
    /// `None` where no trials tell the planes.
    pub fn told_by_trials(
        &self,
        recorder: &Recorder<'b>,
        spots: &[Spot],
        spec: &'static ResultSpec,
        planes: &[Vector<Unbalance>],
    ) -> Option<Vec<VectorVal<Unbalance>>> {
        let found = &self.trials()?.found;
        let influence = found.influence()?;
        let none = vec![Vector::<Indication>::zero(); influence.channels()];
        let read = influence.after(&none, planes);
        let exact = |reading| VectorVal::exact(reading, origin(&spots[0], spec), Unit::ONE);
        let read: Vec<VectorVal<Indication>> = read.into_iter().map(exact).collect();
        Some(influence::unbalances(recorder, spots, spec, &found.coefficients, &read))
    }

    /// Whether nothing says what readings stand for.
    pub fn is_unknown(&self) -> bool {
        matches!(self.how, How::Unknown(_))
    }

    /// The unbalance in each plane that a run's readings stand for; `spots` has one place a plane.
    pub fn unbalances(
        &self,
        recorder: &Recorder<'b>,
        spots: &[Spot],
        spec: &'static ResultSpec,
        run: &Read<'_, 'b>,
    ) -> Vec<Found> {
        match &self.how {
            How::ByCalibration => {
                let planes = self.planes.iter().zip(spots);
                planes.map(|(plane, spot)| self.by_calibration(recorder, spot, spec, plane, run)).collect()
            }
            How::ByInfluence(trials) => {
                let other = trials.at_other_speed(run.speed);
                // Another speed has influences of its own.
                let other = other.filter(|other| other.planes == trials.planes && !other.found.coefficients.is_empty());
                let (channels, by) = match other {
                    Some(other) => (&other.channels, &other.found),
                    None if trials.tells_at(run.speed) => (&trials.channels, &trials.found),
                    None => return spots.iter().map(|spot| lacking(recorder, spot, spec, OTHER_SPEED)).collect(),
                };
                if let Some(why) = run.without_angles(channels) {
                    return spots.iter().map(|spot| lacking(recorder, spot, spec, &why)).collect();
                }
                let read: Vec<_> = channels.iter().map(|channel| run.vector(channel)).collect();
                let found = influence::unbalances(recorder, spots, spec, &by.coefficients, &read);
                found.into_iter().map(Found::Vector).collect()
            }
            How::ByAmounts(trials) if !trials.tells_at(run.speed) => {
                spots.iter().map(|spot| lacking(recorder, spot, spec, OTHER_SPEED)).collect()
            }
            How::ByAmounts(trials) => {
                spots.iter().map(|spot| self.by_amounts(recorder, spot, spec, trials, run)).collect()
            }
            How::ByDimensions => self.by_dimensions(recorder, spots, spec, run),
            How::Unknown(why) => spots.iter().map(|spot| lacking(recorder, spot, spec, why)).collect(),
        }
    }

    /// The planes that are read in divisions which no calibration mass has been set up for.
    pub fn not_calibrated(&self) -> Vec<&'b str> {
        match self.how {
            How::ByCalibration if self.sheet.mode() == Some(Mode::Divisions) => {
                self.planes.iter().copied().filter(|plane| !self.sheet.is_calibrated(plane)).collect()
            }
            _ => Vec::new(),
        }
    }

    fn by_calibration(
        &self,
        recorder: &Recorder<'b>,
        spot: &Spot,
        spec: &'static ResultSpec,
        plane: &str,
        run: &Read<'_, 'b>,
    ) -> Found {
        let channel = self.sheet.channels.iter().find(|(_, reads)| *reads == plane).map_or("", |(channel, _)| channel);
        let unit = recorder.facts.shop.unbalance_unit;
        let worth = self.sheet.worth(plane, unit);
        let reading = run.reading(channel);
        let with_angle = reading.is_some_and(|reading| reading.angle.is_some());
        let mut gathered = Gathered::new();
        let read = match with_angle {
            true => gathered.vector(&run.vector(channel)),
            false => gathered.value(&run.amount(channel)),
        };
        let worth = worth.gather(&mut gathered);
        let turn = with_angle.then(|| gathered.value(&self.sheet.turn(recorder, spot, plane)));
        let formula = match (with_angle, worth.unit) {
            (true, UnitAt::Itself) => &by::UNBALANCE_AS_SHOWN,
            (true, UnitAt::Radius(_)) => &by::UNBALANCE_BY_SHOWN_MASS,
            (true, UnitAt::Of(_)) => &by::UNBALANCE_BY_DIVISION,
            (false, UnitAt::Itself) => &by::AMOUNT_AS_SHOWN,
            (false, UnitAt::Radius(_)) => &by::AMOUNT_BY_SHOWN_MASS,
            (false, UnitAt::Of(_)) => &by::AMOUNT_BY_DIVISION,
        };
        let outputs = gathered.work_out(recorder.explained(formula), |numbers| {
            let unbalance = |reading: Indication| worth.unbalance(numbers, reading);
            let Some(turn) = turn else {
                return Ok(amounts([unbalance(numbers.value(read))]));
            };
            let vector: Vector<Indication> = numbers.vector(read);
            Ok(components([vector.rotate(numbers.value::<Angle>(turn)).map(unbalance)]))
        });
        match with_angle {
            true => Found::Vector(outputs.vector(0, origin(spot, spec), unit)),
            false => Found::Amount(outputs.value(0, origin(spot, spec), unit)),
        }
    }

    /// The amount of a run, by what four runs told that one unit of the readout means.
    fn by_amounts(
        &self,
        recorder: &Recorder<'b>,
        spot: &Spot,
        spec: &'static ResultSpec,
        trials: &TrialResults<'b>,
        run: &Read<'_, 'b>,
    ) -> Found {
        let plane = self.planes.first().copied().unwrap_or_default();
        let mapped = self.sheet.channels.iter().find(|(_, reads)| *reads == plane).map(|(channel, _)| *channel);
        let channel = mapped.or_else(|| trials.channels.first().copied()).unwrap_or_default();
        let unit = recorder.facts.shop.unbalance_unit;
        let worth = trials.found.worth_of_amount.clone().unwrap_or_else(|| self.sheet.no_plane(unit));
        let amount = run.amount(channel);
        if let Some(as_found) = self.found_again(run, &amount, trials) {
            return Found::Vector(as_found.under(origin(spot, spec)));
        }
        let formula = &by::AMOUNT_BY_TRIALS;
        Found::Amount(recorder.on_the_way(spot, spec, unit, formula, (&amount, &worth), |(amount, worth)| {
            let (amount, worth): (Indication, Unbalance) = (amount, worth);
            Ok(worth * amount.value())
        }))
    }

    /// The unbalance with its angle in a run of the rotor that the trials were made with, as it was then: it must read as their
    /// run as found, within the step of the readout.
    fn found_again<'t>(
        &self,
        run: &Read<'_, 'b>,
        amount: &Val<Indication>,
        trials: &'t TrialResults<'b>,
    ) -> Option<&'t VectorVal<Unbalance>> {
        let as_found = trials.found.amount_as_found.as_ref().filter(|_| run.is_as_tried)?;
        let (read, then) = (amount.get()?.value(), as_found.read.get()?.value());
        let step = self.sheet.finest_step(Indication::new(then)).map_or(0.0, Indication::value);
        let known_to = 2.0 * amount.standard_uncertainty().hypot(as_found.read.standard_uncertainty());
        ((read - then).abs() <= step.max(known_to) * (1.0 + 1e-9)).then_some(&as_found.unbalance)
    }

    /// Unbalances that hard supports measure, brought into two planes.
    fn by_dimensions(
        &self,
        recorder: &Recorder<'b>,
        spots: &[Spot],
        spec: &'static ResultSpec,
        run: &Read<'_, 'b>,
    ) -> Vec<Found> {
        let machine = self.sheet.machine.map_or(&[][..], |machine| &machine.channels);
        let ([left, right], [first, second]) = (machine, &self.planes[..]) else {
            let why = "the machine's two channels or the rotor's two planes are not named";
            return spots.iter().map(|spot| lacking(recorder, spot, spec, why)).collect();
        };
        let (Some(first), Some(second)) = (self.sheet.plane(first), self.sheet.plane(second)) else {
            return spots.iter().map(|spot| lacking(recorder, spot, spec, "the rotor has no such plane")).collect();
        };
        if let Some(why) = run.without_angles(&[left, right]) {
            return spots.iter().map(|spot| lacking(recorder, spot, spec, &why)).collect();
        }
        let supports = [0, 1].map(|n| recorder.facts.nth(self.sheet.block, setup::SUPPORTS_AT, n));
        let unit = recorder.facts.shop.unbalance_unit;
        let one = |n: usize| {
            let spot = &spots[n];
            let mut gathered = Gathered::new();
            let read = [gathered.vector(&run.vector(left)), gathered.vector(&run.vector(right))];
            let turn = gathered.value(&self.sheet.turn(recorder, spot, self.planes[n]));
            let supports = [gathered.value(&supports[0]), gathered.value(&supports[1])];
            let planes = [gathered.value(&first.at), gathered.value(&second.at)];
            let formula = if n == 0 { &by::LEFT_PLANE_BY_DIMENSIONS } else { &by::RIGHT_PLANE_BY_DIMENSIONS };
            let outputs = gathered.work_out(recorder.explained(formula), |numbers| {
                let at = |place: [usize; 2]| place.map(|place| numbers.value::<Length>(place));
                let turn = numbers.value::<Angle>(turn);
                let shown = read.map(|read| numbers.vector::<Unbalance>(read).rotate(turn));
                Ok(components([in_planes(at(supports), at(planes), shown)?[n]]))
            });
            Found::Vector(outputs.vector(0, origin(spot, spec), unit))
        };
        vec![one(0), one(1)]
    }
}

const OTHER_SPEED: &str = "there are no trial runs at the speed of the run";

/// Unbalances at two supports as they act in two planes, whichever way round the rotor lies.
fn in_planes(
    supports: [Length; 2],
    planes: [Length; 2],
    shown: [Vector<Unbalance>; 2],
) -> crate::mechanics::Computed<[Vector<Unbalance>; 2]> {
    let turned = if supports[1] < supports[0] { -1.0 } else { 1.0 };
    let along = |place: Length| place * turned;
    let swap = along(planes[1]) < along(planes[0]);
    let ordered = if swap { [planes[1], planes[0]] } else { planes };
    let dimensions = Dimensions::from_places(supports.map(along), ordered.map(along))?;
    let [left, right] = dimensions.unbalances_in_planes(shown)?;
    Ok(if swap { [right, left] } else { [left, right] })
}

fn lacking(recorder: &Recorder<'_>, spot: &Spot, spec: &'static ResultSpec, why: &str) -> Found {
    let reason = Reason::Impossible(why.to_owned().into());
    Found::Vector(VectorVal::missing(origin(spot, spec), reason, recorder.facts.shop.unbalance_unit))
}

/// The readings of one run.
pub(in crate::book::results) struct Read<'r, 'b> {
    pub readings: &'r [ReadingResults<'b>],
    /// Where a reading is looked for that is not there.
    pub origin: Origin,
    /// At which it was made.
    pub speed: Option<Speed>,
    /// Whether it was made before anything was corrected.
    pub is_as_tried: bool,
}

impl<'b> Read<'_, 'b> {
    pub fn reading(&self, channel: &str) -> Option<&ReadingResults<'b>> {
        self.readings.iter().find(|reading| reading.channel == channel)
    }

    fn not_read(&self, channel: &str) -> Origin {
        Origin { name: format!("reading {channel}").into(), ..self.origin.clone() }
    }

    pub fn amount(&self, channel: &str) -> Val<Indication> {
        match self.reading(channel) {
            Some(reading) => reading.amount.clone(),
            None => Val::missing(self.not_read(channel), Reason::NotGiven, Unit::ONE),
        }
    }

    pub fn vector(&self, channel: &str) -> VectorVal<Indication> {
        match self.reading(channel).map(ReadingResults::vector) {
            Some(Some(vector)) => vector,
            _ => VectorVal::missing(self.not_read(channel), Reason::NotGiven, Unit::ONE),
        }
    }

    /// Why vectors cannot be had of these channels, when a reading lacks its angle.
    fn without_angles(&self, channels: &[&str]) -> Option<String> {
        let lacks = |channel: &&&str| self.reading(channel).is_some_and(|reading| reading.angle.is_none());
        let channel = channels.iter().find(lacks)?;
        Some(format!("the reading of `{channel}` has no angle, without which the planes cannot be told apart"))
    }
}
