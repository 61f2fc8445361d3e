//! Extra masses: what each does out of centre, and what of it is taken out of a reading or put into what is judged.

use super::PlaneResults;
use super::carried::{Carried, CarriedMass};
use crate::book::derive::Val;
use crate::book::effective::EffectiveBlock;
use crate::book::formulas as by;
use crate::book::origin::Reason;
use crate::book::readers::Facts;
use crate::book::results::values::entry::Recorder;
use crate::book::vectors::{Gathered, VectorVal, components};
use crate::sheet::FieldValue;
use crate::syntax::Kind;
use crate::units::{Amount, Angle, Contributions, Dimension, Length, Mass, Unbalance, Unit, Vector};
use crate::vocabulary::extra_mass::On;
use crate::vocabulary::{balance_error, extra_mass};

/// One extra mass of a rotor or a setup.
#[derive(Clone, Debug)]
pub struct ExtraMass<'b> {
    pub name: &'b str,
    pub on: Option<On>,
    pub mass: Val<Mass>,
    pub radius: Val<Length>,
    pub angle: Val<Angle>,
    pub at: Val<Length>,
    /// The numbered place of a plane, from 0, where it is at one.
    pub place: Option<(&'b str, usize)>,
    /// `None` for a mass; for a stated error, where it acts.
    pub error: Option<ActsIn>,
}

/// Where a stated error acts.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum ActsIn {
    OnePlace,
    EachPlane,
}

/// The extra masses that are in blocks.
pub(in crate::book::results) fn of<'b>(
    recorder: &Recorder<'b>,
    blocks: &[&EffectiveBlock<'b>],
    planes: &[PlaneResults<'b>],
) -> Vec<ExtraMass<'b>> {
    let masses = blocks.iter().flat_map(|block| block.inner(Kind::ExtraMass)).map(|block| one(recorder, block, planes));
    let errors = blocks.iter().flat_map(|block| block.inner(Kind::BalanceError));
    masses.chain(errors.filter_map(|block| error(recorder, block, planes))).collect()
}

/// A stated error at an angle, which is taken out of readings; as a mass at a radius of one metre.
fn error<'b>(
    recorder: &Recorder<'b>,
    block: &EffectiveBlock<'b>,
    planes: &[PlaneResults<'b>],
) -> Option<ExtraMass<'b>> {
    let facts = &recorder.facts;
    let field = block.field(balance_error::AMOUNT)?;
    let FieldValue::Reading(reading) = &field.field.value else { return None };
    let angle = reading.angle.as_ref().filter(|_| reading.amount.dimension() == Dimension::UNBALANCE)?;
    let origin = facts.origin(block, balance_error::AMOUNT, Some(field));
    let amount: Val<Unbalance> = facts.stated(block, field, &reading.amount, origin.clone());
    let one = Length::metres(1.0);
    let mut of_mass = Contributions::none();
    of_mass.add(&amount.contributions, 1.0 / one.in_metres());
    let at = place_of_error(facts, block, planes);
    Some(ExtraMass {
        name: block.name_text(),
        on: Some(On::OnlyWhileBalancing),
        mass: Val {
            known: amount.known.clone().map(|amount| amount / one),
            contributions: of_mass,
            unit: Unit::GRAM,
            origin: origin.clone(),
            derivation: None,
        },
        radius: Val::exact(one, origin.clone(), Unit::MILLIMETRE),
        angle: facts.nth_stated(block, field, (1, angle), origin),
        error: Some(if at.is_left_out() { ActsIn::EachPlane } else { ActsIn::OnePlace }),
        at,
        place: None,
    })
}

/// Where a stated error acts: at a place along the rotor, or in a plane.
pub(in crate::book::results) fn place_of_error<'b>(
    facts: &Facts<'b>,
    block: &EffectiveBlock<'b>,
    planes: &[PlaneResults<'b>],
) -> Val<Length> {
    let at: Val<Length> = facts.quantity(block, balance_error::AT);
    let named = match block.field(balance_error::PLANE).map(|field| &field.field.value) {
        Some(FieldValue::Name(name)) => planes.iter().find(|plane| *plane.name == *name.text),
        _ => None,
    };
    named.map_or(at.clone(), |plane| at.or(|| plane.at.clone()))
}

