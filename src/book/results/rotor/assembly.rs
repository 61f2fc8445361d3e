//! An assembly: its mass from its parts, what parts and fits take of its tolerance, and what is balanced first.

use super::results::PartResults;
use crate::book::derive::Val;
use crate::book::effective::EffectiveBlock;
use crate::book::files::ItemId;
use crate::book::formulas as by;
use crate::book::results::computing::Computing;
use crate::book::results::values::entry::{Recorder, Spot};
use crate::book::results::values::not_computed::WhyNot;
use crate::mechanics::fits;
use crate::mechanics::weighing::{self, Placed};
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
fn place_of<'b>(recorder: &Recorder<'b>, part: &PartResults<'b>) -> Val<Length> {
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

/// What fits and runouts put in, and what they and the parts' own tolerances leave for the assembly.
pub(in crate::book::results) fn results<'b>(
    recorder: &mut Recorder<'b>,
    rotor: &EffectiveBlock<'b>,
    id: ItemId,
    parts: &mut [PartResults<'b>],
    permissible: &Val<Unbalance>,
) -> Option<Val<Unbalance>> {
    if parts.is_empty() {
        let specs = [&result::LEFT_FOR_ASSEMBLY, &result::LEFT_AT_WORST, &result::ORDER_OF_BALANCING];
        recorder.not_asked(&Spot::heading(rotor, id), &specs, "the rotor is not made of parts");
        return None;
    }
    let mut taken = vec![permissible.clone()];
    for part in parts.iter_mut() {
        part.fit = fit(recorder, part, id);
        part.runout = runout(recorder, part, id);
        for _ in 0..part.quantity {
            taken.extend(part.fit.clone());
            let balanced = part.balanced == Some(PartBalanced::ByItself);
            taken.extend(part.rotor.as_ref().filter(|_| balanced).map(|rotor| rotor.permissible.clone()));
        }
    }
    order(recorder, rotor, id, parts);
    let spot = Spot::heading(rotor, id);
    let unit = recorder.facts.shop.unbalance_unit;
    let formula = &by::LEFT_BY_SUM;
    recorder.work_out(&spot, &result::LEFT_AT_WORST, unit, formula, &taken[..], |all: Vec<Unbalance>| {
        fits::left_for_assembly(all[0], &all[1..]).map(|left| left.in_worst_case)
    });
    let formula = &by::LEFT_BY_SQUARES;
    Some(recorder.work_out(&spot, &result::LEFT_FOR_ASSEMBLY, unit, formula, &taken[..], |all: Vec<Unbalance>| {
        fits::left_for_assembly(all[0], &all[1..]).map(|left| left.by_root_of_squares)
    }))
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
    let unit = Unit::GRAM_SQUARE_MILLIMETRE;
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
