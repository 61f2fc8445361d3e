//! What a record shows of its own readings: corrections and the runs after them tell how much of a mass is read in its plane,
//! at which angle, and in the others.

use crate::book::results::runs::step::StepResults;
use crate::mechanics::self_proof::{Step, Told, told};
use crate::units::Ratio;

/// What corrections told of planes: at most how much of an unbalance in one is missing from its own reading or turned in it,
/// and how much of it is read in each other plane.
#[derive(Debug, Default)]
pub(in crate::book::results) struct SelfProof {
    told: Vec<Told>,
}

impl SelfProof {
    /// Nothing where a run contradicts what was recorded before it: such a record is no calibration.
    pub fn of(steps: &[StepResults<'_>]) -> Self {
        if steps.iter().any(|step| step.contradicted().next().is_some()) {
            return Self::default();
        }
        let steps: Vec<Step> = steps.iter().filter_map(|step| step.tells.clone()).collect();
        Self { told: told(&steps) }
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
            SelfProof { told }.share(0, other).map(|share| share.in_percent())
        };
        let near = |found: Option<f64>, expected: f64| assert!((found.unwrap() - expected).abs() < 1e-9, "{found:?}");
        near(shown(&[&large, &small], 0), 4.0);
        near(shown(&[&small], 0), 12.0);
        near(shown(&[&large, &wrong], 0), 10.0);
        // What the other plane shows: nothing, known to 10 of 400.
        near(shown(&[&large], 1), 2.5);
        assert_eq!(SelfProof::default().own(0), None);
    }
}
