//! How the parts of an assembly should be turned to each other.

use super::domain::{Computed, Input, Requirement, demand, positive};
use super::known_masses::correction_in_two_planes;
use crate::units::{Angle, Length, Typed, Unbalance, Vector};

/// No more combinations than this are tried one by one.
const ALL_OF: u64 = 50_000;

/// A part with its known unbalances, in the angles and places of the assembly.
#[derive(Clone, PartialEq, Debug)]
pub struct KnownPart {
    pub unbalances: Vec<(Vector<Unbalance>, Length)>,
    /// The steps in which it can be turned; `None` when it sits as it sits.
    pub step: Option<Angle>,
}

impl KnownPart {
    /// In how many positions it can sit. The step goes into the turn a whole number of times, else fewer positions
    /// than a turn holds are counted.
    fn positions(&self) -> Computed<u32> {
        let Some(step) = self.step else { return Ok(1) };
        let count = (360.0 / positive(step, Input::AngularPlaces)?.in_degrees() + 1e-6).floor();
        demand((1.0..=3600.0).contains(&count), Input::AngularPlaces, Requirement::BeWithinRange)?;
        Ok(count as u32)
    }
}

/// Known unbalances along a rotor as they act in its correction planes, one or two: where they are in excess.
///
/// In two planes by moments, in one by their sum. Source: plain statics of a rigid rotor.
pub fn in_planes(known: &[(Vector<Unbalance>, Length)], planes: &[Length]) -> Computed<Vec<Vector<Unbalance>>> {
    match planes {
        [_] => Ok(vec![known.iter().map(|(unbalance, _)| *unbalance).sum()]),
        [first, second] => {
            let correction = correction_in_two_planes(known, [*first, *second])?;
            Ok(correction.into_iter().map(|vector| -vector).collect())
        }
        _ => Err(super::DomainError { what: Input::CorrectionPlanes, must: Requirement::BeGiven }),
    }
}

/// The positions in which the parts leave least.
#[derive(Clone, PartialEq, Debug)]
pub struct Clocked {
    /// For each part, by how many of its steps it is turned.
    pub positions: Vec<u32>,
    /// What then acts in each plane.
    pub in_planes: Vec<Vector<Unbalance>>,
    /// Whether every combination was tried; else each part in turn, until none could be turned to advantage.
    pub tried_all: bool,
}

/// Searches the allowed positions for those that leave least: the smallest of the largest multiples of the planes'
/// tolerances; of the largest amounts where `tolerances` are not given.
///
/// One or two planes; tolerances, where given, one a plane and above zero. Source: search; plain statics.
pub fn best_clocking(parts: &[KnownPart], planes: &[Length], tolerances: Option<&[Unbalance]>) -> Computed<Clocked> {
    let counts: Vec<u32> = parts.iter().map(KnownPart::positions).collect::<Computed<_>>()?;
    if let Some(tolerances) = tolerances {
        demand(tolerances.len() == planes.len(), Input::Tolerance, Requirement::BeGiven)?;
        for tolerance in tolerances {
            positive(*tolerance, Input::Tolerance)?;
        }
    }
    // Turning a part turns its share in each plane, so the shares are found once.
    let shares: Vec<Vec<Vector<Unbalance>>> =
        parts.iter().map(|part| in_planes(&part.unbalances, planes)).collect::<Computed<_>>()?;
    let at = |positions: &[u32]| -> Vec<Vector<Unbalance>> {
        let turned = |(n, position): (usize, &u32), plane: usize| {
            let by = parts[n].step.map_or(Angle::ZERO, |step| step * f64::from(*position));
            shares[n][plane].rotate(by)
        };
        (0..planes.len()).map(|plane| positions.iter().enumerate().map(|one| turned(one, plane)).sum()).collect()
    };
    let cost = |positions: &[u32]| -> f64 {
        let multiple = |(plane, vector): (usize, &Vector<Unbalance>)| {
            vector.amount().base() / tolerances.map_or(1.0, |tolerances| tolerances[plane].base())
        };
        let acting = at(positions);
        let multiples: Vec<f64> = acting.iter().enumerate().map(multiple).collect();
        let largest = multiples.iter().copied().fold(0.0, f64::max);
        // Between positions that are alike in their worst plane, the sum decides.
        largest + 1e-6 * multiples.iter().sum::<f64>()
    };
    let combinations = counts.iter().try_fold(1_u64, |all, count| all.checked_mul(u64::from(*count)));
    let tried_all = combinations.is_some_and(|all| all <= ALL_OF);
    let positions = if tried_all { each(&counts, cost) } else { one_after_another(&counts, cost) };
    let in_planes = at(&positions);
    demand(in_planes.iter().all(|vector| vector.is_finite()), Input::Result, Requirement::BeFinite)?;
    Ok(Clocked { in_planes, positions, tried_all })
}

