//! Influence coefficients from trial runs, and the unbalance that readings then stand for.

use super::budget::{Freedom, coverage};
use super::domain::{Computed, DomainError, Input, Requirement, demand, positive, settled};
use super::linear::{Decomposed, Matrix, Number};
use crate::units::{Amount, Angle, Indication, Ratio, Sensitivity, Typed, Unbalance, Vector};

/// Planes for which this is exceeded act alike: `|α₁₂·α₂₁ / (α₁₁·α₂₂)|`. Source: common practice, no source.
pub const ACT_ALIKE: f64 = 0.8;

/// Singular values below this share of the largest count as zero.
const RANK: f64 = 1e-9;

/// One run: what had been put on in each plane, and what each channel read.
#[derive(Clone, PartialEq, Debug)]
pub struct TrialRun {
    /// One a plane, everything that was on during the run; zero where nothing was.
    pub put_on: Vec<Vector<Unbalance>>,
    /// One a channel.
    pub readings: Vec<Vector<Indication>>,
}

/// How one channel answers to an unbalance in one plane: `α = (V − V₀) / T`, with the readings with and without the
/// trial unbalance T. T is above zero. Source: as for [`Influence::from_runs`].
pub fn coefficient(
    before: Vector<Indication>,
    with_trial: Vector<Indication>,
    trial: Vector<Unbalance>,
) -> Computed<Vector<Sensitivity>> {
    positive(trial.amount(), Input::TrialRuns)?;
    let quotient = complex(with_trial - before) / complex(trial);
    let coefficient: Vector<Sensitivity> = vector(quotient);
    demand(coefficient.is_finite(), Input::Result, Requirement::BeFinite)?;
    Ok(coefficient)
}

/// How a channel answers by what it is kept to read for an unbalance: `α = A / U`. The unbalance is above zero. Source:
/// definition.
pub fn coefficient_of(shown: Indication, per: Unbalance) -> Computed<Sensitivity> {
    settled(Sensitivity::from_raw(shown.value() / positive(per, Input::Unbalance)?.raw()))
}

/// The unbalance that one unit of a readout means: `1 / α`. The coefficient is above zero. Source: definition.
pub fn worth_of_one(coefficient: Sensitivity) -> Computed<Unbalance> {
    settled(Unbalance::from_raw(1.0 / positive(coefficient, Input::Reading)?.raw()))
}

/// What trial runs together tell.
#[derive(Clone, PartialEq, Debug)]
pub struct FromRuns {
    /// What each channel reads without any trial mass.
    pub as_found: Vec<Vector<Indication>>,
    pub influence: Influence,
    /// The farthest that any reading lies from what the coefficients explain; zero when no run is to spare.
    pub misfit: Indication,
    /// What the unbalances as found are known to along any direction, one a plane, by what the runs leave unexplained: half
    /// of what holds at 95 %. `None` when no run is to spare, or the channels do not tell the planes.
    pub known_to: Option<Vec<Unbalance>>,
}

/// How each channel answers to an unbalance in each plane.
#[derive(Clone, PartialEq, Debug)]
pub struct Influence {
    /// Channels × planes, in readout units per base unit of unbalance.
    coefficients: Matrix,
}

impl Influence {
    /// From its coefficients, one row a channel and one column a plane. No row is empty, and all are of one length.
    pub fn new(rows: &[Vec<Vector<Sensitivity>>]) -> Computed<Self> {
        let planes = rows.first().map_or(0, Vec::len);
        demand(planes > 0 && rows.iter().all(|row| row.len() == planes), Input::TrialRuns, Requirement::BeGiven)?;
        let finite = rows.iter().flatten().all(|coefficient| coefficient.is_finite());
        demand(finite, Input::TrialRuns, Requirement::BeFinite)?;
        Ok(Self { coefficients: Matrix::new(rows.len(), planes, |i, j| complex(rows[i][j])) })
    }

