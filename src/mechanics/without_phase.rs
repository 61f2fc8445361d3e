//! Unbalance in one plane from amounts alone.

use super::circles::{Circles, Point};
use super::domain::{Computed, DomainError, Input, Requirement, demand, not_negative, positive, settled};
use super::linear::{Matrix, Number};
use crate::units::{Indication, Ratio, Typed, Unbalance, Vector};

/// What amounts with a trial mass at several places tell.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct FoundWithoutPhase {
    pub unbalance: Vector<Unbalance>,
    /// What one unit of the readout means.
    pub worth: Unbalance,
    /// By how much two ways to find the effect of the trial mass disagree, as a share of it; zero where there is but one.
    pub disagreement: Ratio,
    /// What the amounts lie off in the mean, for each run beyond the three that are needed; zero without one.
    pub misfit: Indication,
    /// What one unit of the readout moves the unbalance by, in `x` and in `y`, and the worth.
    pub moved_by_one: [Unbalance; 3],
    /// Another unbalance that explains the amounts nearly as well, and what it leaves as `misfit` is counted.
    pub other: Option<(Vector<Unbalance>, Indication)>,
}

/// The unbalance of one plane from the amount as found and the amounts with trial masses at two or more angles: that for
/// which `Σ (κ·|U + Tᵢ| − Aᵢ)²` over all runs is least, the run as found among them with nothing on.
///
/// A₀ is the amount as found, above zero; Tᵢ what was on; κ what one unit of unbalance reads. With one mass at 0, 120 and
/// 240° it is near `R² = ΣAᵢ²/3 − A₀²`, the meeting point of four circles. Trials in one line, or but two of them, leave
/// two answers. Source: Rotating Machinery: Practical Solutions to Unbalance and Misalignment, chapter 6
/// for the circles; least squares by plain algebra.
pub fn unbalance_from_amounts(
    as_found: Indication,
    trials: &[(Vector<Unbalance>, Indication)],
) -> Computed<FoundWithoutPhase> {
    let start = positive(as_found, Input::Reading)?.value();
    demand(trials.len() >= 2, Input::TrialRuns, Requirement::BeGiven)?;
    for (put_on, amount) in trials {
        not_negative(*amount, Input::Readings)?;
        demand(put_on.is_finite(), Input::TrialRuns, Requirement::BeFinite)?;
    }
    let largest = trials.iter().map(|(put_on, _)| put_on.amount()).fold(Unbalance::ZERO, Unbalance::max);
    let scale = positive(largest, Input::TrialRuns)?.base();
    let mut points = vec![([0.0, 0.0], 1.0)];
    points.extend(
        trials.iter().map(|(put, amount)| ([put.x.base() / scale, put.y.base() / scale], amount.value() / start)),
    );
    let (disagreement, is_told_apart) = if trials.len() > 2 { disagreement(&points)? } else { (0.0, false) };
    let circles = Circles { points };
    let mut answers = circles.answers().into_iter();
    let best = answers.next().ok_or(DomainError { what: Input::TrialRuns, must: Requirement::TellThePlanesApart })?;
    let vector =
        |[_, x, y]: [f64; 3]| Vector { x: Unbalance::from_base(x * scale), y: Unbalance::from_base(y * scale) };
    let indication = |share: f64| settled(Indication::new(share * start));
    let moved = circles.moved_by_one(best.at);
    let worth = |of: f64| settled(Unbalance::from_base(of * scale / start));
    Ok(FoundWithoutPhase {
        unbalance: vector(best.at),
        worth: worth(1.0 / best.at[0])?,
        disagreement: settled(Ratio::new(disagreement))?,
        misfit: indication(best.misfit)?,
        moved_by_one: [worth(moved[1])?, worth(moved[2])?, worth(moved[0] / best.at[0].powi(2) / start)?],
        other: answers
            .next()
            .filter(|_| !is_told_apart)
            .map(|other| Ok((vector(other.at), indication(other.misfit)?)))
            .transpose()?,
    })
}

/// Trials that tell one of the unknowns by less than this share of what they tell of another lie about in a line. Source:
/// common practice, no source.
const IN_A_LINE: f64 = 0.05;

