//! Uncertainty, carried with its sources so that shared causes do not count twice.

use std::hash::{Hash, Hasher};

use smallvec::SmallVec;

/// The fact that a share of an uncertainty comes from.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct Source(pub u64);

/// The shares that measured facts have in the uncertainty of a value: signed, each one standard uncertainty of its
/// fact times the sensitivity to it, in base units of the value.
///
/// GUM 5.1.2 (from memory): shares of independent facts add by root of squares; shares of one fact add with their sign.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct Contributions(SmallVec<[(Source, f64); 3]>);

impl Contributions {
    pub fn none() -> Self {
        Self::default()
    }

    /// A value read from one fact with this standard uncertainty; exact when it is zero.
    pub fn of(source: Source, standard: f64) -> Self {
        let mut shares = SmallVec::new();
        if standard > 0.0 {
            shares.push((source, standard));
        }
        Self(shares)
    }

    pub fn is_exact(&self) -> bool {
        self.0.iter().all(|(_, share)| *share == 0.0)
    }

    /// The standard uncertainty.
    pub fn standard(&self) -> f64 {
        match self.0[..] {
            [] => 0.0,
            [(_, share)] => share.abs(),
            _ => self.0.iter().map(|(_, share)| share * share).sum::<f64>().sqrt(),
        }
    }

    /// The expanded uncertainty with k = 2.
    pub fn expanded(&self) -> f64 {
        2.0 * self.standard()
    }

    /// An uncertainty that comes from these shares together, beyond the first order: a source of its own.
    pub fn beyond_first_order(&self, standard: f64) -> Self {
        let mut hasher = rustc_hash::FxHasher::default();
        for (source, share) in &self.0 {
            (source, share.to_bits()).hash(&mut hasher);
        }
        Self::of(Source(hasher.finish()), standard)
    }

    /// Adds the shares of an input, each times the sensitivity of the result to that input.
    pub fn add(&mut self, other: &Contributions, sensitivity: f64) {
        for (source, share) in &other.0 {
            let share = share * sensitivity;
            if share == 0.0 || !share.is_finite() {
                continue;
            }
            match self.0.iter_mut().find(|(known, _)| known == source) {
                Some((_, sum)) => *sum = added(*sum, share),
                None => self.0.push((*source, share)),
            }
        }
    }
}

/// The sum of two shares of one fact; shares that cancel but for the error of finite differences cancel.
fn added(a: f64, b: f64) -> f64 {
    let sum = a + b;
    if sum.abs() < 1e-5 * a.abs().max(b.abs()) { 0.0 } else { sum }
}

/// The sensitivity of `f` at `at` to a change well within its standard uncertainty, by the mean of a step up and
/// a step down; one of the two where the other leaves the domain of `f`.
pub fn sensitivity(standard: f64, at: f64, f: impl Fn(f64) -> Option<f64>) -> f64 {
    if standard == 0.0 {
        return 0.0;
    }
    // A small part of the uncertainty: near enough for a slope, and far enough not to drown in rounding.
    let step = standard / 1024.0;
    match (f(step), f(-step)) {
        (Some(up), Some(down)) => (up - down) / (2.0 * step),
        (Some(up), None) => (up - at) / step,
        (None, Some(down)) => (at - down) / step,
        (None, None) => 0.0,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn one_fact_used_twice_counts_once() {
        let radius = Contributions::of(Source(1), 0.1);
        let mut difference = Contributions::none();
        difference.add(&radius, 1.0);
        difference.add(&radius, -1.0);
        assert_eq!(difference.standard(), 0.0);
        let mut twice = Contributions::none();
        twice.add(&radius, 1.0);
        twice.add(&radius, 1.0);
        assert!((twice.standard() - 0.2).abs() < 1e-15);
    }
}
