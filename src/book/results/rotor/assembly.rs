//! An assembly: its mass from its parts, what parts and fits take of its tolerance, and what is balanced first.

use super::limits::{Acts, Limit, LimitAt, as_unbalance};
use super::results::PartResults;
use crate::book::derive::Val;
use crate::book::effective::EffectiveBlock;
use crate::book::files::ItemId;
use crate::book::formulas::{self as by, Formula};
use crate::book::results::computing::Computing;
use crate::book::results::values::entry::{Recorder, Spot, origin};
use crate::book::results::values::not_computed::WhyNot;
use crate::book::vectors::Gathered;
use crate::mechanics::weighing::{self, Placed};
use crate::mechanics::{Computed, fits};
use crate::syntax::Kind;
use crate::units::{Couple, Inertia, Length, Mass, Unbalance, Unit};
use crate::vocabulary::made_of::PartBalanced;
use crate::vocabulary::{Fact, made_of, result, rotor};

pub(in crate::book::results) fn parts<'b>(
    computing: &Computing<'b>,
    rotor: &EffectiveBlock<'b>,
    id: ItemId,
) -> Vec<PartResults<'b>> {
    let facts = computing.facts();
    rotor
        .inner(Kind::MadeOf)
        .map(|block| PartResults {
            name: block.name_text(),
            rotor: computing.rotor_named(block.name_text(), id),
            quantity: facts.number(block, made_of::QUANTITY).get().map_or(1, |count| count.value() as u32),
            balanced: block.choice(made_of::BALANCED),
            fit: None,
            runout: None,
            block: block.clone(),
        })
        .collect()
}

/// Mass and mass centre of the whole from its parts; the centre is missing when no part says where it sits. They are
/// recorded where they count: where nothing else states the mass. `None` for a rotor that is not made of parts.
pub(in crate::book::results) fn mass_and_centre<'b>(
    recorder: &mut Recorder<'b>,
    rotor: &EffectiveBlock<'b>,
    id: ItemId,
    parts: &[PartResults<'b>],
    they_count: bool,
) -> Option<(Val<Mass>, Val<Length>)> {
    let spot = Spot::heading(rotor, id);
    let masses: Vec<Val<Mass>> = parts.iter().map(|part| mass_of(recorder, part)).collect();
    let first = masses.first()?;
    let unit = if first.is_known() { first.unit } else { Unit::KILOGRAM };
    let counts: Vec<f64> = parts.iter().map(|part| f64::from(part.quantity)).collect();
    let sum = |masses: Vec<Mass>| Ok(masses.iter().zip(&counts).map(|(mass, count)| *mass * *count).sum::<Mass>());
    let mass = recorder.on_the_way(&spot, &result::MASS, unit, &by::MASS_OF_PARTS, &masses[..], sum);
    let centre = centre_of_parts(recorder, rotor, &spot, parts, (&masses, &counts));
    if they_count {
        recorder.keep(&spot, &result::MASS, &mass);
        if centre.is_known() && rotor.field(rotor::MASS_CENTRE).is_none() {
            recorder.keep(&spot, &result::MASS_CENTRE, &centre);
        }
    }
    Some((mass, centre))
}

fn centre_of_parts<'b>(
    recorder: &Recorder<'b>,
    rotor: &EffectiveBlock<'b>,
    spot: &Spot,
    parts: &[PartResults<'b>],
    (masses, counts): (&[Val<Mass>], &[f64]),
) -> Val<Length> {
    let places: Vec<Val<Length>> = parts.iter().map(|part| place_of(recorder, part)).collect();
    let fixed: Option<Vec<Mass>> = masses.iter().zip(counts).map(|(mass, count)| Some(mass.get()? * *count)).collect();
    let Some(fixed) = fixed.filter(|_| !places.iter().all(Val::is_left_out)) else {
        return recorder.facts.quantity(rotor, rotor::MASS_CENTRE);
    };
    let unit = places.iter().find(|place| place.is_known()).map_or(Unit::MILLIMETRE, |place| place.unit);
    recorder.on_the_way(spot, &result::MASS_CENTRE, unit, &by::CENTRE_OF_PARTS, &places[..], |places| {
        let placed: Vec<Placed> = fixed.iter().zip(places).map(|(mass, at)| Placed { mass: *mass, at }).collect();
        weighing::from_parts(&placed).map(|whole| whole.at)
    })
}

fn mass_of<'b>(recorder: &Recorder<'b>, part: &PartResults<'b>) -> Val<Mass> {
    match &part.rotor {
        Some(rotor) => rotor.mass.clone(),
        None => {
            let origin = recorder.facts.origin(&part.block, made_of::AT, None);
            Val::missing(origin, crate::book::origin::Reason::NoSuchItem, Unit::KILOGRAM)
        }
    }
}

