//! Unbalance in one plane from amounts alone.

use super::domain::{Computed, Input, Requirement, demand, not_negative, positive, settled};
use super::linear::{Matrix, Number};
use crate::units::{Angle, Indication, Ratio, Typed, Unbalance, Vector};

/// What amounts with a trial mass at several places tell.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct FoundWithoutPhase {
    /// The unbalance where it is in excess.
    pub unbalance: Vector<Unbalance>,
    /// By how much two ways to find the effect of the trial mass disagree, as a share of it.
    pub disagreement: Ratio,
}

/// The unbalance of one plane from the amount as found and the amounts with trial masses at three or more angles:
/// `Aᵢ² = A₀² + κ²·Tᵢ² + 2·A₀·κ·Tᵢ·cos(θᵢ − ψ)`, linear in κ², `κ·cos ψ` and `κ·sin ψ`; `U = A₀/κ` at ψ.
///
/// A₀ is the amount as found, above zero; Tᵢ what was on and θᵢ where, at angles of which three differ; κ what one
/// unit of unbalance reads. With one mass at 0, 120 and 240° it is `R² = ΣAᵢ²/3 − A₀²`, the meeting point of four
/// circles. More than three runs are used by least squares. κ² must come out above zero; that `√κ²` agrees with the
/// other two unknowns is the check of the runs. Source: R. B. McMillan, Rotating Machinery: Practical Solutions to
/// Unbalance and Misalignment, chapter 6 (seen); unequal places by plain algebra.
pub fn unbalance_from_amounts(
    as_found: Indication,
    trials: &[(Vector<Unbalance>, Indication)],
) -> Computed<FoundWithoutPhase> {
    let start = positive(as_found, Input::Reading)?.value();
    demand(trials.len() >= 3, Input::TrialRuns, Requirement::BeGiven)?;
    for (put_on, amount) in trials {
        not_negative(*amount, Input::Readings)?;
        demand(put_on.is_finite(), Input::TrialRuns, Requirement::BeFinite)?;
    }
    let largest = trials.iter().map(|(put_on, _)| put_on.amount()).fold(Unbalance::ZERO, Unbalance::max);
    let scale = positive(largest, Input::TrialRuns)?.base();
    // Unknowns: (κ·s)², κ·s·cos ψ, κ·s·sin ψ, with s the largest trial; amounts are taken over A₀.
    let matrix = Matrix::new(trials.len(), 3, |row, column| {
        let put_on = trials[row].0;
        Number::from(match column {
            0 => (put_on.amount().base() / scale).powi(2),
            1 => 2.0 * put_on.x.base() / scale,
            _ => 2.0 * put_on.y.base() / scale,
        })
    });
    let right = trials.iter().map(|(_, amount)| Number::from((amount.value() / start).powi(2) - 1.0));
    let decomposed = matrix.decompose();
    demand(decomposed.condition(1e-6).is_some(), Input::TrialRuns, Requirement::TellThePlanesApart)?;
    let solved = decomposed.nearest(&right.collect::<Vec<_>>());
    let (squared, x, y) = (solved[0].re, solved[1].re, solved[2].re);
    demand(squared > 0.0, Input::Readings, Requirement::FitOneUnbalance)?;
    let (by_mean, by_harmonic) = (squared.sqrt(), x.hypot(y));
    demand(by_harmonic > 0.0, Input::Readings, Requirement::FitOneUnbalance)?;
    let amount = settled(Unbalance::from_base(scale / by_mean))?;
    Ok(FoundWithoutPhase {
        unbalance: Vector::from_polar(amount, Angle::radians(y.atan2(x))),
        disagreement: settled(Ratio::new((by_harmonic - by_mean).abs() / by_mean))?,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

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

    #[test]
    fn amounts_that_no_unbalance_explains_are_refused() {
        let at = |degrees| Vector::from_polar(Unbalance::gram_millimetres(100.0), Angle::degrees(degrees));
        let trials = [0.0, 120.0, 240.0].map(|degrees| (at(degrees), Indication::new(4.0)));
        let error = unbalance_from_amounts(Indication::new(6.0), &trials).unwrap_err();
        assert_eq!(error.to_string(), "the readings must fit one unbalance");
    }
}
