//! One correction spread over several places, none taking more than it may.

use super::split::{neighbours, on_two_places};
use crate::mechanics::domain::{Computed, Input, Requirement, demand, positive};
use crate::units::{Amount, Angle, Vector};

/// What goes where, and what is left undone.
#[derive(Clone, PartialEq, Debug)]
pub struct Spread<T: Amount> {
    /// Place by its number in the list, and what it takes; in the order of the list, none of them nothing.
    pub shares: Vec<(usize, T)>,
    /// What the places together cannot make: what was wanted less what is there.
    pub left: Vector<T>,
}

/// Spreads a wanted vector over places: the two nearest take their shares; what exceeds the most that one place takes
/// goes to the next ones, until it is all placed or no two places lie to either side of it.
///
/// At least one place; `most` is above zero, or `None` where a place takes anything. Source: law of sines, step by step.
pub fn over_places<T: Amount>(wanted: Vector<T>, places: &[Angle], most: Option<T>) -> Computed<Spread<T>> {
    demand(!places.is_empty(), Input::Places, Requirement::BeGiven)?;
    demand(wanted.is_finite(), Input::Unbalance, Requirement::BeFinite)?;
    let most = most.map(|most| positive(most, Input::Unbalance)).transpose()?.map_or(f64::INFINITY, T::raw);
    let mut taken = vec![0.0_f64; places.len()];
    let mut left = wanted;
    let enough = 1e-9 * wanted.amount().raw();
    // Each round fills a place or ends.
    for _ in 0..=places.len() {
        let open: Vec<usize> = (0..places.len()).filter(|place| taken[*place] < most * (1.0 - 1e-12)).collect();
        if left.amount().raw() <= enough || open.is_empty() {
            break;
        }
        let shares = one_round(left, places, &open);
        if shares.iter().all(|(_, share)| *share <= enough) {
            break;
        }
        for (place, share) in shares {
            let share = share.min(most - taken[place]);
            taken[place] += share;
            left = left - Vector::from_polar(T::from_raw(share), places[place]);
        }
    }
    let shares = taken.into_iter().enumerate().filter(|(_, share)| *share > enough);
    Ok(Spread { shares: shares.map(|(place, share)| (place, T::from_raw(share))).collect(), left })
}

/// The shares of the two open places to either side; of the one open place, what it can do by itself.
fn one_round<T: Amount>(left: Vector<T>, places: &[Angle], open: &[usize]) -> Vec<(usize, f64)> {
    let angles: Vec<Angle> = open.iter().map(|place| places[*place]).collect();
    let pair = neighbours(left.angle(), &angles);
    if let Some([first, second]) = pair
        && let Ok([a, b]) = on_two_places(left, angles[first], angles[second])
    {
        return vec![(open[first], a.raw()), (open[second], b.raw())];
    }
    // No two to either side: the nearest one does what it can along its own direction.
    let along = |place: &usize| (places[*place] - left.angle()).cos();
    let nearest = open.iter().copied().max_by(|a, b| along(a).total_cmp(&along(b)));
    nearest.map(|place| (place, left.amount().raw() * along(&place).max(0.0))).into_iter().collect()
}

/// Shares in whole pieces: of rounding each up or down, the one that leaves least. Beyond six places each is rounded
/// to the nearest. No place takes more than `most`, where that is given.
///
/// `each` is above zero.
pub fn in_whole_pieces<T: Amount>(
    wanted: Vector<T>,
    places: &[Angle],
    shares: &[(usize, T)],
    each: T,
    most: Option<T>,
) -> Computed<Spread<T>> {
    let each = positive(each, Input::Mass)?.raw();
    let most = most.map_or(f64::INFINITY, |most| (most.raw() / each + 1e-9).floor());
    let fitted = |counts: &[f64]| -> Vector<T> {
        let vector =
            |((place, _), count): (&(usize, T), &f64)| Vector::from_polar(T::from_raw(each * count), places[*place]);
        shares.iter().zip(counts).map(vector).sum()
    };
    let floors: Vec<f64> = shares.iter().map(|(_, share)| (share.raw() / each + 1e-9).floor().min(most)).collect();
    let mut best: Vec<f64> = shares.iter().map(|(_, share)| (share.raw() / each).round().min(most)).collect();
    if shares.len() <= 6 {
        for choice in 0..1_u32 << shares.len() {
            let up = |n: usize| if choice >> n & 1 == 1 { 1.0 } else { 0.0 };
            let counts: Vec<f64> = floors.iter().enumerate().map(|(n, floor)| (floor + up(n)).min(most)).collect();
            let left = |counts: &[f64]| (wanted - fitted(counts)).amount().raw();
            if left(&counts) < left(&best) {
                best = counts;
            }
        }
    }
    let left = wanted - fitted(&best);
    let pieces = shares.iter().zip(&best).filter(|(_, count)| **count > 0.0);
    Ok(Spread { shares: pieces.map(|((place, _), count)| (*place, T::from_raw(each * count))).collect(), left })
}

#[cfg(test)]
mod tests {
    use super::super::places::{Capacity, Numbering, equally_spaced};
    use super::*;
    use crate::units::Unbalance;

    fn at(amount: f64, degrees: f64) -> Vector<Unbalance> {
        Vector::from_polar(Unbalance::gram_millimetres(amount), Angle::degrees(degrees))
    }

    #[test]
    fn what_one_place_cannot_take_goes_to_the_next() {
        let places = equally_spaced(8, Angle::ZERO, Numbering::WithAngles).unwrap();
        let most = Unbalance::gram_millimetres(10.0);
        let capacity = Capacity::new(most, &places).unwrap();
        for degrees in [0.0, 7.0, 22.5, 100.0, 333.0] {
            let reach = capacity.towards(Angle::degrees(degrees)).unwrap().in_gram_millimetres();
            for share in [0.3, 0.8, 0.97] {
                let spread = over_places(at(reach * share, degrees), &places, Some(most)).unwrap();
                assert!(spread.left.amount().in_gram_millimetres() < 0.02 * reach, "{degrees} {share}: {spread:?}");
                assert!(spread.shares.iter().all(|(_, share)| share.in_gram_millimetres() <= 10.0 + 1e-9));
            }
            let beyond = over_places(at(reach * 1.5, degrees), &places, Some(most)).unwrap();
            assert!(beyond.left.amount().in_gram_millimetres() > 0.4 * reach);
        }
    }

    #[test]
    fn places_on_one_side_do_what_they_can() {
        let places = [0.0, 40.0].map(Angle::degrees);
        let spread = over_places(at(10.0, 100.0), &places, None).unwrap();
        // 10 g·mm at 100° has 10·cos 60° along 40°.
        assert_eq!(spread.shares.len(), 1);
        assert!((spread.shares[0].1.in_gram_millimetres() - 5.0).abs() < 1e-9);
    }

    #[test]
    fn pieces_are_rounded_together() {
        let places = equally_spaced(8, Angle::ZERO, Numbering::WithAngles).unwrap();
        let wanted = at(12.0, 100.0);
        let spread = over_places(wanted, &places, None).unwrap();
        let pieces = in_whole_pieces(wanted, &places, &spread.shares, Unbalance::gram_millimetres(1.0), None).unwrap();
        let counts: Vec<f64> = pieces.shares.iter().map(|(_, share)| share.in_gram_millimetres()).collect();
        // 9.734 and 2.947, worked example `split-8-blades`: the nearest whole numbers leave least here.
        assert_eq!(counts, [10.0, 3.0]);
        assert!(pieces.left.amount().in_gram_millimetres() < 0.32);
    }
}
