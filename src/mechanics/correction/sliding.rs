//! Equal weights that slide in a groove.

use crate::mechanics::domain::{Computed, Input, Requirement, demand, not_negative, positive, settled};
use crate::units::{Angle, Length, Mass, Unbalance, Vector};
use std::f64::consts::PI;

/// Two equal weights: `U = 2·m·r·cos β`, towards the middle between them.
///
/// m is the mass of one, r the radius of its mass centre, β half the angle between the two. `spread` is that whole
/// angle, from 0, where both pull one way, to 180°, where they cancel. Source: vector sum, plain mechanics.
pub fn sliding_weights(mass_each: Mass, radius: Length, spread: Angle) -> Computed<Unbalance> {
    let each = not_negative(mass_each, Input::Mass)? * not_negative(radius, Input::Radius)?;
    let half = not_negative(spread, Input::Spread)? * 0.5;
    demand(half.in_radians() <= PI / 2.0 * (1.0 + 1e-12), Input::Spread, Requirement::BeWithinRange)?;
    settled(each * (2.0 * half.cos()).max(0.0))
}

/// The angle between the two weights that makes an unbalance: `β = arccos(U / (2·m·r))`, twice that.
///
/// Symbols as in [`sliding_weights`]. Mass and radius are above zero, the unbalance from 0 to `2·m·r`.
/// Source: vector sum, plain mechanics.
pub fn spread_for(unbalance: Unbalance, mass_each: Mass, radius: Length) -> Computed<Angle> {
    let wanted = not_negative(unbalance, Input::Unbalance)?;
    let most = positive(mass_each, Input::Mass)? * positive(radius, Input::Radius)? * 2.0;
    let cosine = settled(wanted / most)?.value();
    demand(cosine <= 1.0, Input::Unbalance, Requirement::BeWithinReach)?;
    Ok(Angle::radians(2.0 * cosine.acos()))
}

/// Where weights are to be turned, in their order, and what they then lack of what was wanted.
#[derive(Clone, PartialEq, Debug)]
pub struct Turned {
    pub to: Vec<Angle>,
    pub left: Vector<Unbalance>,
}

/// Where two or three equal weights are to stand so that they make an unbalance together, from where they stand.
///
/// `each` is mass times radius of one, `apart` the least angle between the middles of two. Of three, one stays and the
/// other two make the rest R of it: at arg R ± arccos(|R| / 2w). Two, and three of which none can stay, stand about the
/// wanted direction: ± arccos(|T| / 2w), and one there and two at ± arccos((|T|/w − 1) / 2). Taken is what leaves least,
/// then what lets most of them stay, then what turns them least, then the one of the lower number staying. Where they
/// would touch, both that turn stand farther out until they clear. Weights do not pass each other.
/// Source: vector sum, plain mechanics; the order of choice is common practice, no source.
pub fn turn_weights(from: &[Angle], wanted: Vector<Unbalance>, each: Unbalance, apart: Angle) -> Computed<Turned> {
    demand(wanted.is_finite(), Input::Unbalance, Requirement::BeFinite)?;
    demand(matches!(from.len(), 2 | 3), Input::Places, Requirement::BeWithinRange)?;
    let most = positive(each, Input::Mass)? * from.len() as f64;
    demand(wanted.amount() <= most * (1.0 + 1e-9), Input::Unbalance, Requirement::BeWithinReach)?;
    let weights = Weights { from, wanted, each, apart: not_negative(apart, Input::Spread)? };
    let candidates = if from.len() == 2 { weights.two() } else { weights.three() };
    let kept = candidates.into_iter().filter(|to| weights.keep_order(to) && weights.clear(to));
    // Of equals the first is taken: the lower number stays.
    let best = kept
        .map(|to| (weights.rank(&to), to))
        .min_by(|a, b| a.0.partial_cmp(&b.0).unwrap_or(std::cmp::Ordering::Equal));
    let (_, to) =
        best.ok_or(crate::mechanics::DomainError { what: Input::Places, must: Requirement::BeWithinReach })?;
    Ok(Turned { left: weights.left(&to), to })
}

