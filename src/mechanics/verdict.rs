//! Whether a measured unbalance shows that a tolerance is kept.

use super::domain::{Computed, Input, not_negative};
use super::errors::{AcceptanceLimits, acceptance_limits};
use crate::units::Unbalance;

/// What a measurement says of a tolerance. Ordered from the best to the worst.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum Verdict {
    /// `U_m + u ≤ U_per − ΔU`: kept, whatever the errors.
    Within,
    /// Neither one nor the other is certain.
    NotShown,
    /// `U_m − u > U_per + ΔU`: exceeded, whatever the errors.
    Over,
}

/// The verdict on a measured unbalance: `U_m` with its expanded uncertainty `u`, against the tolerance `U_per` and the
/// combined error `ΔU` of what the measurement does not see.
///
/// The tolerance is above zero, nothing else below it. An error up to 5 % of the tolerance is left out.
/// Source: ISO 21940-14:2012, clause 7 (from memory), with the uncertainty of the reading added on the safe side.
pub fn judge(
    measured: Unbalance,
    uncertainty: Unbalance,
    tolerance: Unbalance,
    combined_error: Unbalance,
) -> Computed<Verdict> {
    let measured = not_negative(measured, Input::Unbalance)?;
    let uncertainty = not_negative(uncertainty, Input::Errors)?;
    let AcceptanceLimits { at_the_balancing_machine, at_a_later_check, can_be_shown, .. } =
        acceptance_limits(tolerance, combined_error)?;
    // A limit that is met to the last digit of a binary fraction is met.
    let hair = tolerance * 1e-12;
    Ok(if can_be_shown && measured + uncertainty <= at_the_balancing_machine + hair {
        Verdict::Within
    } else if measured - uncertainty > at_a_later_check + hair {
        Verdict::Over
    } else {
        Verdict::NotShown
    })
}

/// The verdict on the whole rotor: the worst of its parts. Nothing judged is nothing shown.
pub fn whole(parts: impl IntoIterator<Item = Verdict>) -> Verdict {
    parts.into_iter().max().unwrap_or(Verdict::NotShown)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn verdict(measured: f64, uncertainty: f64, error: f64) -> Verdict {
        let u = Unbalance::gram_millimetres;
        judge(u(measured), u(uncertainty), u(100.0), u(error)).unwrap()
    }

    // ISO 21940-14:2012, clause 7 (from memory): 87 g·mm is the limit at the machine, 113 g·mm at a later check.
    #[test]
    fn three_zones() {
        assert_eq!(verdict(87.0, 0.0, 13.0), Verdict::Within);
        assert_eq!(verdict(86.0, 2.0, 13.0), Verdict::NotShown);
        assert_eq!(verdict(100.0, 0.0, 13.0), Verdict::NotShown);
        assert_eq!(verdict(114.0, 0.5, 13.0), Verdict::Over);
        assert_eq!(verdict(114.0, 2.0, 13.0), Verdict::NotShown);
        assert_eq!(verdict(100.0, 0.0, 4.9), Verdict::Within);
        assert_eq!(verdict(0.0, 0.0, 100.0), Verdict::NotShown);
        assert_eq!(whole([Verdict::Within, Verdict::Over, Verdict::NotShown]), Verdict::Over);
        assert_eq!(whole([]), Verdict::NotShown);
    }
}