/// Where the part's mass centre lies in the assembly: its datum's place plus its own mass centre.
pub(super) fn place_of<'b>(recorder: &Recorder<'b>, part: &PartResults<'b>) -> Val<Length> {
    let at: Val<Length> = recorder.facts.quantity(&part.block, made_of::AT);
    let Some(rotor) = &part.rotor else { return at };
    if rotor.mass_centre.is_left_out() {
        return at;
    }
    let spot = Spot::heading(&part.block, part.block.item);
    let unit = if at.is_known() { at.unit } else { Unit::MILLIMETRE };
    recorder.on_the_way(
        &spot,
        &result::MASS_CENTRE,
        unit,
        &by::CENTRE_OF_PARTS,
        (&at, &rotor.mass_centre),
        |(at, own)| Ok(at + own),
    )
}

/// What fits and runouts put in, and what they and the parts' own tolerances leave for the assembly, where they leave
/// least: at one of its bearings, by their levers; of the whole, where its bearings have no limit.
pub(in crate::book::results) fn results<'b>(
    recorder: &mut Recorder<'b>,
    rotor: &EffectiveBlock<'b>,
    id: ItemId,
    parts: &mut [PartResults<'b>],
    (permissible, limits): (&Val<Unbalance>, &[Limit]),
) -> Option<Val<Unbalance>> {
    let spot = Spot::heading(rotor, id);
    if parts.is_empty() {
        let specs = [&result::LEFT_FOR_ASSEMBLY, &result::LEFT_AT_WORST, &result::ORDER_OF_BALANCING];
        recorder.not_asked(&spot, &specs, "the rotor is not made of parts");
        return None;
    }
    for part in parts.iter_mut() {
        part.fit = fit(recorder, part, id);
        part.runout = runout(recorder, part, id);
    }
    order(recorder, rotor, id, parts);
    let taken = taken(recorder, parts);
    let at_bearings: Vec<&Limit> =
        limits.iter().filter(|limit| matches!(limit.acts, Acts::AtBearing(..)) && limit.amount.is_known()).collect();
    let left = |spec, formulas: [&'static Formula; 2], of: fn(&[Unbalance], Unbalance) -> Computed<Unbalance>| {
        let formula = formulas[usize::from(!at_bearings.is_empty())];
        let unit = recorder.facts.shop.unbalance_unit;
        let mut gathered = Gathered::new().steepest();
        let whole = gathered.value(permissible);
        let rows: Vec<LimitAt> = at_bearings.iter().map(|limit| limit.gather(&mut gathered, &[])).collect();
        let along = !rows.is_empty();
        let taken: Vec<(usize, Option<usize>, bool)> =
            taken.iter().map(|one| one.gather(&mut gathered, along)).collect();
        gathered.work_out_one((origin(&spot, spec), unit), recorder.explained(formula), |numbers| {
            let amount = |(at, ..): &(usize, Option<usize>, bool)| numbers.value::<Unbalance>(*at);
            if rows.is_empty() {
                let amounts: Vec<Unbalance> = taken.iter().filter(|(_, _, couple)| !couple).map(amount).collect();
                return of(&amounts, numbers.value(whole));
            }
            let mut least: Option<Unbalance> = None;
            for row in &rows {
                let acting = row.acting(numbers);
                let amounts: Computed<Vec<Unbalance>> = taken
                    .iter()
                    .map(|one| match one {
                        (at, _, true) => Ok(numbers.value::<Unbalance>(*at) * acting.of_couple()?.value()),
                        (_, Some(place), false) => {
                            Ok(amount(one) * acting.lever(numbers.value(*place), &[])?.value().abs())
                        }
                        (_, None, false) => Ok(amount(one)),
                    })
                    .collect();
                let left = of(&amounts?, row.limit(numbers))?;
                least = Some(least.map_or(left, |least| least.min(left)));
            }
            Ok(least.unwrap_or(Unbalance::ZERO))
        })
    };
    let worst = left(&result::LEFT_AT_WORST, [&by::LEFT_BY_SUM, &by::LEFT_BY_SUM_AT_BEARINGS], |taken, limit| {
        fits::left_for_assembly(limit, taken).map(|left| left.in_worst_case)
    });
    let squares =
        left(&result::LEFT_FOR_ASSEMBLY, [&by::LEFT_BY_SQUARES, &by::LEFT_BY_SQUARES_AT_BEARINGS], |taken, limit| {
            fits::left_for_assembly(limit, taken).map(|left| left.by_root_of_squares)
        });
    recorder.keep(&spot, &result::LEFT_AT_WORST, &worst);
    recorder.keep(&spot, &result::LEFT_FOR_ASSEMBLY, &squares);
    Some(Val { origin: origin(&spot, &result::LEFT_FOR_ASSEMBLY), ..squares })
}