/// The most that two or three equal weights make together, side by side: `2·w·cos(α/2)`, `w·(1 + 2·cos α)`.
///
/// w is mass times radius of one, α the least angle between the middles of two. Source: vector sum, plain mechanics.
pub fn most_of_weights(number: usize, each: Unbalance, apart: Angle) -> Computed<Unbalance> {
    demand(matches!(number, 2 | 3), Input::Places, Requirement::BeWithinRange)?;
    let most = if number == 2 { 2.0 * (apart * 0.5).cos() } else { 1.0 + 2.0 * apart.cos() };
    settled(positive(each, Input::Mass)? * most.max(0.0))
}

struct Weights<'w> {
    from: &'w [Angle],
    wanted: Vector<Unbalance>,
    each: Unbalance,
    apart: Angle,
}

/// A turn or a share below this is none.
const HAIR: f64 = 1e-6;

impl Weights<'_> {
    fn two(&self) -> Vec<Vec<Angle>> {
        let pair =
            |stays: usize, other: Angle| if stays == 0 { vec![self.from[0], other] } else { vec![other, self.from[1]] };
        if self.wanted.amount() <= self.each * HAIR {
            return [0, 1].map(|stays| pair(stays, self.from[stays] + Angle::degrees(180.0))).to_vec();
        }
        let about = self.spread(self.wanted, None).into_iter();
        about.flat_map(|[a, b]| [vec![a, b], vec![b, a]]).collect()
    }

    fn three(&self) -> Vec<Vec<Angle>> {
        let mut all: Vec<Vec<Angle>> = (0..3).flat_map(|stays| self.with_one_staying(stays)).collect();
        let cosine = ((self.wanted.amount() / self.each).value() - 1.0) / 2.0;
        let half = Angle::radians(cosine.clamp(-1.0, 1.0).acos()).max(self.apart);
        let middle = self.wanted.angle();
        let [a, b, c] = [middle, middle + half, middle - half];
        all.extend([[a, b, c], [a, c, b], [b, a, c], [c, a, b], [b, c, a], [c, b, a]].map(|to| to.to_vec()));
        all
    }

    fn with_one_staying(&self, stays: usize) -> Vec<Vec<Angle>> {
        let own = self.from[stays];
        let [one, other] = [(stays + 1) % 3, (stays + 2) % 3];
        let placed = |a: Angle, b: Angle| {
            let mut to = self.from.to_vec();
            (to[one], to[other]) = (a, b);
            to
        };
        let rest = self.wanted - Vector::from_polar(self.each, own);
        if rest.amount() <= self.each * HAIR {
            let half_a_turn = Angle::degrees(180.0);
            return vec![
                placed(self.from[one], self.from[one] + half_a_turn),
                placed(self.from[other] + half_a_turn, self.from[other]),
            ];
        }
        let pairs = self.spread(rest, Some(own)).into_iter();
        pairs.flat_map(|[a, b]| [placed(a, b), placed(b, a)]).collect()
    }

    /// Two weights to either side of a direction, farther out where they would touch each other or one that stays.
    fn spread(&self, rest: Vector<Unbalance>, stays: Option<Angle>) -> Option<[Angle; 2]> {
        let cosine = (rest.amount() / self.each).value() / 2.0;
        if cosine > 1.0 + HAIR {
            return None;
        }
        let mut half = Angle::radians(cosine.min(1.0).acos()).max(self.apart * 0.5);
        if let Some(stays) = stays {
            let off = short_way(stays - rest.angle());
            if (half - off).abs() < self.apart {
                half = off + self.apart;
            }
        }
        (half <= Angle::degrees(180.0)).then(|| [rest.angle() + half, rest.angle() - half])
    }

    fn clear(&self, to: &[Angle]) -> bool {
        let near = |a: &Angle, b: &Angle| short_way(*a - *b) < self.apart - Angle::degrees(HAIR);
        !to.iter().enumerate().any(|(n, a)| to[..n].iter().any(|b| near(a, b)))
    }

    /// Whether three weights keep their order round the groove.
    fn keep_order(&self, to: &[Angle]) -> bool {
        let order = |of: &[Angle]| match of {
            [a, b, c] => (*b - *a).within_one_turn() <= (*c - *a).within_one_turn(),
            _ => true,
        };
        order(self.from) == order(to)
    }

    fn left(&self, to: &[Angle]) -> Vector<Unbalance> {
        let made: Vector<Unbalance> = to.iter().map(|angle| Vector::from_polar(self.each, *angle)).sum();
        self.wanted - made
    }

    /// What is left, how many turn, and by how much in all, each rounded so that equals are equal.
    fn rank(&self, to: &[Angle]) -> [f64; 3] {
        let turns = to.iter().zip(self.from).map(|(to, from)| short_way(*to - *from).in_degrees());
        let rounded = |value: f64| (value / HAIR).round() * HAIR;
        let left = rounded((self.left(to).amount() / self.each).value());
        [left, turns.clone().filter(|turn| *turn > HAIR).count() as f64, rounded(turns.sum())]
    }
}