/// Every combination, counted through like the digits of a number.
fn each(counts: &[u32], cost: impl Fn(&[u32]) -> f64) -> Vec<u32> {
    let mut positions = vec![0; counts.len()];
    let mut best = (cost(&positions), positions.clone());
    loop {
        let Some(n) = (0..counts.len()).find(|n| positions[*n] + 1 < counts[*n]) else { return best.1 };
        positions[n] += 1;
        positions[..n].fill(0);
        let now = cost(&positions);
        // What is no better by more than rounding is left, so that the first of equals stands.
        if now < best.0 * (1.0 - 1e-9) {
            best = (now, positions.clone());
        }
    }
}

/// Each part in turn to its best position, from several starts, until nothing is gained.
fn one_after_another(counts: &[u32], cost: impl Fn(&[u32]) -> f64) -> Vec<u32> {
    let starts = 8;
    let improved = |start: u32| {
        let mut positions: Vec<u32> =
            counts.iter().enumerate().map(|(n, count)| count * (start * (n as u32 + 1) % starts) / starts).collect();
        let mut now = cost(&positions);
        loop {
            let before = now;
            for n in 0..counts.len() {
                for position in 0..counts[n] {
                    let kept = std::mem::replace(&mut positions[n], position);
                    let tried = cost(&positions);
                    if tried < now * (1.0 - 1e-9) {
                        now = tried;
                    } else {
                        positions[n] = kept;
                    }
                }
            }
            if now >= before * (1.0 - 1e-9) {
                return (now, positions);
            }
        }
    };
    let best = (0..starts).map(improved).min_by(|a, b| a.0.total_cmp(&b.0));
    best.map_or_else(|| vec![0; counts.len()], |(_, positions)| positions)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn part(amount: f64, degrees: f64, at: f64, step: Option<f64>) -> KnownPart {
        let vector = Vector::from_polar(Unbalance::gram_millimetres(amount), Angle::degrees(degrees));
        KnownPart { unbalances: vec![(vector, Length::millimetres(at))], step: step.map(Angle::degrees) }
    }

    #[test]
    fn two_equal_parts_are_set_against_each_other() {
        let parts = [part(10.0, 20.0, 0.0, None), part(10.0, 50.0, 0.0, Some(30.0))];
        let clocked = best_clocking(&parts, &[Length::ZERO], None).unwrap();
        // From 50° five steps of 30° lead to 200°, opposite to 20°.
        assert_eq!(clocked.positions, [0, 5]);
        assert!(clocked.tried_all);
        assert!(clocked.in_planes[0].amount().in_gram_millimetres() < 1e-9);
    }

    #[test]
    fn a_search_part_by_part_comes_near_the_best_of_all() {
        let steps = [10.0, 12.0, 15.0];
        let parts: Vec<KnownPart> = steps
            .iter()
            .enumerate()
            .map(|(n, step)| part(10.0 + n as f64, 77.0 * n as f64, 50.0 * n as f64, Some(*step)))
            .collect();
        let planes = [Length::ZERO, Length::millimetres(100.0)];
        let all = best_clocking(&parts, &planes, None).unwrap();
        assert!(all.tried_all);
        let more: Vec<KnownPart> = parts.iter().cloned().chain([part(1e-9, 0.0, 0.0, Some(5.0))]).collect();
        let some = best_clocking(&more, &planes, None).unwrap();
        assert!(!some.tried_all);
        let worst =
            |clocked: &Clocked| clocked.in_planes.iter().map(|v| v.amount().in_gram_millimetres()).fold(0.0, f64::max);
        assert!(worst(&some) <= worst(&all) * 1.5 + 1e-6, "{} and {}", worst(&some), worst(&all));
    }
}
