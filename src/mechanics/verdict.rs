//! Whether a measured unbalance shows that a limit is kept.

use super::domain::{Computed, Input, not_negative, positive};
use crate::units::Unbalance;

/// What a measurement says of a limit. Ordered from the best to the worst.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum Verdict {
    /// Kept, whatever the errors.
    Within,
    /// Kept as far as it was read: something that may count was not assessed.
    WithinAsRead,
    /// Neither one nor the other is certain.
    NotShown,
    /// Exceeded as far as it was read: something that may count was not assessed.
    OverAsRead,
    /// Exceeded, whatever the errors.
    Over,
}

impl Verdict {
    /// Whether the limits are kept, at least as far as they were read.
    pub fn is_good(self) -> bool {
        self <= Self::WithinAsRead
    }
}

/// The verdict on what acts at a limit L: from `best` to `worst`, which differ where only amounts are known, each with
/// the expanded uncertainty U. Within when `L − worst ≥ U`, over when `best − L > U`.
///
/// The limit is above zero, nothing else below it. Source: ISO 14253-1, decision rules (from memory).
pub fn judge([best, worst]: [Unbalance; 2], limit: Unbalance, uncertainty: Unbalance) -> Computed<Verdict> {
    let [best, worst] = [not_negative(best, Input::Unbalance)?, not_negative(worst, Input::Unbalance)?];
    let limit = positive(limit, Input::Tolerance)?;
    let uncertainty = not_negative(uncertainty, Input::Errors)?;
    // A limit that is met to the last digit of a binary fraction is met.
    let hair = limit * 1e-12;
    Ok(if limit - worst + hair >= uncertainty {
        Verdict::Within
    } else if best - limit > uncertainty + hair {
        Verdict::Over
    } else {
        Verdict::NotShown
    })
}

/// The verdict on the whole rotor: over if one is, else not shown if one is not, else the worst of the others. Nothing
/// judged is nothing shown.
pub fn whole(parts: impl IntoIterator<Item = Verdict>) -> Verdict {
    parts.into_iter().max().unwrap_or(Verdict::NotShown)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn verdict(measured: [f64; 2], uncertainty: f64) -> Verdict {
        let u = Unbalance::gram_millimetres;
        judge(measured.map(u), u(100.0), u(uncertainty)).unwrap()
    }

    // By hand: a limit of 100 and ±13 leave 87 for within and 113 for over.
    #[test]
    fn three_zones() {
        assert_eq!(verdict([87.0; 2], 13.0), Verdict::Within);
        assert_eq!(verdict([87.1; 2], 13.0), Verdict::NotShown);
        assert_eq!(verdict([113.0; 2], 13.0), Verdict::NotShown);
        assert_eq!(verdict([113.1; 2], 13.0), Verdict::Over);
        assert_eq!(verdict([0.0; 2], 101.0), Verdict::NotShown);
        // Amounts that are 80 in phase and 0 against each other; 160 and 120; 240 and 120.
        assert_eq!(verdict([0.0, 80.0], 13.0), Verdict::Within);
        assert_eq!(verdict([20.0, 160.0], 13.0), Verdict::NotShown);
        assert_eq!(verdict([120.0, 240.0], 13.0), Verdict::Over);
        assert_eq!(whole([Verdict::Within, Verdict::Over, Verdict::NotShown]), Verdict::Over);
        assert_eq!(whole([Verdict::Within, Verdict::WithinAsRead]), Verdict::WithinAsRead);
        assert_eq!(whole([]), Verdict::NotShown);
    }
}