    /// From trial runs: the least-squares solution of `V_k = V₀ + α·t_k` over all runs k, with V the readings of the
    /// channels and t what was on in the planes.
    ///
    /// With one run as found and one a plane it is `α_ij = (V_ij − V_i0) / T_j`. There must be one run more than
    /// planes, and no run that the others already tell.
    /// Source: influence coefficients, Rotating Machinery: Practical Solutions to Unbalance and
    /// Misalignment, chapter 5; least squares by plain algebra.
    pub fn from_runs(runs: &[TrialRun]) -> Computed<FromRuns> {
        let first = runs.first().ok_or(DomainError { what: Input::TrialRuns, must: Requirement::BeGiven })?;
        let (planes, channels) = (first.put_on.len(), first.readings.len());
        demand(planes > 0 && channels > 0, Input::TrialRuns, Requirement::BeGiven)?;
        let finite = |run: &TrialRun| {
            run.put_on.iter().all(|put| put.is_finite()) && run.readings.iter().all(|reading| reading.is_finite())
        };
        demand(runs.iter().all(finite), Input::TrialRuns, Requirement::BeFinite)?;
        demand(runs.len() > planes, Input::TrialRuns, Requirement::TellThePlanesApart)?;
        let put_on = runs.iter().flat_map(|run| &run.put_on);
        let scale = positive(put_on.map(|put| put.amount()).fold(Unbalance::ZERO, Unbalance::max), Input::TrialRuns)?;
        let states = Matrix::new(runs.len(), planes + 1, |run, column| match column {
            0 => Number::from(1.0),
            plane => complex(runs[run].put_on[plane - 1]) / scale.base(),
        });
        let decomposed = states.decompose();
        condition(&decomposed, Requirement::TellThePlanesApart)?;
        let read = |channel: usize| -> Vec<Number> { runs.iter().map(|run| complex(run.readings[channel])).collect() };
        // One a channel: what it reads as found, then how it answers to each plane.
        let solved: Vec<Vec<Number>> = (0..channels).map(|channel| decomposed.nearest(&read(channel))).collect();
        let left = |(run, channel): (usize, usize)| {
            (states.row_times(run, &solved[channel]) - complex(runs[run].readings[channel])).norm()
        };
        let each = (0..runs.len()).flat_map(|run| (0..channels).map(move |channel| (run, channel)));
        let lefts: Vec<f64> = each.map(left).collect();
        let influence = Self { coefficients: Matrix::new(channels, planes, |i, j| solved[i][j + 1] / scale.base()) };
        let as_found: Vec<Vector<Indication>> = solved.iter().map(|solved| vector(solved[0])).collect();
        let known_to = (runs.len() > planes + 1).then(|| {
            // A reading that is left over is two numbers.
            let comparisons = 2.0 * ((runs.len() - planes - 1) * channels) as f64;
            let one = (lefts.iter().map(|left| left * left).sum::<f64>() / comparisons).sqrt();
            let widened = one * coverage(Freedom::of(comparisons)) / 2.0;
            influence.known_by(
                &as_found,
                scale,
                |run| {
                    let alone: Vec<Number> =
                        (0..runs.len()).map(|other| Number::from(if other == run { 1.0 } else { 0.0 })).collect();
                    decomposed.nearest(&alone)
                },
                runs.len(),
                Indication::new(widened),
            )
        });
        Ok(FromRuns {
            as_found,
            misfit: settled(Indication::new(lefts.into_iter().fold(0.0, f64::max)))?,
            influence,
            known_to: known_to.flatten(),
        })
    }

    /// What unbalances are known to along any direction when each component of each reading of the runs is off by `one`:
    /// `V₀ − α·U` goes by the readings as the fit weighs them, and U by that. `weights` has what a reading of one in a run
    /// alone makes of V₀ and of α times `scale`. Source: propagation of uncertainty, JCGM 100, 5.1.2 (from memory).
    fn known_by(
        &self,
        as_found: &[Vector<Indication>],
        scale: Unbalance,
        weights: impl Fn(usize) -> Vec<Number>,
        runs: usize,
        one: Indication,
    ) -> Option<Vec<Unbalance>> {
        let found = self.unbalances(as_found).ok()?;
        let weight = |run: usize| {
            let of_run = weights(run);
            let of_planes = found.iter().zip(&of_run[1..]);
            let moved: Number = of_planes.map(|(unbalance, weight)| *weight * complex(*unbalance) / scale.base()).sum();
            (of_run[0] - moved).norm_sqr()
        };
        let weighed: f64 = (0..runs).map(weight).sum();
        let mut squares = vec![0.0; self.planes()];
        for channel in 0..self.channels() {
            let read = |other| Indication::new(if other == channel { 1.0 } else { 0.0 });
            let alone: Vec<Vector<Indication>> =
                (0..self.channels()).map(|other| Vector::from_polar(read(other), Angle::ZERO)).collect();
            let planes = self.unbalances(&alone).ok()?;
            squares.iter_mut().zip(planes).for_each(|(sum, plane)| *sum += plane.amount().base().powi(2));
        }
        Some(
            squares.into_iter().map(|squares| Unbalance::from_base((squares * weighed).sqrt() * one.value())).collect(),
        )
    }

