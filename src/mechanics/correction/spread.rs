//! One correction spread over several places, none taking more than it may.

use super::zonotope::{Segment, cheapest};
use crate::mechanics::domain::{Computed, Input, Requirement, demand, finite, not_negative, positive};
use crate::units::{Amount, Angle, Vector};

/// One way to make a part of a vector: mass put on at a place, taken off there, or a hole.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Way<T: Amount> {
    /// The direction in which it acts.
    pub angle: Angle,
    /// The most that it makes; `None` without a limit.
    pub most: Option<T>,
    /// What a unit of it counts against a unit of others; above zero.
    pub cost: f64,
}

impl<T: Amount> Way<T> {
    /// One that counts whole.
    pub fn new(angle: Angle, most: Option<T>) -> Self {
        Self { angle, most, cost: 1.0 }
    }
}

/// What goes where, and what is left undone.
#[derive(Clone, PartialEq, Debug)]
pub struct Spread<T: Amount> {
    /// Way by its number in the list, and what it makes; in the order of the list, none of them nothing.
    pub shares: Vec<(usize, T)>,
    /// What the ways together cannot make: what was wanted less what is there.
    pub left: Vector<T>,
}

/// A way without a limit makes at most so many times what is wanted: two places must be half a turn apart but for a
/// ten-thousandth of it before each would need more.
const WITHOUT_LIMIT: f64 = 1e4;

/// Spreads a wanted vector over ways: all of it at the least cost, and where they cannot make all of it, what leaves
/// least. At most two of the shares are neither nothing nor the most.
///
/// The costs are above zero, no limit is below it. Source: linear programming and geometry of zonotopes.
pub fn over_ways<T: Amount>(wanted: Vector<T>, ways: &[Way<T>]) -> Computed<Spread<T>> {
    demand(wanted.is_finite(), Input::Unbalance, Requirement::BeFinite)?;
    let scale = wanted.amount().raw();
    if scale == 0.0 || ways.is_empty() {
        return Ok(Spread { shares: Vec::new(), left: wanted });
    }
    let segments = ways.iter().map(|way| segment(way, scale)).collect::<Computed<Vec<Segment>>>()?;
    let made = cheapest([wanted.x.raw() / scale, wanted.y.raw() / scale], &segments);
    let shares = made.into_iter().enumerate().filter(|(_, share)| *share > 1e-9);
    let shares: Vec<(usize, T)> = shares.map(|(way, share)| (way, T::from_raw(share * scale))).collect();
    rest(wanted, ways, shares)
}

/// What is left after these shares; near the largest numbers there are, none can be told.
fn rest<T: Amount>(wanted: Vector<T>, ways: &[Way<T>], shares: Vec<(usize, T)>) -> Computed<Spread<T>> {
    let left = wanted - together(ways, &shares);
    demand(left.is_finite(), Input::Unbalance, Requirement::BeFinite)?;
    Ok(Spread { left, shares })
}

fn segment<T: Amount>(way: &Way<T>, scale: f64) -> Computed<Segment> {
    let angle = finite(way.angle, Input::Direction)?;
    demand(way.cost > 0.0, Input::Share, Requirement::BePositive)?;
    let most = way.most.map(|most| not_negative(most, Input::Unbalance)).transpose()?;
    let most = most.map_or(WITHOUT_LIMIT, |most| (most.raw() / scale).min(WITHOUT_LIMIT));
    Ok(Segment { direction: [angle.cos(), angle.sin()], most, cost: way.cost })
}

/// What shares of ways make together.
pub fn together<T: Amount>(ways: &[Way<T>], shares: &[(usize, T)]) -> Vector<T> {
    shares.iter().map(|(way, share)| Vector::from_polar(*share, ways[*way].angle)).sum()
}

/// Shares in whole pieces: of rounding each up or down, the one that leaves least. Beyond six ways each is rounded
/// to the nearest. None makes more than its most.
///
/// `each` is above zero.
pub fn in_whole_pieces<T: Amount>(
    wanted: Vector<T>,
    ways: &[Way<T>],
    shares: &[(usize, T)],
    each: T,
) -> Computed<Spread<T>> {
    let each = positive(each, Input::Mass)?.raw();
    let most = |way: usize| ways[way].most.map_or(f64::INFINITY, |most| (most.raw() / each + 1e-9).floor());
    let pieces = |counts: &[f64]| -> Vec<(usize, T)> {
        shares.iter().zip(counts).map(|((way, _), count)| (*way, T::from_raw(each * count))).collect()
    };
    let left = |counts: &[f64]| (wanted - together(ways, &pieces(counts))).amount().raw();
    let rounded = |round: fn(f64) -> f64, up: f64| -> Vec<f64> {
        shares.iter().map(|(way, share)| round(share.raw() / each + up).min(most(*way))).collect()
    };
    let floors = rounded(f64::floor, 1e-9);
    let mut best = rounded(f64::round, 0.0);
    if shares.len() <= 6 {
        for choice in 0..1_u32 << shares.len() {
            let up = |n: usize| if choice >> n & 1 == 1 { 1.0 } else { 0.0 };
            let one = |(n, floor): (usize, &f64)| (floor + up(n)).min(most(shares[n].0));
            let counts: Vec<f64> = floors.iter().enumerate().map(one).collect();
            if left(&counts) < left(&best) {
                best = counts;
            }
        }
    }
    let shares: Vec<(usize, T)> = pieces(&best).into_iter().filter(|(_, share)| share.raw() > 0.0).collect();
    rest(wanted, ways, shares)
}

