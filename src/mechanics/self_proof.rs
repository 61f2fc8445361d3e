//! What corrections and the runs after them tell of readings: how much of an unbalance is missing from the reading of its
//! own plane or turned in it, and how much of it is read in the other planes.

use super::influence::{complex, vector};
use super::linear::Number;
use crate::units::{Amount, Ratio, Unbalance, Vector};

/// A correction, and the run after it.
#[derive(Clone, PartialEq, Debug)]
pub struct Step {
    pub planes: Vec<StepInPlane>,
}

/// One plane of such a step.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct StepInPlane {
    pub put_on: Vector<Unbalance>,
    /// What was read after it, less what the run before and all that was put on let expect.
    pub off: Vector<Unbalance>,
    /// What that is known to, k = 2.
    pub known_to: Unbalance,
}

/// What is told of an unbalance in one plane.
#[derive(Clone, PartialEq, Debug)]
pub struct Told {
    pub plane: usize,
    /// For each plane, the share of the unbalance that is missing there or too much, and what that is known to.
    pub shares: Vec<[Ratio; 2]>,
}

impl Step {
    /// The most that was put on in one plane.
    pub fn largest(&self) -> Unbalance {
        self.planes.iter().map(|plane| plane.put_on.amount()).fold(Unbalance::ZERO, Unbalance::max)
    }

    fn corrects(&self, plane: usize) -> bool {
        self.planes[plane].put_on.amount() > Unbalance::ZERO
    }

    fn corrects_only(&self, planes: &[usize]) -> bool {
        (0..self.planes.len()).all(|plane| planes.contains(&plane) || !self.corrects(plane))
    }
}

/// What a correction of one plane tells alone, and two corrections of two planes together.
///
/// With c what is put on and δ what the run after it is off, δ = E·c. One plane: E = δ ÷ c. Two planes, corrected twice and
/// not twice alike: E = Δ·C⁻¹. What δ is known to counts whole, the more so the more alike the two are. Steps of as many
/// planes. Source: plain algebra of a linear machine.
pub fn told(steps: &[Step]) -> Vec<Told> {
    let planes = steps.first().map_or(0, |step| step.planes.len());
    let mut all = Vec::new();
    for plane in 0..planes {
        let own = steps.iter().filter(|step| step.corrects(plane) && step.corrects_only(&[plane]));
        all.extend(own.map(|step| {
            let inverse = Number::from(1.0) / complex(step.planes[plane].put_on);
            Told { plane, shares: (0..planes).map(|other| share(&[(step, inverse)], other)).collect() }
        }));
    }
    for (n, one) in steps.iter().enumerate() {
        for two in &steps[n + 1..] {
            let corrected: Vec<usize> = (0..planes).filter(|p| one.corrects(*p) || two.corrects(*p)).collect();
            if let [a, b] = corrected[..] {
                all.extend(of_two([one, two], [a, b]));
            }
        }
    }
    all
}

/// Two corrections in two planes; nothing of two that are alike.
fn of_two([one, two]: [&Step; 2], [a, b]: [usize; 2]) -> Vec<Told> {
    let put_on = |step: &Step, plane: usize| complex(step.planes[plane].put_on);
    let (of_one, of_two) = ([put_on(one, a), put_on(one, b)], [put_on(two, a), put_on(two, b)]);
    let product = of_one[0] * of_two[1];
    let determinant = product - of_two[0] * of_one[1];
    let is_alike = determinant.norm() <= ALIKE * (product.norm() + (of_two[0] * of_one[1]).norm());
    if is_alike {
        return Vec::new();
    }
    let planes = one.planes.len();
    // The inverse of the matrix that has a column a step and a row a plane.
    let inverse = [[of_two[1], -of_one[1]], [-of_two[0], of_one[0]]].map(|row| row.map(|entry| entry / determinant));
    let told = |(plane, [first, second]): (usize, [Number; 2])| Told {
        plane,
        shares: (0..planes).map(|other| share(&[(one, first), (two, second)], other)).collect(),
    };
    [a, b].into_iter().zip(inverse).map(told).collect()
}

/// A determinant that is this part of its terms is what rounding has left of nothing.
const ALIKE: f64 = 1e-9;

/// In one plane, of steps that each count so much.
fn share(steps: &[(&Step, Number)], plane: usize) -> [Ratio; 2] {
    let off: Number = steps.iter().map(|(step, inverse)| complex(step.planes[plane].off) * inverse).sum();
    let known_to = steps.iter().map(|(step, inverse)| step.planes[plane].known_to.raw() * inverse.norm()).sum();
    [vector::<Ratio>(off).amount(), Ratio::new(known_to)]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::Angle;

    fn step(planes: [([f64; 2], [f64; 2], f64); 2]) -> Step {
        let polar =
            |[amount, at]: [f64; 2]| Vector::from_polar(Unbalance::gram_millimetres(amount), Angle::degrees(at));
        let plane = |(put_on, off, known_to)| StepInPlane {
            put_on: polar(put_on),
            off: polar(off),
            known_to: Unbalance::gram_millimetres(known_to),
        };
        Step { planes: planes.map(plane).to_vec() }
    }

    fn percent(told: &Told) -> Vec<[f64; 2]> {
        told.shares.iter().map(|share| share.map(|one| one.in_percent())).collect()
    }

    // 12 of 400 g·mm are missing, known to 8; in the other plane 20 are read, known to 4.
    #[test]
    fn one_plane_alone_tells_of_itself() {
        let found = told(&[step([([400.0, 30.0], [12.0, 210.0], 8.0), ([0.0, 0.0], [20.0, 75.0], 4.0)])]);
        assert_eq!(found.len(), 1);
        for (found, expected) in percent(&found[0]).into_iter().zip([[3.0, 2.0], [5.0, 1.0]]) {
            assert!(found.iter().zip(expected).all(|(a, b)| (a - b).abs() < 1e-9), "{found:?}");
        }
    }

    // By hand: E has 3 % of plane 0 missing there and 5 % of it in plane 1, 2 % of plane 1 in plane 0 and 4 % too much in itself.
    // 100 and 100 g·mm at 0 deg, then 100 and -100: off by -3 + 2 = -1 and 5 + 4 = 9, then by -3 - 2 = -5 and 5 - 4 = 1. The
    // inverse of [100 100; 100 -100] has entries of 1/200: 1 g·mm each time counts 2 ÷ 200 = 1 %.
    #[test]
    fn two_planes_corrected_twice_are_told_apart_and_once_or_twice_alike_are_not() {
        let one = step([([100.0, 0.0], [1.0, 180.0], 1.0), ([100.0, 0.0], [9.0, 0.0], 1.0)]);
        let two = step([([100.0, 0.0], [5.0, 180.0], 1.0), ([100.0, 180.0], [1.0, 0.0], 1.0)]);
        let found = told(&[one.clone(), two]);
        let expected = [(0, [[3.0, 1.0], [5.0, 1.0]]), (1, [[2.0, 1.0], [4.0, 1.0]])];
        assert_eq!(found.len(), 2);
        for (found, (plane, shares)) in found.iter().zip(expected) {
            assert_eq!(found.plane, plane);
            let off =
                percent(found).into_iter().flatten().zip(shares.into_iter().flatten()).map(|(a, b)| (a - b).abs());
            assert!(off.into_iter().all(|off| off < 1e-9), "{found:?}");
        }
        let twice = step([([50.0, 0.0], [0.5, 180.0], 1.0), ([50.0, 0.0], [4.5, 0.0], 1.0)]);
        assert!(told(&[one, twice]).is_empty());
    }
}