    pub fn channels(&self) -> usize {
        self.coefficients.rows()
    }

    pub fn planes(&self) -> usize {
        self.coefficients.columns()
    }

    /// How a channel answers to a plane.
    pub fn coefficient(&self, channel: usize, plane: usize) -> Vector<Sensitivity> {
        vector(self.coefficients.at(channel, plane))
    }

    /// What a channel reads for an unbalance in a plane.
    pub fn effect(&self, channel: usize, plane: usize, of: Vector<Unbalance>) -> Vector<Indication> {
        vector(self.coefficients.at(channel, plane) * complex(of))
    }

    /// The condition of the matrix: its largest singular value over its smallest. Near 1 when the planes act apart;
    /// errors of the readings grow by up to this factor. Source: numerical linear algebra.
    pub fn condition(&self) -> Computed<Ratio> {
        settled(Ratio::new(condition(&self.coefficients.decompose(), Requirement::ActApart)?))
    }

    /// How alike two planes act on two channels: `|α₁₂·α₂₁ / (α₁₁·α₂₂)|`, from 0, where each channel hears one plane
    /// alone, to 1. Which channel is named first does not matter. `None` for any other number of planes or channels, and
    /// where a plane acts on no channel.
    ///
    /// Source: common practice, no source.
    pub fn likeness(&self) -> Option<Ratio> {
        if (self.channels(), self.planes()) != (2, 2) {
            return None;
        }
        let a = |i, j| self.coefficients.at(i, j).norm();
        if (0..2).any(|plane| a(0, plane).max(a(1, plane)) == 0.0) {
            return None;
        }
        let (across, along) = (a(0, 1) * a(1, 0), a(0, 0) * a(1, 1));
        let most = across.max(along);
        Some(Ratio::new(if most > 0.0 { across.min(along) / most } else { 1.0 }))
    }

    /// Correction plane interference ratio: what plane `own` shows for an unbalance in plane `other`, over that
    /// unbalance; both as its channels would show them once calibrated. `own_channel` reads plane `own`.
    ///
    /// `|α_own,other / α_own,own|`. Source: ISO 21940-2 (from memory), `I_AB = U_AB / U_BB`.
    /// At the angle by which the one stands ahead of the other.
    pub fn interference(&self, own_channel: usize, own: usize, other: usize) -> Computed<Vector<Ratio>> {
        let own = self.coefficients.at(own_channel, own);
        positive(Ratio::new(own.norm()), Input::Reading)?;
        let ratio: Vector<Ratio> = vector(self.coefficients.at(own_channel, other) / own);
        demand(ratio.is_finite(), Input::Result, Requirement::BeFinite)?;
        Ok(ratio)
    }

    /// The unbalances in the planes that readings stand for, where they are in excess: the least-squares solution of
    /// `V = α·U`. There must be as many channels as planes, or more.
    ///
    /// Source: as for [`Influence::from_runs`].
    pub fn unbalances(&self, readings: &[Vector<Indication>]) -> Computed<Vec<Vector<Unbalance>>> {
        demand(readings.len() == self.channels(), Input::Readings, Requirement::BeGiven)?;
        demand(self.channels() >= self.planes(), Input::Channels, Requirement::BeAsManyAsThePlanes)?;
        let decomposed = self.coefficients.decompose();
        condition(&decomposed, Requirement::ActApart)?;
        let read: Vec<Number> = readings.iter().map(|reading| complex(*reading)).collect();
        let found: Vec<Vector<Unbalance>> = decomposed.nearest(&read).into_iter().map(vector).collect();
        demand(found.iter().all(|vector| vector.is_finite()), Input::Result, Requirement::BeFinite)?;
        Ok(found)
    }

