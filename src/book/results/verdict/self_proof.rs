//! What a record shows of its own readings: corrections and the runs after them tell how much of a mass is read in its plane,
//! at which angle, and in the others.

use crate::book::results::runs::step::StepResults;
use crate::mechanics::self_proof::{Step, Told, told};
use crate::units::{Ratio, Unbalance};

/// What corrections told of planes: at most how much of an unbalance in one is missing from its own reading or turned in it,
/// and how much of it is read in each other plane.
#[derive(Debug, Default)]
pub(in crate::book::results) struct SelfProof {
    told: Vec<Told>,
}

/// A correction that shows what it was to no better than this share of it shows nothing: another small one would only blur
/// what is known without it. As for trial masses, which are to change a reading by a quarter. Common practice, no source.
const SHOWN_TO: f64 = 0.25;

/// Beside one so much larger, what a correction is off by is what runs scatter, and no share of what is read. Common practice,
/// no source.
const DWARFED: f64 = 0.1;

impl SelfProof {
    /// Nothing where a run contradicts what was recorded before it: such a record is no calibration.
    pub fn of(steps: &[StepResults<'_>]) -> Self {
        if steps.iter().any(|step| step.contradicted().next().is_some()) {
            return Self::default();
        }
        let mut steps: Vec<Step> = steps.iter().filter_map(|step| step.tells.clone()).collect();
        let largest = steps.iter().map(Step::largest).fold(Unbalance::ZERO, Unbalance::max);
        steps.retain(|step| step.largest() >= largest * DWARFED);
        Self::by(told(&steps))
    }

    fn by(mut told: Vec<Told>) -> Self {
        told.retain(|told| told.shares[told.plane][1].value() <= SHOWN_TO);
        Self { told }
    }

    /// Of an unbalance in a plane, what may be missing from its own reading.
    pub fn own(&self, plane: usize) -> Option<Ratio> {
        self.share(plane, plane)
    }

    /// Of an unbalance in a plane, what may be read in another.
    pub fn of_other(&self, plane: usize, other: usize) -> Option<Ratio> {
        self.share(plane, other)
    }

    /// By what shows it best, disagreement and what that is known to together, so that a lucky agreement proves nothing; no
    /// less than what any other shows for certain.
    fn share(&self, plane: usize, other: usize) -> Option<Ratio> {
        let all = || self.told.iter().filter(|told| told.plane == plane).map(|told| told.shares[other]);
        let [off, known_to] = all().min_by(|[_, a], [_, b]| a.value().total_cmp(&b.value()))?;
        let certain = all().map(|[off, known_to]| (off - known_to).value());
        Some(Ratio::new(certain.fold((off + known_to).value(), f64::max)))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn alone(own: [f64; 2]) -> Told {
        Told { plane: 0, shares: vec![own.map(Ratio::percent), [Ratio::percent(0.0), Ratio::percent(own[1])]] }
    }

    // By hand: of 400 g·mm 6 are off and known to 10, 4 %; a smaller correction of 100 that is 2 off, known to 10, shows
    // nothing more; one of 100 that is 20 off, known to 10, shows 10 % for certain.
    #[test]
    fn the_best_correction_counts_unless_another_contradicts_it() {
        let (large, small, wrong) = (alone([1.5, 2.5]), alone([2.0, 10.0]), alone([20.0, 10.0]));
        let shown = |told: &[&Told], other| {
            let told = told.iter().copied().cloned().collect();
            SelfProof::by(told).share(0, other).map(|share| share.in_percent())
        };
        let near = |found: Option<f64>, expected: f64| assert!((found.unwrap() - expected).abs() < 1e-9, "{found:?}");
        near(shown(&[&large, &small], 0), 4.0);
        near(shown(&[&small], 0), 12.0);
        near(shown(&[&large, &wrong], 0), 10.0);
        // What the other plane shows: nothing, known to 10 of 400.
        near(shown(&[&large], 1), 2.5);
        assert_eq!(SelfProof::default().own(0), None);
        // One of 30 g·mm, known to 10, a third of it.
        assert_eq!(shown(&[&alone([0.5, 33.3])], 0), None);
        near(shown(&[&large, &alone([0.5, 33.3])], 0), 4.0);
    }
}
