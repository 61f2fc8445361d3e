//! What a record shows of its own readings: corrections of one plane and the runs after them tell how much of a mass is read
//! in its plane, at which angle, and in the others.

use crate::book::results::runs::step::{Alone, StepResults};
use crate::units::Ratio;

/// For each plane that was corrected alone: at most how much of an unbalance in it is missing from its own reading or
/// turned in it, and how much of it is read in each other plane.
#[derive(Debug, Default)]
pub(in crate::book::results) struct SelfProof {
    planes: Vec<(usize, Vec<Ratio>)>,
}

impl SelfProof {
    pub fn of(steps: &[StepResults<'_>]) -> Self {
        let alone: Vec<&Alone> = steps.iter().filter_map(|step| step.alone.as_ref()).collect();
        let mut planes: Vec<usize> = alone.iter().map(|one| one.plane).collect();
        planes.sort_unstable();
        planes.dedup();
        let shares = |plane: usize| {
            let own: Vec<&&Alone> = alone.iter().filter(|one| one.plane == plane).collect();
            let count = own.first().map_or(0, |one| one.off.len());
            (0..count).map(|other| share(&own, other)).collect()
        };
        Self { planes: planes.into_iter().map(|plane| (plane, shares(plane))).collect() }
    }

    /// Of an unbalance in a plane, what may be missing from its own reading.
    pub fn own(&self, plane: usize) -> Option<Ratio> {
        self.share(plane, plane)
    }

    /// Of an unbalance in a plane, what may be read in another.
    pub fn of_other(&self, plane: usize, other: usize) -> Option<Ratio> {
        self.share(plane, other)
    }

    fn share(&self, plane: usize, other: usize) -> Option<Ratio> {
        let (_, shares) = self.planes.iter().find(|(own, _)| *own == plane)?;
        shares.get(other).copied()
    }
}

/// By the correction that shows it best, disagreement and what that is known to together, so that a lucky agreement proves
/// nothing; no less than what any other shows for certain.
fn share(of_plane: &[&&Alone], other: usize) -> Ratio {
    let of = |one: &Alone, sign: f64| {
        let [off, known_to] = one.off[other];
        ((off + known_to * sign) / one.put_on).value()
    };
    let best = |a: &&&&Alone, b: &&&&Alone| {
        let known_to = |one: &Alone| (one.off[other][1] / one.put_on).value();
        known_to(a).total_cmp(&known_to(b))
    };
    let best = of_plane.iter().min_by(best).map_or(f64::INFINITY, |one| of(one, 1.0));
    Ratio::new(of_plane.iter().map(|one| of(one, -1.0)).fold(best, f64::max))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::Unbalance;

    fn alone(put_on: f64, off: [f64; 2]) -> Alone {
        let u = Unbalance::gram_millimetres;
        Alone { plane: 0, put_on: u(put_on), off: vec![off.map(u), [u(0.0), off.map(u)[1]]] }
    }

    // By hand: of 400 g·mm 6 are off and known to 10, 4 %; a smaller correction of 100 that is 2 off, known to 10, shows
    // nothing more; one of 100 that is 20 off, known to 10, shows 10 % for certain.
    #[test]
    fn the_best_correction_counts_unless_another_contradicts_it() {
        let (large, small, wrong) = (alone(400.0, [6.0, 10.0]), alone(100.0, [2.0, 10.0]), alone(100.0, [20.0, 10.0]));
        let shown = |all: &[&Alone]| share(&all.iter().collect::<Vec<_>>(), 0).in_percent();
        assert!((shown(&[&large, &small]) - 4.0).abs() < 1e-9);
        assert!((shown(&[&small]) - 12.0).abs() < 1e-9);
        assert!((shown(&[&large, &wrong]) - 10.0).abs() < 1e-9);
        // What the other plane shows: nothing, known to 10 of 400.
        assert!((share(&[&&large], 1).in_percent() - 2.5).abs() < 1e-9);
    }
}