    /// What the channels read once unbalances have been put on in the planes: `V + α·W`.
    pub fn after(&self, readings: &[Vector<Indication>], put_on: &[Vector<Unbalance>]) -> Vec<Vector<Indication>> {
        let effect = |channel: usize| -> Vector<Indication> {
            put_on.iter().enumerate().map(|(plane, put)| self.effect(channel, plane, *put)).sum()
        };
        readings.iter().enumerate().map(|(channel, reading)| *reading + effect(channel)).collect()
    }
}

/// A trial is trusted when it changes the amount by at least this share, or the angle by at least
/// [`ENOUGH_TURN`] degrees. Source: common practice, no source (25 to 30 % and 25 to 30 degrees are usual).
pub const ENOUGH_CHANGE: f64 = 0.25;
/// See [`ENOUGH_CHANGE`]. In degrees.
pub const ENOUGH_TURN: f64 = 25.0;

/// The change of an amount as a share of it, below zero where it fell: `(A − A₀) / A₀`. A₀ above zero.
pub fn change_of_amount(before: Indication, with_trial: Indication) -> Computed<Ratio> {
    let before = positive(before, Input::Reading)?.value();
    settled(Ratio::new((with_trial.value() - before) / before))
}

/// What a reading has become, over what it was: its size, at the angle by which it turned. The reading before is above
/// zero.
pub fn change_of_vector(before: Vector<Indication>, with_trial: Vector<Indication>) -> Computed<Vector<Ratio>> {
    positive(before.amount(), Input::Reading)?;
    Ok(vector(complex(with_trial) / complex(before)))
}

/// The same angle the short way round, never below zero.
pub fn short_way(turned: Angle) -> Angle {
    let turned = turned.within_one_turn();
    turned.min(Angle::degrees(360.0) - turned)
}

/// Whether a trial changed a reading enough to be trusted. Source: as for [`ENOUGH_CHANGE`].
pub fn is_enough(amount: Ratio, angle: Option<Angle>) -> bool {
    amount.value() >= ENOUGH_CHANGE || angle.is_some_and(|angle| angle.in_degrees() >= ENOUGH_TURN)
}

pub(super) fn complex<T: Amount>(vector: Vector<T>) -> Number {
    Number::new(vector.x.raw(), vector.y.raw())
}

pub(super) fn vector<T: Amount>(value: Number) -> Vector<T> {
    Vector { x: T::from_raw(value.re), y: T::from_raw(value.im) }
}

