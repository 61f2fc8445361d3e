//! What an order of work is as a mass, and what it leaves.

use super::work::{Share, angle_of, made_cut, mass_text, shares};
use crate::book::{MadeCut, Outcome, PlaneResults, WorkResults};
use crate::card::depths::depth_is;
use crate::card::values::bare;
use crate::card::words::Words;
use crate::units::{Amount, Angle, Mass, Typed, Unbalance, Vector};
use crate::vocabulary::{ResultSpec, result};

/// The cuts of an order as they are made, each with its angle; empty where it has none, or one without a depth.
pub(super) fn cuts(plane: &PlaneResults<'_>, work: &WorkResults<'_>) -> Vec<(MadeCut, Angle)> {
    let entry = |spec: &'static ResultSpec| work.made.iter().find(|entry| entry.is(spec));
    let cuts = match entry(&result::CORRECTION_PLACES).and_then(|entry| shares(plane, entry)) {
        Some(shares) => {
            let cut = |share: &Share<'_>| Some((share.cut?.0, Angle::radians(share.turn)));
            shares.iter().map(cut).collect()
        }
        None => {
            let cut = entry(&result::CORRECTION_DEPTH).and_then(|entry| made_cut(plane, entry));
            cut.zip(work.mass.get()).map(|((cut, _), mass)| vec![(cut, mass.angle())])
        }
    };
    cuts.unwrap_or_default()
}

/// What depths that are rounded leave, all cuts together.
fn left_by_depths(cuts: &[(MadeCut, Angle)]) -> Option<Unbalance> {
    let left = cuts.iter().filter_map(|(cut, angle)| Some(Vector::from_polar(cut.left?, *angle)));
    let left = left.sum::<Vector<Unbalance>>().amount();
    Some(left).filter(|left| *left > Unbalance::kilogram_metres(1e-12))
}

/// What the order leaves, where that is more than the plane may have.
pub(super) fn too_much_left(plane: &PlaneResults<'_>, work: &WorkResults<'_>) -> Option<Words> {
    let tolerance = plane.tolerance.get()?;
    work.made.iter().find_map(|entry| {
        let Outcome::Vector { base, unit, .. } = entry.outcome else { return None };
        let what = match entry.spec {
            spec if *spec == result::NOT_REACHED => "The plane takes no more: this leaves ",
            spec if *spec == result::LEFT_BY_ROUNDING => "Made to whole pieces or steps, this leaves ",
            _ => return None,
        };
        let limit = bare(tolerance.raw(), unit);
        (base > tolerance.base()).then(|| {
            let words = Words::strong(what).stress(bare(base, unit)).stress(", more than its limit of ").stress(limit);
            match *entry.spec == result::LEFT_BY_ROUNDING {
                true => words.say(". Trim a piece, or choose another place."),
                false => words.say(". Ask before the work."),
            }
        })
    })
}

/// What that is as a mass, and what it leaves.
pub(super) fn rest(plane: &PlaneResults<'_>, work: &WorkResults<'_>) -> Words {
    let Some(mass) = work.mass.get().filter(|_| work.weights_to.is_none()) else { return Words::default() };
    let cuts = cuts(plane, work);
    let chips = cuts.iter().map(|(cut, _)| cut.mass).sum::<Option<Mass>>().filter(|chips| *chips > Mass::ZERO);
    let words = match chips {
        Some(chips) => {
            let depth = depth_is(plane).map(|depth| Words::said(depth).say(". ")).unwrap_or_default();
            depth.say("The chips weigh ").state(mass_text(chips, work.mass.unit)).say(".")
        }
        None => Words::said("Total: ")
            .state(mass_text(mass.amount(), work.mass.unit))
            .say(" at ")
            .state(angle_of(work))
            .say(" and the correction radius."),
    };
    let words = match left_by_depths(&cuts) {
        Some(left) => words.say(" That depth leaves ").state(bare(left.raw(), work.unbalance.unit)).say("."),
        None => words,
    };
    let left = [&result::LEFT_BY_ROUNDING, &result::NOT_REACHED];
    work.made.iter().filter(|entry| left.contains(&entry.spec)).fold(words, |words, entry| match entry.outcome {
        Outcome::Vector { base, unit, .. } => {
            words.say(" ").state(entry.name().into_owned()).say(": ").state(bare(base, unit)).say(".")
        }
        _ => words,
    })
}
