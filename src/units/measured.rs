//! Uncertainty, carried with its sources so that shared causes do not count twice.

use std::sync::Arc;

use smallvec::SmallVec;

use super::Amount;

/// What a share of an uncertainty comes from.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Source {
    /// Something that a value in a text leaves open: the n-th of several that stand there.
    Written { at: Place, nth: usize, part: Part },
    /// A material that the program knows by this name.
    Material(&'static str),
    /// These shares together, beyond the first order.
    Together(Arc<[(Source, u64)]>),
}

/// Where a value stands: the number of its file, and its first byte there.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Place {
    pub file: u32,
    pub start: u32,
}

/// Which part of a value is uncertain by itself.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Part {
    Amount,
    Angle,
    /// What stood there before a mass came on, at an angle that nobody read.
    Start,
    /// What the rotor's own unbalance may add, at an angle that nobody knows.
    Residual,
}

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

    /// Each source with its signed share.
    pub fn shares(&self) -> impl Iterator<Item = (&Source, f64)> {
        self.0.iter().map(|(source, share)| (source, *share))
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
        let shares = self.0.iter().map(|(source, share)| (source.clone(), share.to_bits()));
        Self::of(Source::Together(shares.collect()), standard)
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
                None => self.0.push((source.clone(), share)),
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
pub fn sensitivity<T: Amount>(standard: f64, at: T, f: impl Fn(f64) -> Option<T>) -> f64 {
    if standard == 0.0 {
        return 0.0;
    }
    // A small part of the uncertainty: near enough for a slope, and far enough not to drown in rounding.
    let step = standard / 1024.0;
    let (at, f) = (at.raw(), |by| f(by).map(T::raw));
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
        let source = Source::Written { at: Place { file: 0, start: 1 }, nth: 0, part: Part::Amount };
        let radius = Contributions::of(source, 0.1);
        let mut difference = Contributions::none();
        difference.add(&radius, 1.0);
        difference.add(&radius, -1.0);
        assert_eq!(difference.standard(), 0.0);
        let mut twice = Contributions::none();
        twice.add(&radius, 1.0);
        twice.add(&radius, 1.0);
        assert!((twice.standard() - 0.2).abs() < 1e-15);
    }

    #[test]
    fn every_part_of_a_value_and_every_value_counts_for_itself() {
        let place = |file, start| Place { file, start };
        let written = |at, nth, part| Source::Written { at, nth, part };
        let mut sources = vec![Source::Material("brass"), Source::Material("bronze")];
        for at in [place(0, 0), place(0, 1), place(1, 0), place(u32::MAX, u32::MAX)] {
            for part in [Part::Amount, Part::Angle, Part::Start, Part::Residual] {
                sources.extend([written(at, 0, part), written(at, 1, part)]);
            }
        }
        let mut sum = Contributions::none();
        sources.iter().for_each(|source| sum.add(&Contributions::of(source.clone(), 1.0), 1.0));
        assert!((sum.standard() - (sources.len() as f64).sqrt()).abs() < 1e-12);
        let (mut one, mut same) = (sum.beyond_first_order(1.0), Contributions::none());
        same.add(&sum.beyond_first_order(1.0), 1.0);
        one.add(&same, 1.0);
        assert_eq!(one.standard(), 2.0);
        one.add(&Contributions::of(Source::Material("brass"), 1.0).beyond_first_order(1.0), 1.0);
        assert!((one.standard() - 5f64.sqrt()).abs() < 1e-15);
    }
}