fn one<'b>(recorder: &Recorder<'b>, block: &EffectiveBlock<'b>, planes: &[PlaneResults<'b>]) -> ExtraMass<'b> {
    let facts = &recorder.facts;
    let named = match block.field(extra_mass::PLANE).map(|field| &field.field.value) {
        Some(FieldValue::Name(name)) => Some(&*name.text),
        _ => None,
    };
    let plane = planes.iter().find(|plane| named == Some(plane.name));
    let number = facts.number(block, extra_mass::PLACE).get().map(|number| number.value() as usize);
    let place = plane.zip(number.and_then(|number| number.checked_sub(1)));
    let angle_of_place = || {
        let origin = facts.origin(block, extra_mass::PLACE, block.field(extra_mass::PLACE));
        let angle = place.and_then(|(plane, place)| plane.places.as_ref()?.angles.get(place).copied());
        match angle {
            Some(angle) => Val::exact(angle, origin, Unit::DEGREE),
            None => facts.quantity(block, extra_mass::ANGLE),
        }
    };
    let radius = facts.radius(block, extra_mass::RADIUS, extra_mass::DIAMETER);
    let at: Val<Length> = facts.quantity(block, extra_mass::AT);
    ExtraMass {
        name: block.name_text(),
        on: block.choice(extra_mass::ON),
        mass: facts.quantity(block, extra_mass::MASS),
        radius: plane.map_or(radius.clone(), |plane| radius.or(|| plane.radius.clone())),
        angle: facts.quantity(block, extra_mass::ANGLE).or(angle_of_place),
        at: plane.map_or(at.clone(), |plane| at.or(|| plane.at.clone())),
        place: place.map(|(plane, place)| (plane.name, place)),
        error: None,
    }
}

impl ExtraMass<'_> {
    /// What it counts by in a reading with it on: taken out, put in, or only its uncertainty.
    fn sign(&self) -> f64 {
        match self.on {
            Some(On::OnlyWhileBalancing) => -1.0,
            Some(On::OnlyInService) => 1.0,
            Some(On::AsInService | On::Always) | None => 0.0,
        }
    }

    /// Where it is, as far as that counts: what is as in service is at the same place then, however well that is known, and only
    /// its mass may differ.
    fn as_far_off<T: Amount>(&self, place: &Val<T>) -> Val<T> {
        match self.on {
            Some(On::AsInService) => Val { contributions: Contributions::none(), ..place.clone() },
            _ => place.clone(),
        }
    }

    /// Whether it changes what is read, or how well that is known.
    pub fn counts(&self) -> bool {
        !matches!(self.on, Some(On::Always))
    }
}