#[cfg(test)]
mod tests {
    use super::super::places::{Capacity, Numbering, equally_spaced};
    use super::*;
    use crate::units::Unbalance;

    fn at(amount: f64, degrees: f64) -> Vector<Unbalance> {
        Vector::from_polar(Unbalance::gram_millimetres(amount), Angle::degrees(degrees))
    }

    fn eight(most: Option<f64>) -> Vec<Way<Unbalance>> {
        let places = equally_spaced(8, Angle::ZERO, Numbering::WithAngles).unwrap();
        places.into_iter().map(|angle| Way::new(angle, most.map(Unbalance::gram_millimetres))).collect()
    }

    fn in_grams(spread: &Spread<Unbalance>) -> Vec<(usize, f64)> {
        spread.shares.iter().map(|(way, share)| (*way, share.in_gram_millimetres())).collect()
    }

    #[test]
    fn what_one_place_cannot_take_goes_to_the_next_and_all_that_can_be_made_is_made() {
        let ways = eight(Some(10.0));
        let places: Vec<Angle> = ways.iter().map(|way| way.angle).collect();
        let capacity = Capacity::new(Unbalance::gram_millimetres(10.0), &places).unwrap();
        for degrees in [0.0, 7.0, 22.5, 100.0, 333.0] {
            let reach = capacity.towards(Angle::degrees(degrees)).unwrap().in_gram_millimetres();
            for share in [0.3, 0.8, 0.97, 0.999_999] {
                let spread = over_ways(at(reach * share, degrees), &ways).unwrap();
                assert!(spread.left.amount().in_gram_millimetres() < 1e-6, "{degrees} {share}: {spread:?}");
                assert!(in_grams(&spread).iter().all(|(_, share)| *share <= 10.0 + 1e-6));
            }
            let beyond = over_ways(at(reach * 1.5, degrees), &ways).unwrap();
            let left = beyond.left.amount().in_gram_millimetres();
            // No nearer than the distance along the direction allows, and no farther than its end.
            assert!(left > 0.4 * reach && left <= 0.5 * reach + 1e-6, "{degrees}: {left} of {reach}");
        }
    }

    /// By the law of sines 12 at 100 degrees is 9.734 at 90 and 2.947 at 135: worked example `split-8-blades`.
    #[test]
    fn two_places_beside_the_direction_take_it_without_limits() {
        let spread = over_ways(at(12.0, 100.0), &eight(None)).unwrap();
        let [(2, first), (3, second)] = in_grams(&spread)[..] else { panic!("{spread:?}") };
        assert!((first - 9.734).abs() < 1e-3 && (second - 2.947).abs() < 1e-3);
        let pieces =
            in_whole_pieces(at(12.0, 100.0), &eight(None), &spread.shares, Unbalance::gram_millimetres(1.0)).unwrap();
        assert_eq!(in_grams(&pieces), [(2, 10.0), (3, 3.0)]);
        assert!(pieces.left.amount().in_gram_millimetres() < 0.32);
    }

    #[test]
    fn places_on_one_side_do_what_they_can() {
        let ways = [0.0, 40.0].map(|degrees| Way::new(Angle::degrees(degrees), None));
        // 10 g·mm at 100° has 10·cos 60° along 40°.
        let spread = over_ways(at(10.0, 100.0), &ways).unwrap();
        let [(1, share)] = in_grams(&spread)[..] else { panic!("{spread:?}") };
        assert!((share - 5.0).abs() < 1e-9);
        assert!(over_ways(at(10.0, 200.0), &ways).unwrap().shares.is_empty());
        // Two places in line, and one alone.
        let line = [0.0, 180.0].map(|degrees| Way::new(Angle::degrees(degrees), None));
        assert_eq!(in_grams(&over_ways(at(8.0, 180.0), &line).unwrap())[0].0, 1);
        assert!(over_ways(at(8.0, 180.0), &line[1..]).unwrap().left.amount().in_gram_millimetres() < 1e-9);
    }

    #[test]
    fn a_limit_of_several_places_leaves_the_nearest_that_can_be_made() {
        // 2160 at 170 with 1790 at most at 114 and at 246: the nearest point of the parallelogram has all of the first,
        // and 2160·cos 76 − 1790·cos 132 = 1720.3 of the second. By hand.
        let ways = [114.0, 246.0].map(|at| Way::new(Angle::degrees(at), Some(Unbalance::gram_millimetres(1790.0))));
        let spread = over_ways(at(2160.0, 170.0), &ways).unwrap();
        let [(0, first), (1, second)] = in_grams(&spread)[..] else { panic!("{spread:?}") };
        assert!((first - 1790.0).abs() < 1e-6 && (second - 1720.3).abs() < 0.1, "{second}");
    }
}