/// Of a matrix that tells its columns apart.
fn condition(of: &Decomposed, must: Requirement) -> Computed<f64> {
    of.condition(RANK).ok_or(DomainError { what: Input::TrialRuns, must })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn reading(amount: f64, degrees: f64) -> Vector<Indication> {
        Vector::from_polar(Indication::new(amount), Angle::degrees(degrees))
    }

    fn put(amount: f64, degrees: f64) -> Vector<Unbalance> {
        Vector::from_polar(Unbalance::gram_millimetres(amount), Angle::degrees(degrees))
    }

    /// Two channels, two planes, with known coefficients (readout units per g·mm).
    fn machine(state: [Vector<Unbalance>; 2]) -> Vec<Vector<Indication>> {
        let answer = |unbalance: Vector<Unbalance>, amount: f64, degrees: f64| {
            unbalance.map(|u| Indication::new(u.in_gram_millimetres() * amount)).rotate(Angle::degrees(degrees))
        };
        vec![
            answer(state[0], 0.5, 30.0) + answer(state[1], 0.2, 40.0),
            answer(state[0], 0.1, 170.0) + answer(state[1], 0.4, -20.0),
        ]
    }

    #[test]
    fn masses_left_on_and_spare_runs_give_the_same_answer() {
        let own = [put(300.0, 75.0), put(180.0, 200.0)];
        let states = [
            [Vector::zero(), Vector::zero()],
            [put(120.0, 0.0), Vector::zero()],
            [put(120.0, 0.0), put(90.0, 200.0)],
            [put(60.0, 140.0), put(90.0, 10.0)],
        ];
        let run = |state: &[Vector<Unbalance>; 2]| TrialRun {
            put_on: state.to_vec(),
            readings: machine([own[0] + state[0], own[1] + state[1]]),
        };
        for runs in [&states[..3], &states[..]] {
            let runs: Vec<TrialRun> = runs.iter().map(run).collect();
            let FromRuns { as_found, influence, misfit, .. } = Influence::from_runs(&runs).unwrap();
            let found = influence.unbalances(&as_found).unwrap();
            for (found, own) in found.iter().zip(own) {
                assert!((*found - own).amount().in_gram_millimetres() < 1e-9);
            }
            let left = influence.after(&as_found, &[-found[0], -found[1]]);
            assert!(left.iter().all(|left| left.amount().value() < 1e-9));
            assert!(misfit.value() < 1e-9);
            // |0.2·0.1 / (0.5·0.4)|, by hand.
            assert!((influence.likeness().unwrap().value() - 0.1).abs() < 1e-12);
        }
    }

    // By hand: readings of 10.2, 19.9 and −0.1 with nothing, 100 and −100 g·mm give V₀ = 10 and α = 0.1, so 100 g·mm, and leave
    // 0.2, 0.1 and 0.1: √(0.06 ÷ 2) of two comparisons, t = 4.5266. Weights of V₀ − α·U are 1/3, −1/6 and 5/6, of which the root
    // of squares is √(5/6): 0.17321 · 2.2633 · 0.91287 ÷ 0.1.
    // A plane that one channel alone hears acts on that channel: crossed or not, such planes are as unlike as can be.
    #[test]
    fn planes_that_one_channel_hears_are_not_alike() {
        let zero = Vector::<Sensitivity>::zero();
        let one = Vector { x: coefficient_of(Indication::new(1.0), Unbalance::gram_millimetres(1.0)).unwrap(), ..zero };
        for rows in [[vec![one, zero], vec![zero, one]], [vec![zero, one], vec![one, zero]]] {
            assert_eq!(Influence::new(&rows).unwrap().likeness(), Some(Ratio::new(0.0)));
        }
        assert_eq!(Influence::new(&[vec![one, zero], vec![one, zero]]).unwrap().likeness(), None);
    }

    #[test]
    fn what_runs_leave_unexplained_is_what_the_unbalance_is_known_to() {
        let run = |mass: f64, read: f64| TrialRun {
            put_on: vec![put(mass.abs(), if mass < 0.0 { 180.0 } else { 0.0 })],
            readings: vec![reading(read.abs(), if read < 0.0 { 180.0 } else { 0.0 })],
        };
        let runs = [run(0.0, 10.2), run(100.0, 19.9), run(-100.0, -0.1)];
        let known_to = Influence::from_runs(&runs).unwrap().known_to.unwrap();
        assert!((known_to[0].in_gram_millimetres() - 3.579).abs() < 0.001, "{known_to:?}");
        assert_eq!(Influence::from_runs(&runs[..2]).unwrap().known_to, None);
    }

    #[test]
    fn runs_that_tell_nothing_new_are_refused() {
        let same = TrialRun { put_on: vec![put(10.0, 0.0)], readings: vec![reading(2.0, 10.0)] };
        let error = Influence::from_runs(&[same.clone(), same]).unwrap_err();
        assert_eq!(error.what, Input::TrialRuns);
        assert_eq!(error.must, Requirement::TellThePlanesApart);
    }

    #[test]
    fn a_mass_without_effect_is_told_from_too_few_runs() {
        let none = Vector::zero();
        let one = |x| Vector { x: Sensitivity::from_raw(x), y: Sensitivity::from_raw(0.0) };
        let influence = Influence::new(&[vec![one(1.0), none], vec![one(0.5), none]]).unwrap();
        assert_eq!(influence.likeness(), None);
        assert_eq!(influence.condition().unwrap_err().must, Requirement::ActApart);
        assert_eq!(influence.unbalances(&[none_read(), none_read()]).unwrap_err().must, Requirement::ActApart);
    }

    fn none_read() -> Vector<Indication> {
        Vector::zero()
    }

    #[test]
    fn a_change_is_measured_the_short_way_round() {
        let turned = short_way(Angle::degrees(20.0) - Angle::degrees(350.0));
        assert!((turned.in_degrees() - 30.0).abs() < 1e-9);
        assert!(is_enough(Ratio::new(0.0), Some(turned)));
        assert!(!is_enough(Ratio::percent(10.0), Some(Angle::degrees(20.0))));
    }
}
