//! Scatter of repeated vectors, pooled over sets with means of their own.

use super::budget::{Freedom, differs};
use crate::units::{Amount, Typed, Unbalance, Vector};

/// The squares of what vectors lie from the means of their sets, and how many comparisons that is.
#[derive(Clone, Copy, PartialEq, Debug, Default)]
pub struct Scatter {
    squares: f64,
    comparisons: f64,
}

impl Scatter {
    /// Of one set about its mean; nothing of fewer than two.
    pub fn of(vectors: &[Vector<Unbalance>]) -> Self {
        if vectors.len() < 2 {
            return Self::default();
        }
        let mean = vectors.iter().copied().sum::<Vector<Unbalance>>() / vectors.len() as f64;
        let squares = vectors.iter().map(|vector| (*vector - mean).amount().raw().powi(2)).sum();
        Self { squares, comparisons: 2.0 * (vectors.len() - 1) as f64 }
    }

    pub fn and(self, other: Self) -> Self {
        Self { squares: self.squares + other.squares, comparisons: self.comparisons + other.comparisons }
    }

    pub fn freedom(self) -> Freedom {
        Freedom::of(self.comparisons)
    }

    /// Whether it is larger than another by more than chance makes it; of the other, no less than `least` counts.
    pub fn exceeds(self, other: Self, least: Unbalance) -> bool {
        let (Some(one), Some(of_other)) = (self.standard(), other.standard()) else { return false };
        differs([one.base(), self.comparisons], [of_other.max(least).base(), other.comparisons])
    }

    /// The standard deviation of one vector along any direction; `None` where nothing was repeated.
    ///
    /// Source: pooled variance, JCGM 100, H.3.6 (from memory), of two components each.
    pub fn standard(self) -> Option<Unbalance> {
        (self.comparisons > 0.0).then(|| Unbalance::from_base((self.squares / self.comparisons).sqrt()))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::Angle;

    // By hand: three corners 6 from their mean make 3·36 over four comparisons, 27; two vectors 4 apart make 2·4 over two.
    // Together 116 over six.
    #[test]
    fn sets_are_pooled_about_means_of_their_own() {
        let at = |amount: f64, degrees: f64| {
            Vector::from_polar(Unbalance::gram_millimetres(amount), Angle::degrees(degrees))
        };
        let three = Scatter::of(&[at(6.0, 10.0), at(6.0, 130.0), at(6.0, 250.0)]);
        let two = Scatter::of(&[at(100.0, 0.0), at(104.0, 0.0)]);
        let standard = |scatter: Scatter| scatter.standard().unwrap().in_gram_millimetres();
        assert!((standard(three) - 27f64.sqrt()).abs() < 1e-9);
        assert!((standard(three.and(two)) - (116.0f64 / 6.0).sqrt()).abs() < 1e-9);
        assert_eq!(three.and(two).freedom(), Freedom::of(6.0));
        assert_eq!(Scatter::of(&[at(1.0, 0.0)]).standard(), None);
    }
}