fn short_way(angle: Angle) -> Angle {
    let turned = angle.within_one_turn();
    turned.min(Angle::degrees(360.0) - turned)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn turned(from: &[f64], wanted: (f64, f64), apart: f64) -> Computed<Vec<f64>> {
        let from: Vec<Angle> = from.iter().copied().map(Angle::degrees).collect();
        let wanted = Vector::from_polar(Unbalance::gram_millimetres(wanted.0), Angle::degrees(wanted.1));
        let turned = turn_weights(&from, wanted, Unbalance::gram_millimetres(1.0), Angle::degrees(apart))?;
        Ok(turned.to.iter().map(|angle| (angle.within_one_turn().in_degrees() * 1e4).round() / 1e4 % 360.0).collect())
    }

    /// By hand: 2·cos 60 = 1; two opposite make nothing; three of which one stays at 240 leave 0.5 to be made there by two,
    /// arccos 0.25 = 75.5225 to either side.
    #[test]
    fn weights_turn_as_little_as_they_can() {
        assert_eq!(turned(&[90.0, 270.0], (1.0, 0.0), 10.0).unwrap(), [60.0, 300.0]);
        assert_eq!(turned(&[40.0, 200.0], (0.0, 0.0), 10.0).unwrap(), [40.0, 220.0]);
        assert_eq!(turned(&[0.0, 120.0, 240.0], (1.5, 240.0), 10.0).unwrap(), [315.5225, 164.4775, 240.0]);
        // 2.6 at 0: with one at 120, 240 or 0 the other two would have to make 3.2, 3.2 and 1.6.
        let near = turned(&[0.0, 120.0, 240.0], (2.6, 0.0), 10.0).unwrap();
        assert_eq!(near, [0.0, 36.8699, 323.1301]);
        // Of 80, 200 and 320 none can stay for 2.9 at 0: one goes there and two to arccos 0.95 = 18.1949 beside it.
        assert_eq!(turned(&[80.0, 200.0, 320.0], (2.9, 0.0), 10.0).unwrap(), [18.1949, 341.8051, 0.0]);
    }

    /// By hand: 2·cos 15 = 1.9319; 1 + 2·cos 30 = 2.7321; two that touch all round the groove make nothing.
    #[test]
    fn weights_side_by_side_make_most() {
        let most = |number, apart| {
            let most = most_of_weights(number, Unbalance::gram_millimetres(1.0), Angle::degrees(apart))?;
            Computed::Ok((most.in_gram_millimetres() * 1e4).round() / 1e4)
        };
        assert_eq!((most(2, 30.0), most(3, 30.0), most(2, 180.0)), (Ok(1.9319), Ok(2.7321), Ok(0.0)));
    }

    #[test]
    fn weights_do_not_touch() {
        // 1.99 of two would have them 11.5 deg apart; they are 30 long and stand 15 to either side.
        assert_eq!(turned(&[90.0, 270.0], (1.99, 0.0), 30.0).unwrap(), [15.0, 345.0]);
        assert!(turned(&[0.0, 120.0, 240.0], (0.5, 0.0), 150.0).is_err());
        assert!(turned(&[0.0, 120.0, 240.0], (3.1, 0.0), 1.0).is_err());
    }
}
