//! What an order of work is as a mass, and what it leaves.

use super::work::{Share, angle_of, is_full, made_cut, mass_text, shares};
use crate::book::{CarriedCut, CorrectionResults, MadeCut, Outcome, PlaneResults, RecordResults, WorkResults};
use crate::card::depths::depth_is;
use crate::card::values::bare;
use crate::card::words::Words;
use crate::units::{Amount, Angle, Mass, Typed, Unbalance, Unit, Vector};
use crate::vocabulary::{ResultSpec, plane, result};

/// A cut of an order.
pub(super) struct OrderedCut {
    pub cut: MadeCut,
    /// Where the order says that it is: a whole degree, or a place.
    said_at: Angle,
}

/// The cuts of an order as they are made; empty where it has none, or one without a depth.
pub(super) fn cuts(plane: &PlaneResults<'_>, work: &WorkResults<'_>) -> Vec<OrderedCut> {
    let entry = |spec: &'static ResultSpec| work.made.iter().find(|entry| entry.is(spec));
    let cuts = match entry(&result::CORRECTION_PLACES).and_then(|entry| shares(plane, entry)) {
        Some(shares) => {
            let cut = |share: &Share<'_>| Some(OrderedCut { cut: share.cut?.0, said_at: share.said_at() });
            shares.iter().map(cut).collect()
        }
        None => {
            let cut = entry(&result::CORRECTION_DEPTH).and_then(|entry| made_cut(plane, entry));
            let ordered =
                |((cut, _), mass): (_, Vector<Mass>)| vec![OrderedCut { cut, said_at: mass.angle().to_whole_degree() }];
            cut.zip(work.mass.get()).map(ordered)
        }
    };
    cuts.unwrap_or_default()
}

/// What all cuts together leave of what is called for, with the depths and angles that are said.
fn left_by(cuts: &[OrderedCut], work: &WorkResults<'_>) -> Option<Unbalance> {
    let taken: Option<Vec<Vector<Unbalance>>> =
        cuts.iter().map(|one| Some(Vector::from_polar(one.cut.taken?, one.said_at))).collect();
    let taken = taken.filter(|taken| !taken.is_empty())?;
    let left = (work.unbalance.get()? - taken.into_iter().sum::<Vector<Unbalance>>()).amount();
    Some(left).filter(|left| *left > Unbalance::kilogram_metres(1e-12))
}

/// Whether masses go where they are wanted, and each place takes so much.
fn is_ring(plane: &PlaneResults<'_>, work: &WorkResults<'_>) -> bool {
    work.adds && plane.places.is_none() && plane.block.field(plane::MOST_PER_PLACE).is_some()
}

/// How far masses of an order keep from each other, where several share it on a plane without places.
fn apart(plane: &PlaneResults<'_>, work: &WorkResults<'_>) -> Option<Words> {
    let places = work.made.iter().find(|entry| entry.is(&result::CORRECTION_PLACES))?;
    let several = shares(plane, places).is_some_and(|shares| shares.iter().filter(|share| share.is_done()).count() > 1);
    let (room, is_stated) = plane.room_of_a_mass();
    (several && is_ring(plane, work)).then(|| {
        let words = Words::said(" Masses keep ").state(bare(room.raw(), Unit::DEGREE)).say(" apart");
        words.say(if is_stated { ", the length of one." } else { ": the plane does not state `weight length`." })
    })
}

