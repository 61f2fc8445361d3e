//! Every limit that is on a rotor's unbalance, each with how the planes act on it.

use super::base::{Base, Found, ToleranceRule};
use crate::book::derive::Val;
use crate::book::effective::EffectiveBlock;
use crate::book::files::ItemId;
use crate::book::formulas as by;
use crate::book::origin::Reason;
use crate::book::results::values::entry::{Recorder, Spot, origin};
use crate::book::vectors::{Gathered, Numbers};
use crate::mechanics::limits::{Acting, Row, at_arm};
use crate::mechanics::{Computed, allocation};
use crate::syntax::Kind;
use crate::units::{Contributions, Couple, Length, Typed, Unbalance};
use crate::vocabulary::{Bearing, Of, result, tolerance};

/// One limit that is stated or follows from a stated rule.
#[derive(Clone, Debug)]
pub struct Limit {
    /// The bearing, plane, sum or couple that it is set on.
    pub of: Of,
    /// A couple counts as the unbalance that makes it at the arm of [`at_arm`].
    pub amount: Val<Unbalance>,
    pub acts: Acts,
    pub standing: Standing,
}

/// Where the amount of a limit comes from.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Standing {
    Stated,
    ByRule,
    /// Half of the whole, for want of a mass centre.
    HalfByDefault,
}

/// What a limit is set on, with the places that it needs.
#[derive(Clone, Debug)]
pub enum Acts {
    AtBearing(usize, Box<[Val<Length>; 2]>),
    InPlane,
    Sum,
    About(Box<Val<Length>>),
}

/// A correction plane by its name, with its axial place.
pub(in crate::book::results) type PlaneAt<'v> = (&'v str, &'v Val<Length>);

/// A limit on its way into a formula.
pub(in crate::book::results) struct LimitAt {
    amount: usize,
    acts: ActsAt,
    /// Where the places of the planes are; without them where none matters.
    planes: Vec<Option<usize>>,
}

enum ActsAt {
    AtBearing(usize, [usize; 2]),
    /// The plane by its number; `None` where it is not among those that are asked of.
    InPlane(Option<usize>),
    Sum,
    About(usize),
}

impl Limit {
    /// Whether places of planes matter to it.
    fn is_along_the_rotor(&self) -> bool {
        matches!(self.acts, Acts::AtBearing(..) | Acts::About(_))
    }

    pub(in crate::book::results) fn gather(&self, gathered: &mut Gathered, planes: &[PlaneAt<'_>]) -> LimitAt {
        let amount = gathered.value(&self.amount);
        let acts = match &self.acts {
            Acts::AtBearing(n, bearings) => {
                ActsAt::AtBearing(*n, bearings.each_ref().map(|bearing| gathered.value(bearing)))
            }
            Acts::InPlane => {
                let own = self.of.plane();
                ActsAt::InPlane(planes.iter().position(|(name, _)| own == Some(*name)))
            }
            Acts::Sum => ActsAt::Sum,
            Acts::About(place) => ActsAt::About(gathered.value(place)),
        };
        let along = self.is_along_the_rotor();
        let planes = planes.iter().map(|(_, at)| along.then(|| gathered.value(*at))).collect();
        LimitAt { amount, acts, planes }
    }
}

impl LimitAt {
    pub fn acting(&self, numbers: &Numbers) -> Acting {
        match self.acts {
            ActsAt::AtBearing(n, bearings) => Acting::AtBearing(n, bearings.map(|at| numbers.value(at))),
            ActsAt::InPlane(n) => Acting::InPlane(n.unwrap_or(usize::MAX)),
            ActsAt::Sum => Acting::Sum,
            ActsAt::About(at) => Acting::About(numbers.value(at)),
        }
    }

    pub fn limit(&self, numbers: &Numbers) -> Unbalance {
        numbers.value(self.amount)
    }

