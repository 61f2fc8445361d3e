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

/// Ways beside those of the exact shares in which pieces are looked for.
const NEAREST_WAYS: usize = 6;

/// What a piece more must take off what is left, as a share of a piece. Source: common practice, no source.
const WORTH_A_PIECE: f64 = 0.02;

/// What may be left for the ways of the exact shares alone to do, as a share of a piece. Source: common practice, no source.
const LEFT_BY_THE_NEAREST: f64 = 1.0 / 3.0;

/// Shares in whole pieces: up to two pieces more or fewer than the exact shares, in the ways of those and, where these leave
/// more than a third of a piece, in the nearest others; what leaves least, and of what leaves about the same the fewest
/// pieces. Beyond six ways each is rounded to the nearest. None makes more than its most.
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
    let rounded: Vec<(usize, f64)> =
        shares.iter().map(|(way, share)| (*way, (share.raw() / each).round().min(most(*way)))).collect();
    let made = |counts: Vec<(usize, f64)>| {
        let pieces = counts.into_iter().filter(|(_, count)| *count > 0.0);
        rest(wanted, ways, pieces.map(|(way, count)| (way, T::from_raw(each * count))).collect())
    };
    if shares.len() > NEAREST_WAYS {
        return made(rounded);
    }
    let in_their_own = made(fewest(wanted, ways, shares, each, shares.len()))?;
    match in_their_own.left.amount().raw() <= each * LEFT_BY_THE_NEAREST {
        true => Ok(in_their_own),
        false => made(fewest(wanted, ways, shares, each, NEAREST_WAYS)),
    }
}

/// The pieces in each way that leave least, in so many ways: those of the shares first.
fn fewest<T: Amount>(
    wanted: Vector<T>,
    ways: &[Way<T>],
    shares: &[(usize, T)],
    each: f64,
    most_ways: usize,
) -> Vec<(usize, f64)> {
    let direction = wanted.angle();
    let mut tried: Vec<usize> = shares.iter().map(|(way, _)| *way).collect();
    let mut others: Vec<usize> = (0..ways.len()).filter(|way| !tried.contains(way)).collect();
    others.sort_by(|a, b| {
        let along = |way: &usize| (ways[*way].angle - direction).cos();
        along(b).total_cmp(&along(a))
    });
    tried.extend(others);
    tried.truncate(most_ways);
    let unit = |way: &usize| [ways[*way].angle.cos(), ways[*way].angle.sin()];
    let units: Vec<[f64; 2]> = tried.iter().map(unit).collect();
    // From two pieces fewer than the exact share to two more.
    let ranges: Vec<Vec<f64>> = tried
        .iter()
        .map(|way| {
            let share = shares.iter().find(|(own, _)| own == way).map_or(0.0, |(_, share)| share.raw() / each);
            let most = ways[*way].most.map_or(f64::INFINITY, |most| (most.raw() / each + 1e-9).floor());
            let lowest = ((share + 1e-9).floor() - 2.0).max(0.0);
            (0..=5).map(|n| lowest + f64::from(n)).filter(|count| *count <= (share + 2.5).min(most)).collect()
        })
        .collect();
    let mut best: Option<(f64, Vec<f64>)> = None;
    let mut counts: Vec<f64> = Vec::new();
    let wanted = [wanted.x.raw() / each, wanted.y.raw() / each];
    search(&ranges, &units, wanted, &mut counts, &mut best);
    tried.into_iter().zip(best.map_or_else(Vec::new, |(_, counts)| counts)).collect()
}

/// Goes through all counts of the ways that are left; `left` is what those before leave, in pieces.
fn search(
    ranges: &[Vec<f64>],
    units: &[[f64; 2]],
    left: [f64; 2],
    counts: &mut Vec<f64>,
    best: &mut Option<(f64, Vec<f64>)>,
) {
    let at = counts.len();
    let Some(range) = ranges.get(at) else {
        let score = left[0].hypot(left[1]) + WORTH_A_PIECE * counts.iter().sum::<f64>();
        if best.as_ref().is_none_or(|(least, _)| score < *least - 1e-12) {
            *best = Some((score, counts.clone()));
        }
        return;
    };
    for count in range {
        let [x, y] = units[at];
        counts.push(*count);
        search(ranges, units, [left[0] - count * x, left[1] - count * y], counts, best);
        counts.pop();
    }
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

    // By trying all of them: 269 g·mm at 70 degrees of pieces of 80 g·mm, at places every 36 degrees; 2, 1, 0, 2, 1 pieces at
    // 0 to 144 degrees leave 3.9, one and three in the two nearest 40.
    #[test]
    fn whole_pieces_in_other_places_leave_less() {
        let each = Unbalance::gram_millimetres(80.0);
        let places = equally_spaced(10, Angle::ZERO, Numbering::WithAngles).unwrap();
        let ways: Vec<Way<Unbalance>> = places.into_iter().map(|angle| Way::new(angle, None)).collect();
        // All counts of up to four pieces in the five nearest places.
        let by_trying_all = |wanted: Vector<Unbalance>| {
            let mut near: Vec<&Way<Unbalance>> = ways.iter().collect();
            near.sort_by(|a, b| (b.angle - wanted.angle()).cos().total_cmp(&(a.angle - wanted.angle()).cos()));
            let left = |n: u32| {
                let one =
                    |way: usize| Vector::from_polar(each * f64::from(n / 5_u32.pow(way as u32) % 5), near[way].angle);
                (wanted - (0..5).map(one).sum()).amount().in_gram_millimetres()
            };
            (0..5_u32.pow(5)).map(left).fold(f64::INFINITY, f64::min)
        };
        for degrees in 0..36 {
            let wanted = at(269.0, f64::from(degrees));
            let spread = over_ways(wanted, &ways).unwrap();
            let pieces = in_whole_pieces(wanted, &ways, &spread.shares, each).unwrap();
            let left = pieces.left.amount().in_gram_millimetres();
            // Each piece more is worth 1.6 g·mm, and a third of one may be left.
            assert!(
                left < (by_trying_all(wanted) + 8.0).max(80.0 / 3.0),
                "{degrees}: {left} and {}",
                by_trying_all(wanted)
            );
        }
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