/// By how much `√κ²` and the other two unknowns of `Aᵢ² = A₀² + κ²·Tᵢ² + 2·A₀·κ·Tᵢ·cos(θᵢ − ψ)`, linear in κ², `κ·cos ψ`
/// and `κ·sin ψ`, disagree; κ² must come out above zero. And whether the trials lie so far from a line that they leave but
/// one answer; where they do not, nothing disagrees.
fn disagreement(points: &[Point]) -> Computed<(f64, bool)> {
    let trials = &points[1..];
    let matrix = Matrix::new(trials.len(), 3, |row, column| {
        let [x, y] = trials[row].0;
        Number::from([x.hypot(y).powi(2), 2.0 * x, 2.0 * y][column])
    });
    let decomposed = matrix.decompose();
    if decomposed.condition(IN_A_LINE).is_none() {
        return Ok((0.0, false));
    }
    let right: Vec<Number> = trials.iter().map(|(_, amount)| Number::from(amount.powi(2) - 1.0)).collect();
    let solved = decomposed.nearest(&right);
    let (squared, x, y) = (solved[0].re, solved[1].re, solved[2].re);
    demand(squared > 0.0 && x.hypot(y) > 0.0, Input::Readings, Requirement::FitOneUnbalance)?;
    Ok(((x.hypot(y) - squared.sqrt()).abs() / squared.sqrt(), true))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::Angle;

    /// Amounts as a reading of 0.02 per g·mm would give them, with trial masses of unlike size at unlike places.
    #[test]
    fn unequal_masses_and_places_give_the_unbalance_back() {
        let at = |amount: f64, degrees: f64| -> Vector<Unbalance> {
            Vector::from_polar(Unbalance::gram_millimetres(amount), Angle::degrees(degrees))
        };
        let own = at(300.0, 130.0);
        let read = |put: Vector<Unbalance>| Indication::new((own + put).amount().in_gram_millimetres() * 0.02);
        let trials = [at(100.0, 10.0), at(150.0, 95.0), at(80.0, 250.0), at(100.0, 330.0)];
        for count in [3, 4] {
            let trials: Vec<_> = trials[..count].iter().map(|put| (*put, read(*put))).collect();
            let found = unbalance_from_amounts(read(Vector::zero()), &trials).unwrap();
            assert!((found.unbalance - own).amount().in_gram_millimetres() < 1e-6);
            assert!(found.disagreement.value() < 1e-9);
        }
    }

    /// Two trials leave two answers, mirrored about their line where they are in one; a third off it tells which.
    #[test]
    fn two_answers_are_told() {
        let at = |amount: f64, degrees: f64| -> Vector<Unbalance> {
            Vector::from_polar(Unbalance::gram_millimetres(amount), Angle::degrees(degrees))
        };
        let own = at(300.0, 70.0);
        let read = |put: Vector<Unbalance>| (put, Indication::new((own + put).amount().in_gram_millimetres() * 0.02));
        let trials = [at(200.0, 0.0), at(200.0, 180.0), at(200.0, 100.0)].map(read);
        let found = |trials| unbalance_from_amounts(read(Vector::zero()).1, trials).unwrap();
        let line = found(&trials[..2]);
        let both = [line.unbalance, line.other.unwrap().0];
        for answer in [at(300.0, 70.0), at(300.0, 290.0)] {
            assert!(both.iter().any(|one| (*one - answer).amount().in_gram_millimetres() < 1e-3), "{both:?}");
        }
        let told = found(&trials);
        assert!((told.unbalance - own).amount().in_gram_millimetres() < 1e-3);
        assert!(told.other.is_none_or(|(_, misfit)| misfit.value() > 0.1));
    }

    /// Of 20.0, 49.1, 36.3 and 3.5 with 2000 at 0, 120 and 240 least squares make 1773 at 45.22, and leave 6.55 with one run
    /// to spare: by a search of its own.
    #[test]
    fn what_contradicts_itself_leaves_a_misfit() {
        let at = |degrees| Vector::from_polar(Unbalance::gram_millimetres(2000.0), Angle::degrees(degrees));
        let trials = [(at(0.0), 49.1), (at(120.0), 36.3), (at(240.0), 3.5)];
        let found =
            unbalance_from_amounts(Indication::new(20.0), &trials.map(|(at, read)| (at, Indication::new(read))))
                .unwrap();
        assert!((found.unbalance.amount().in_gram_millimetres() - 1773.3).abs() < 0.5, "{found:?}");
        assert!((found.unbalance.angle().in_degrees() - 45.22).abs() < 0.05);
        assert!((found.misfit.value() - 6.549).abs() < 0.01);
        assert!((found.moved_by_one[0].in_gram_millimetres() - 125.5).abs() < 0.5);
        assert!((found.moved_by_one[1].in_gram_millimetres() - 81.0).abs() < 0.5);
    }

    #[test]
    fn amounts_that_no_unbalance_explains_are_refused() {
        let at = |degrees| Vector::from_polar(Unbalance::gram_millimetres(100.0), Angle::degrees(degrees));
        let trials = [0.0, 120.0, 240.0].map(|degrees| (at(degrees), Indication::new(4.0)));
        let error = unbalance_from_amounts(Indication::new(6.0), &trials).unwrap_err();
        assert_eq!(error.to_string(), "the readings must fit one unbalance");
    }
}