    pub fn row(&self, numbers: &Numbers) -> Computed<Row> {
        let place = |at: &Option<usize>| at.map_or(Length::ZERO, |at| numbers.value(at));
        let planes: Vec<Length> = self.planes.iter().map(place).collect();
        Row::new(self.acting(numbers), &planes, numbers.value(self.amount))
    }
}

/// A couple as the unbalance that makes it at the arm of [`at_arm`].
pub(in crate::book::results) fn as_unbalance(couple: &Val<Couple>) -> Val<Unbalance> {
    let mut contributions = Contributions::none();
    contributions.add(&couple.contributions, at_arm(Couple::from_base(1.0)).base());
    Val {
        known: couple.known.clone().map(at_arm),
        contributions,
        origin: couple.origin.clone(),
        unit: couple.unit,
        derivation: couple.derivation.clone(),
    }
}

/// All limits of a rotor: bearings or the planes that replace them, then planes, static, couple.
pub(in crate::book::results) fn of<'b>(
    recorder: &Recorder<'b>,
    (rotor, id): (&EffectiveBlock<'b>, ItemId),
    base: &Base<'_>,
    found: &Found,
    sharing: &[PlaneAt<'_>],
) -> Vec<Limit> {
    let Some(block) = rotor.inner(Kind::Tolerance).next() else { return Vec::new() };
    let mut limits = at_bearings(recorder, (rotor, block), base, found);
    if base.bearings[0].is_left_out() {
        limits.extend(in_place_of_bearings(recorder, (rotor, block, id), base, found, sharing));
    }
    for (name, field) in block.named(tolerance::PLANE) {
        let origin = recorder.facts.origin(block, tolerance::PLANE, Some(field));
        let amount = recorder.facts.quantity_of(block, field, origin);
        limits.push(stated_limit(Of::Plane(name.text.as_ref().into()), amount, Acts::InPlane));
    }
    let of_sum: Val<Unbalance> = recorder.facts.quantity(block, tolerance::STATIC);
    if !of_sum.is_left_out() {
        limits.push(stated_limit(Of::Static, of_sum, Acts::Sum));
    }
    limits.extend(of_couple(recorder, block, base));
    limits
}

fn stated_limit(of: Of, amount: Val<Unbalance>, acts: Acts) -> Limit {
    Limit { of, amount, acts, standing: Standing::Stated }
}

fn at_bearings(
    recorder: &Recorder<'_>,
    (rotor, block): (&EffectiveBlock<'_>, &EffectiveBlock<'_>),
    base: &Base<'_>,
    found: &Found,
) -> Vec<Limit> {
    let has_bearings = !base.bearings[0].is_left_out();
    let facts = [tolerance::AT_BEARING_A, tolerance::AT_BEARING_B];
    let half = found.binding.as_ref().is_some_and(|(rule, _)| shares_by_mass_centre(*rule))
        && base.mass_centre.is_left_out()
        && !base.is_overhung(rotor);
    let stands =
        |n: &usize| has_bearings && found.binding.is_some() || !recorder.facts.quantity(block, facts[*n]).is_left_out();
    let standing = |n: usize| match found.bearing_is_stated[n] {
        true => Standing::Stated,
        false if half => Standing::HalfByDefault,
        false => Standing::ByRule,
    };
    let limit = |n: usize| Limit {
        of: Of::Bearing(Bearing::BOTH[n]),
        amount: found.at_bearings[n].clone(),
        acts: Acts::AtBearing(n, Box::new(base.bearings.clone())),
        standing: standing(n),
    };
    [0, 1].into_iter().filter(stands).map(limit).collect()
}

/// Whether a rule gives the whole, which the mass centre shares between the bearings.
fn shares_by_mass_centre(rule: ToleranceRule) -> bool {
    !matches!(rule, ToleranceRule::JournalLoad | ToleranceRule::WholeWeight)
}

/// Without bearings each plane that shares the tolerance replaces one.
fn in_place_of_bearings<'b>(
    recorder: &Recorder<'b>,
    (rotor, block, id): (&EffectiveBlock<'b>, &EffectiveBlock<'b>, ItemId),
    base: &Base<'_>,
    found: &Found,
    sharing: &[PlaneAt<'_>],
) -> Vec<Limit> {
    let Some((_, whole)) = &found.binding else { return Vec::new() };
    let unit = recorder.facts.shop.unbalance_unit;
    let spot = |name: &str| Spot::heading(block, id).of_plane(name);
    let limit =
        |name: &str, amount, standing| Limit { of: Of::Plane(name.into()), amount, acts: Acts::InPlane, standing };
    let spec = &result::PLANE_TOLERANCE;
    let work_out = |name: &str, inputs: (&Val<Unbalance>,)| {
        let formula = if sharing.len() == 1 { &by::WHOLE_IN_ONE_PLANE } else { &by::HALF_WITHOUT_BEARINGS };
        let part = 1.0 / sharing.len() as f64;
        recorder.on_the_way(&spot(name), spec, unit, formula, inputs, |(whole,)| Ok(whole * part))
    };
    let by_centre = sharing.len() == 2 && base.mass_centre.is_known();
    match sharing {
        [(first, z1), (second, z2)] if by_centre => {
            let inputs = (whole, base.mass_centre, *z1, *z2);
            let support = base.support(rotor);
            let share = |n: usize, name: &str| {
                let formula = [&by::SHARE_OF_FIRST_PLANE, &by::SHARE_OF_SECOND_PLANE][n];
                let share = |(whole, centre, z1, z2)| {
                    let shares = allocation::by_mass_centre(whole, z1, z2, centre, support)?;
                    Ok(if n == 0 { shares.at_a } else { shares.at_b })
                };
                limit(name, recorder.on_the_way(&spot(name), spec, unit, formula, inputs, share), Standing::ByRule)
            };
            vec![share(0, first), share(1, second)]
        }
        [_] | [_, _] => {
            let standing = if sharing.len() == 2 { Standing::HalfByDefault } else { Standing::ByRule };
            sharing.iter().map(|(name, _)| limit(name, work_out(name, (whole,)), standing)).collect()
        }
        _ => {
            let why = "more than two planes share the tolerance, and the places of the bearings are not given";
            let missing = |name: &str| Val::missing(origin(&spot(name), spec), Reason::Impossible(why.into()), unit);
            sharing.iter().map(|(name, _)| limit(name, missing(name), Standing::ByRule)).collect()
        }
    }
}

/// A stated couple, about the place that is stated with it, else about the mass centre.
fn of_couple(recorder: &Recorder<'_>, block: &EffectiveBlock<'_>, base: &Base<'_>) -> Option<Limit> {
    let couple: Val<Couple> = recorder.facts.quantity(block, tolerance::COUPLE);
    if couple.is_left_out() {
        return None;
    }
    let about: Val<Length> = recorder.facts.quantity(block, tolerance::COUPLE_ABOUT);
    let about = about.or(|| base.mass_centre.clone());
    // A stated limit is exact.
    let amount = Val { contributions: Default::default(), ..as_unbalance(&couple) };
    Some(stated_limit(Of::Couple, amount, Acts::About(Box::new(about))))
}