/// The unbalance of one of several planes as it counts: what was read, without what is on only while balancing and with
/// what is on only in service, each by its levers. `at` has the places of the planes, the one in question by number.
pub(in crate::book::results) fn counted(
    recorder: &Recorder<'_>,
    extra: &[&ExtraMass<'_>],
    (at, number): (&[Val<Length>], usize),
    read: &VectorVal<Unbalance>,
) -> VectorVal<Unbalance> {
    let extra: Vec<&&ExtraMass<'_>> = extra.iter().filter(|mass| mass.counts()).collect();
    if extra.is_empty() || !read.is_known() {
        return read.clone();
    }
    if let Some(mass) = extra.iter().find(|mass| mass.on.is_none()) {
        let why = Reason::Impossible(format!("extra mass \"{}\" does not say when it is on", mass.name).into());
        return VectorVal::missing(read.origin.clone(), why, read.unit);
    }
    let mut gathered = Gathered::new();
    let seen = gathered.vector(read);
    let places: Vec<usize> = at.iter().map(|at| gathered.silently(at)).collect();
    let masses: Vec<([usize; 3], Option<usize>)> = extra
        .iter()
        .map(|one| {
            let [radius, at] = [&one.radius, &one.at].map(|length| one.as_far_off(length));
            let what =
                [gathered.value(&one.mass), gathered.value(&radius), gathered.value(&one.as_far_off(&one.angle))];
            (what, (one.error != Some(ActsIn::EachPlane)).then(|| gathered.value(&at)))
        })
        .collect();
    let fixed: Option<Vec<Vector<Unbalance>>> = extra.iter().map(|one| vector_of(one)).collect();
    let outputs = gathered.work_out(recorder.explained(&by::WITH_EXTRA_MASSES), |numbers| {
        let places: Vec<Length> = places.iter().map(|at| numbers.value(*at)).collect();
        let mut sum: Vector<Unbalance> = numbers.vector(seen);
        for (n, ([mass, radius, angle], at)) in masses.iter().enumerate() {
            let unbalance: Unbalance = numbers.value::<Mass>(*mass) * numbers.value::<Length>(*radius);
            let vector = Vector::from_polar(unbalance, numbers.value(*angle));
            // One that is as in service counts by what it is not known to.
            let off = fixed.as_ref().map_or(Vector::zero(), |fixed| vector - fixed[n]);
            let counts = if extra[n].sign() == 0.0 { off } else { vector * extra[n].sign() };
            sum = sum + counts * at.map_or(1.0, |at| lever(&places, number, numbers.value(at)));
        }
        Ok(components([sum]))
    });
    outputs.vector(0, read.origin.clone(), read.unit)
}

/// What counts in the one plane that is read, and is at another place of the rotor: it acts there and not in the plane.
#[derive(Clone, Debug)]
pub struct Elsewhere {
    pub at: Val<Length>,
    /// As it is put in; of what is as in service, what it is not known to; nothing of what is taken out.
    pub unbalance: VectorVal<Unbalance>,
    /// Whether it is taken out of the reading, which may show it by another share than all of it.
    pub taken_out: bool,
}

impl Elsewhere {
    /// A share of it.
    pub fn share(&self, share: f64) -> Self {
        let mut contributions = [Contributions::none(), Contributions::none()];
        for (own, whole) in contributions.iter_mut().zip(&self.unbalance.contributions) {
            own.add(whole, share);
        }
        let known = self.unbalance.known.clone().map(|vector| vector * share);
        Self { unbalance: VectorVal { known, contributions, ..self.unbalance.clone() }, ..self.clone() }
    }
}

/// The masses that count in a reading with all planes at one place, and are elsewhere. Several planes have such a mass by
/// their levers already.
pub(in crate::book::results) fn elsewhere(
    recorder: &Recorder<'_>,
    extra: &[&ExtraMass<'_>],
    planes: &[Val<Length>],
) -> Vec<Elsewhere> {
    let places: Option<Vec<Length>> = planes.iter().map(|at| at.get()).collect();
    let Some([first, others @ ..]) = places.as_deref() else { return Vec::new() };
    if others.iter().any(|other| other != first) {
        return Vec::new();
    }
    let is_elsewhere = |mass: &&&ExtraMass<'_>| mass.at.get().is_some_and(|at| (at - *first).abs() > SAME_PLACE);
    let of = |mass: &&ExtraMass<'_>| {
        let mut gathered = Gathered::new();
        let radius = mass.as_far_off(&mass.radius);
        let what = [gathered.value(&mass.mass), gathered.value(&radius), gathered.value(&mass.as_far_off(&mass.angle))];
        let fixed = vector_of(mass);
        let outputs = gathered.work_out(None, |numbers| {
            let unbalance: Unbalance = numbers.value::<Mass>(what[0]) * numbers.value::<Length>(what[1]);
            let vector = Vector::from_polar(unbalance, numbers.value(what[2]));
            Ok(components([match mass.sign() {
                sign if sign > 0.0 => vector,
                // Of what is taken out the plane has all that is known.
                sign if sign < 0.0 => Vector::zero(),
                _ => vector - fixed.unwrap_or(vector),
            }]))
        });
        let unbalance = outputs.vector(0, mass.mass.origin.clone(), recorder.facts.shop.unbalance_unit);
        Elsewhere { at: mass.as_far_off(&mass.at), unbalance, taken_out: mass.sign() < 0.0 }
    };
    extra.iter().filter(|mass| mass.counts() && mass.on.is_some()).filter(is_elsewhere).map(of).collect()
}

/// Closer than this two places along a rotor are one.
const SAME_PLACE: Length = Length::millimetres(1e-6);

fn vector_of(mass: &ExtraMass<'_>) -> Option<Vector<Unbalance>> {
    Some(Vector::from_polar(mass.mass.get()? * mass.radius.get()?, mass.angle.get()?))
}

/// What one of several planes has of an unbalance at a place: all of it where it is alone, else by the two outermost.
fn lever(planes: &[Length], number: usize, at: Length) -> f64 {
    let outermost = |a: &Length, b: &Length| a.in_metres().total_cmp(&b.in_metres());
    let (Some(first), Some(last)) =
        (planes.iter().copied().min_by(outermost), planes.iter().copied().max_by(outermost))
    else {
        return 0.0;
    };
    if planes.len() < 2 || first == last {
        return 1.0 / planes.len() as f64;
    }
    let share = ((at - first) / (last - first)).value();
    match planes[number] {
        own if own == first => 1.0 - share,
        own if own == last => share,
        _ => 0.0,
    }
}

/// What a plane carries before anything was done to it.
pub(in crate::book::results) fn carried_to_begin_with(plane: &PlaneResults<'_>, extra: &[ExtraMass<'_>]) -> Carried {
    let mut carried = Carried::default();
    for one in extra.iter().filter(|one| one.on == Some(On::Always)) {
        let place = one.place.filter(|(name, _)| *name == plane.name).map(|(_, place)| place);
        let is_here = place.is_some() || one.at.get().zip(plane.at.get()).is_some_and(|(at, own)| at == own);
        let known = one.mass.get().zip(one.radius.get()).zip(one.angle.get());
        if let (true, Some(((mass, radius), angle))) = (is_here, known) {
            let place = place.or_else(|| Carried::place_at(plane.places.as_ref(), angle));
            carried.put_on(CarriedMass { place, angle, mass, radius });
        }
    }
    carried
}