/// What one part takes of the assembly's tolerance: an unbalance where the part's mass centre is, or a couple.
struct Taken {
    /// A couple as [`as_unbalance`] has it.
    amount: Val<Unbalance>,
    at: Val<Length>,
    is_couple: bool,
}

impl Taken {
    fn gather(&self, gathered: &mut Gathered, along: bool) -> (usize, Option<usize>, bool) {
        let amount = gathered.value(&self.amount);
        (amount, (along && !self.is_couple).then(|| gathered.value(&self.at)), self.is_couple)
    }
}

fn taken(recorder: &Recorder<'_>, parts: &[PartResults<'_>]) -> Vec<Taken> {
    let mut taken = Vec::new();
    for part in parts {
        let at = place_of(recorder, part);
        let mut push = |amount: Val<Unbalance>, is_couple| taken.push(Taken { amount, at: at.clone(), is_couple });
        for _ in 0..part.quantity {
            part.fit.clone().into_iter().for_each(|fit| push(fit, false));
            let balanced = part.balanced == Some(PartBalanced::ByItself);
            let own = part.rotor.as_ref().filter(|_| balanced).map(|rotor| rotor.permissible.clone());
            own.into_iter().for_each(|own| push(own, false));
            if let Some(couple) = &part.runout {
                push(as_unbalance(couple), true);
            }
        }
    }
    taken
}

fn fit<'b>(recorder: &mut Recorder<'b>, part: &PartResults<'b>, id: ItemId) -> Option<Val<Unbalance>> {
    let Some(field) = part.block.field(made_of::FIT_CLEARANCE) else {
        let why = WhyNot::LeftOut(made_of::FIT_CLEARANCE.any());
        recorder.not_asked(&Spot::heading(&part.block, id), &[&result::FIT_UNBALANCE], why);
        return None;
    };
    let clearance: Val<Length> = recorder.facts.quantity(&part.block, made_of::FIT_CLEARANCE);
    let mass = mass_of(recorder, part);
    let spot = Spot::beside(&part.block, id, Some(field));
    let unit = recorder.facts.shop.unbalance_unit;
    let inputs = (&mass, &clearance);
    Some(recorder.work_out(&spot, &result::FIT_UNBALANCE, unit, &by::FIT, inputs, |(mass, clearance)| {
        fits::unbalance_of_clearance(mass, clearance)
    }))
}

fn runout<'b>(recorder: &mut Recorder<'b>, part: &PartResults<'b>, id: ItemId) -> Option<Val<Couple>> {
    let Some(field) = part.block.field(made_of::FACE_RUNOUT) else {
        let why = WhyNot::LeftOut(made_of::FACE_RUNOUT.any());
        recorder.not_asked(&Spot::heading(&part.block, id), &[&result::RUNOUT_COUPLE], why);
        return None;
    };
    let spot = Spot::beside(&part.block, id, Some(field));
    let runout: Val<Length> = recorder.facts.quantity(&part.block, made_of::FACE_RUNOUT);
    let diameter: Val<Length> = recorder.facts.quantity(&part.block, made_of::AT_DIAMETER);
    let inertia = |fact: Fact<Inertia>| -> Val<Inertia> {
        match &part.rotor {
            Some(rotor) => recorder.facts.quantity(&rotor.block, fact),
            None => {
                let origin = recorder.facts.origin(&part.block, made_of::AT, None);
                Val::missing(origin, crate::book::origin::Reason::NoSuchItem, Unit::ONE)
            }
        }
    };
    let (polar, diametral) = (inertia(rotor::POLAR_INERTIA), inertia(rotor::DIAMETRAL_INERTIA));
    let unit = recorder.facts.shop.couple_unit();
    let inputs = (&polar, &diametral, &runout, &diameter);
    Some(recorder.work_out(
        &spot,
        &result::RUNOUT_COUPLE,
        unit,
        &by::FACE_RUNOUT,
        inputs,
        |(polar, diametral, runout, diameter)| fits::couple_of_face_runout(polar, diametral, runout, diameter),
    ))
}

/// Parts that come balanced by themselves first, in their order; what is balanced after fitting goes with the assembly.
fn order<'b>(recorder: &mut Recorder<'b>, rotor: &EffectiveBlock<'b>, id: ItemId, parts: &[PartResults<'b>]) {
    let first: Vec<&str> =
        parts.iter().filter(|part| part.balanced == Some(PartBalanced::ByItself)).map(|part| part.name).collect();
    let words = if first.is_empty() {
        "the assembly as a whole".to_owned()
    } else {
        format!("{}; then the assembly", first.join(", "))
    };
    recorder.words(&Spot::heading(rotor, id), &result::ORDER_OF_BALANCING, words);
}