/// What the order leaves, where that is more than the plane may have.
pub(super) fn too_much_left(plane: &PlaneResults<'_>, work: &WorkResults<'_>) -> Option<Words> {
    let tolerance = plane.tolerance.get()?;
    work.made.iter().find_map(|entry| {
        let Outcome::Vector { base, unit, .. } = entry.outcome else { return None };
        let what = match entry.spec {
            spec if *spec == result::NOT_REACHED && is_ring(plane, work) => "One place takes no more: this leaves ",
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
    let Some(mass) = work.mass.get().filter(|_| work.weights_to.is_none() && !is_full(work)) else {
        return Words::default();
    };
    let cuts = cuts(plane, work);
    let chips = cuts.iter().map(|one| one.cut.mass).sum::<Option<Mass>>().filter(|chips| *chips > Mass::ZERO);
    let words = match chips {
        Some(chips) => {
            let depth = depth_is(plane).map(|depth| Words::said(depth).say(". ")).unwrap_or_default();
            depth.say("The chips weigh ").state(mass_text(chips, work.mass.unit)).say(".")
        }
        // Where the plane does not take all of it, it is not what the order comes to.
        None => Words::said("Called for: ")
            .state(mass_text(mass.amount(), work.mass.unit))
            .say(" at ")
            .state(angle_of(work))
            .say(" and the correction radius."),
    };
    let words = match apart(plane, work) {
        Some(apart) => words.with(&apart),
        None => words,
    };
    // All that is left is one number: it has in it what the plane does not take.
    if let Some(left) = left_by(&cuts, work) {
        return words.say(" Done as ordered, this leaves ").state(bare(left.raw(), work.unbalance.unit)).say(".");
    }
    let left = [&result::LEFT_BY_ROUNDING, &result::NOT_REACHED];
    work.made.iter().filter(|entry| left.contains(&entry.spec)).fold(words, |words, entry| match entry.outcome {
        Outcome::Vector { base, unit, .. } => {
            words.say(" ").state(sentence(&entry.name())).say(": ").state(bare(base, unit)).say(".")
        }
        _ => words,
    })
}

/// A name as a sentence begins with it: `Left by rounding hub`
fn sentence(name: &str) -> String {
    let (first, rest) = name.split_at(name.chars().next().map_or(0, char::len_utf8));
    first.to_uppercase() + rest
}

/// How far a mass that was put on after the last run sits from the places of its plane, where it is at none of them:
/// `The mass at 5.5 deg is at no place: place 1, at 0 deg, is 5.5 deg off`.
pub fn off_the_places(record: &RecordResults<'_>, plane: &str) -> Option<String> {
    let last_run = record.runs.len().checked_sub(1);
    let one = record.corrections.iter().rfind(|one| one.plane == plane && one.written_after == last_run)?;
    let own = record.setup.as_deref()?.rotor.as_deref()?.plane(plane).filter(|plane| plane.has_numbers())?;
    let mass = one.then.masses.get(one.carried.masses.len()).filter(|mass| mass.place.is_none())?;
    let off = |angle: &Angle| {
        let off = (*angle - mass.angle).within_one_turn();
        off.min(Angle::degrees(360.0) - off)
    };
    let places = own.places.as_ref()?.angles.iter().enumerate();
    let (nearest, angle) = places.min_by(|a, b| off(a.1).base().total_cmp(&off(b.1).base()))?;
    let degrees = |angle: Angle| bare(angle.within_one_turn().raw(), Unit::DEGREE);
    Some(format!(
        "The mass at {} is at no place: place {}, at {}, is {} off",
        degrees(mass.angle),
        nearest + 1,
        degrees(*angle),
        degrees(off(angle))
    ))
}

/// What the corrections after a record's last run leave in a plane, by calculation, and whether that is more than it may
/// have, or not known because holes run into each other; `None` where it is not computed.
pub fn left_by_corrections(record: &RecordResults<'_>, plane: &str) -> Option<(String, bool)> {
    let last_run = record.runs.len().checked_sub(1);
    let last = record.corrections.iter().rfind(|one| one.plane == plane && one.written_after == last_run)?;
    let left = last.left.as_ref()?;
    let amount = left.get()?.amount();
    let own = record.setup.as_deref()?.rotor.as_deref()?.plane(plane)?;
    let of_plane = record.corrections.iter().filter(|one| one.plane == plane && one.written_after == last_run);
    let meet = |one: &CorrectionResults<'_>| {
        let cuts = one.then.cuts.iter().filter(|cut| !one.carried.cuts.iter().any(|other| other.angle == cut.angle));
        let known_to = |_: &CarriedCut| Angle::degrees(1.0);
        cuts.filter_map(|cut| own.too_near(&one.carried, (cut.angle, cut.depth?), known_to)).any(|near| near.meet)
    };
    if of_plane.into_iter().any(meet) {
        let words = format!(
            "What this leaves in plane {plane} is not known: holes of it run into each other and take off less than each alone. \
             Weigh the chips"
        );
        return Some((words, true));
    }
    let limit = own.tolerance.get()?;
    let words = format!(
        "By calculation, this leaves {} in plane {plane}; its limit is {}",
        bare(amount.raw(), left.unit),
        bare(limit.raw(), left.unit)
    );
    Some((words, amount > limit))
}
