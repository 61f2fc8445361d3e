//! What a correction states: masses at an angle or at places, or the depth of a cut, and what they do.

use super::run::Runner;
use crate::book::derive::Val;
use crate::book::effective::{EffectiveBlock, EffectiveField};
use crate::book::formulas as by;
use crate::book::origin::{Origin, Reason};
use crate::book::results::plane::PlaneResults;
use crate::book::results::plane::called_for::{at_cut, meaning_of};
use crate::book::results::plane::carried::Carried;
use crate::book::results::plane::cutting::radius_of_mass;
use crate::book::results::plane::places::Places;
use crate::book::results::values::entry::{Recorder, Spot, origin};
use crate::book::vectors::{Gathered, VectorVal, components};
use crate::mechanics::correction::Piece;
use crate::sheet::{FieldValue, NameAt};
use crate::units::{Angle, Length, Mass, Typed, Unbalance, Unit, Vector};
use crate::vocabulary::plane::CorrectBy;
use crate::vocabulary::{AnyFact, correction, result};

/// A mass that a correction states for a numbered place.
pub struct StatedPlace<'b> {
    pub name: &'b str,
    /// Put on there, or taken off.
    pub adds: bool,
    pub field: EffectiveField<'b>,
    pub mass: Val<Mass>,
    /// What was on there before.
    pub before: Mass,
    /// In a barred range.
    pub barred: bool,
    /// Said to be taken by the plane's `places used`.
    pub used: bool,
}

/// One mass of a correction.
pub(in crate::book::results) struct Part {
    /// `None` where a depth means it.
    pub mass: Option<Mass>,
    pub unbalance: Val<Unbalance>,
    pub angle: Val<Angle>,
    /// By number, from 0, where it is said to be at a numbered place.
    pub place: Option<usize>,
    pub depth: Option<Length>,
    /// Put on or taken off; `None` where the whole block says it.
    pub adds: Option<bool>,
}

/// What a correction states for places, in the order of its lines: whether it is put on, and the name of the place.
fn at_places<'a, 'b>(
    block: &'a EffectiveBlock<'b>,
) -> impl Iterator<Item = (bool, &'b NameAt, EffectiveField<'b>)> + use<'a, 'b> {
    block.fields.iter().filter_map(|field| {
        let adds = field.field.key.is(correction::ADD_PLACE);
        let name = field.field.name.as_ref().filter(|_| adds || field.field.key.is(correction::REMOVE_PLACE))?;
        Some((adds, name, *field))
    })
}

/// Where what a cut takes more than before has its centre of mass.
fn radius_between(whole: Piece, before: Piece) -> Length {
    let more = whole.mass - before.mass;
    mean_radius(whole.unbalance - before.unbalance, more).unwrap_or(whole.radius)
}

fn mean_radius(unbalance: Unbalance, mass: Mass) -> Option<Length> {
    (mass > Mass::ZERO).then(|| Typed::from_base(Typed::base(unbalance / mass)))
}

/// The facts of a correction, read.
#[derive(Clone, Copy)]
pub(in crate::book::results) struct Stated<'a, 'b> {
    pub runner: &'a Runner<'a, 'b>,
    pub block: &'a EffectiveBlock<'b>,
}

/// Where what was done is said, first ones first.
pub(in crate::book::results) const SAID_BY: [AnyFact; 5] = [
    correction::REMOVE.any(),
    correction::ADD.any(),
    correction::ADD_PLACE.any(),
    correction::REMOVE_PLACE.any(),
    correction::DEPTH.any(),
];

impl<'b> Stated<'_, 'b> {
    /// Beside the first of these facts that is there, else beside the heading.
    pub fn spot(&self, keys: &[AnyFact]) -> Spot {
        let field = keys.iter().find_map(|key| self.block.field(*key));
        Spot::beside(self.block, self.runner.id, field)
    }

    /// Whether mass is put on, be it only a part of what is done.
    pub fn adds(&self, plane: Option<&PlaneResults<'b>>) -> Option<bool> {
        if self.block.field(correction::ADD).is_some() {
            return Some(true);
        }
        if self.block.field(correction::REMOVE).is_some() {
            return Some(false);
        }
        let mut places = at_places(self.block).map(|(adds, ..)| adds).peekable();
        if places.peek().is_some() {
            return Some(places.any(|adds| adds));
        }
        match plane?.correct() {
            Some(CorrectBy::Add) => Some(true),
            Some(CorrectBy::Remove) => Some(false),
            Some(CorrectBy::Either) | None => None,
        }
    }

    /// As stated; else of the hole, flat or arc of the stated depth; else the plane's.
    pub fn radius(&self, recorder: &Recorder<'b>, plane: &PlaneResults<'b>, carried: &Carried) -> Val<Length> {
        let stated: Val<Length> = recorder.facts.radius(self.block, correction::RADIUS, correction::DIAMETER);
        stated.or(|| at_cut(plane, self.of_cut(recorder, plane, carried)))
    }

    /// Where what is cut has its centre of mass, by the stated depth, else by the mass; `None` where nothing is cut.
    fn of_cut(&self, recorder: &Recorder<'b>, plane: &PlaneResults<'b>, carried: &Carried) -> Option<Length> {
        let (facts, method) = (&recorder.facts, plane.method?);
        let depth: Val<Length> = facts.quantity(self.block, correction::DEPTH);
        let angle: Val<Angle> = facts.quantity(self.block, correction::ANGLE);
        if let Some(depth) = depth.get() {
            let whole = plane.geometry.piece(method, depth)?;
            let before = angle.get().and_then(|angle| carried.made_deeper_by(angle, depth));
            let before = before.and_then(|cut| plane.geometry.piece(method, cut.depth?));
            // Of a cut that was made deeper, the centre of what was taken then.
            return Some(before.map_or(whole.radius, |before| radius_between(whole, before)));
        }
        let mass: Val<Mass> = facts.quantity(self.block, correction::REMOVE);
        radius_of_mass(facts, plane, carried, (mass.get()?, angle.get()))
    }

    /// What the stated masses, places or depth do, put on.
    pub fn done(
        &self,
        recorder: &Recorder<'b>,
        plane: &PlaneResults<'b>,
        adds: Option<bool>,
        carried: &Carried,
    ) -> Option<VectorVal<Unbalance>> {
        let spot = self.spot(&SAID_BY);
        let unit = recorder.facts.shop.unbalance_unit;
        let parts = self.parts(recorder, (&spot, plane), carried)?;
        let Some(adds) = adds else {
            let missing = meaning_of(plane).err();
            let why = Reason::Impossible("it says neither `add` nor `remove`, and the plane may do either".into());
            let lacking = VectorVal::missing(origin(&spot, &result::CORRECTION_DONE), why, unit);
            return Some(match missing {
                Some(missing) => VectorVal { known: Err(missing), ..lacking },
                None => lacking,
            });
        };
        let mut gathered = Gathered::new();
        let at: Vec<(usize, usize, f64)> = parts
            .iter()
            .map(|part| {
                let sign = if part.adds.unwrap_or(adds) { 1.0 } else { -1.0 };
                (gathered.value(&part.unbalance), gathered.value(&part.angle), sign)
            })
            .collect();
        let outputs = gathered.work_out(recorder.explained(&by::DONE_BY_MASSES), |numbers| {
            let put_on = |(u, angle, sign): &(usize, usize, f64)| {
                Vector::<Unbalance>::from_polar(numbers.value(*u), numbers.value(*angle)) * *sign
            };
            Ok(components([at.iter().map(put_on).sum()]))
        });
        Some(outputs.vector(0, origin(&spot, &result::CORRECTION_DONE), unit))
    }

    /// Each stated mass; `None` when the block states none.
    pub fn parts(
        &self,
        recorder: &Recorder<'b>,
        (spot, plane): (&Spot, &PlaneResults<'b>),
        carried: &Carried,
    ) -> Option<Vec<Part>> {
        let (facts, block) = (&recorder.facts, self.block);
        let spec = &result::CORRECTION_DONE;
        let unit = facts.shop.unbalance_unit;
        let radius = self.radius(recorder, plane, carried);
        let times_radius = |mass: &Val<Mass>| -> Val<Unbalance> {
            recorder.on_the_way(spot, spec, unit, &by::MASS_TIMES_RADIUS, (mass, &radius), |(m, r): (Mass, Length)| {
                Ok(m * r)
            })
        };
        let at_places: Vec<_> = at_places(block).collect();
        if !at_places.is_empty() {
            let places = plane.places.as_ref();
            let part = |(adds, name, field): &(bool, &NameAt, EffectiveField<'b>)| {
                let fact = if *adds { correction::ADD_PLACE } else { correction::REMOVE_PLACE };
                let origin =
                    Origin { name: format!("{fact} {}", name.text).into(), ..facts.origin(block, fact, Some(*field)) };
                let mass: Val<Mass> = match &field.field.value {
                    FieldValue::Quantity(stated) => facts.stated(block, *field, stated, origin.clone()),
                    _ => Val::missing(origin.clone(), Reason::Unreadable, Unit::GRAM),
                };
                let angle = places.filter(|places| places.numbered).and_then(|places| places.named(&name.text));
                let angle = match angle {
                    Some(angle) => Val::exact(angle, origin, Unit::DEGREE),
                    None => {
                        let why = format!("the plane does not say where its place {} is", name.text);
                        Val::missing(origin, Reason::Impossible(why.into()), Unit::DEGREE)
                    }
                };
                let (unbalance, mass, place) = (times_radius(&mass), mass.get(), Places::nth(&name.text));
                Part { mass, unbalance, angle, place, depth: None, adds: Some(*adds) }
            };
            return Some(at_places.iter().map(part).collect());
        }
        let angle: Val<Angle> = facts.quantity(block, correction::ANGLE);
        let mass: Val<Mass> = facts.quantity(block, correction::ADD);
        let mass = mass.or(|| facts.quantity(block, correction::REMOVE));
        if !mass.is_left_out() {
            let (unbalance, mass) = (times_radius(&mass), mass.get());
            let depth = facts.quantity(block, correction::DEPTH).get();
            return (!angle.is_left_out())
                .then(|| vec![Part { mass, unbalance, angle, place: None, depth, adds: None }]);
        }
        let depth: Val<Length> = facts.quantity(block, correction::DEPTH);
        if depth.is_left_out() || angle.is_left_out() {
            return None;
        }
        let whole = plane.geometry.taken_by(recorder, spot, spec, plane.method, &depth)?;
        let before = depth.get().zip(angle.get()).and_then(|(depth, angle)| carried.made_deeper_by(angle, depth));
        let before = before.and_then(|cut| cut.depth).and_then(|before| {
            let before = Val::exact(before, depth.origin.clone(), depth.unit);
            plane.geometry.taken_by(recorder, spot, spec, plane.method, &before)
        });
        let taken = match before {
            Some(before) => {
                let less = |(whole, before): (Unbalance, Unbalance)| Ok(whole - before);
                recorder.on_the_way(spot, spec, unit, &by::TAKEN_BY_GOING_DEEPER, (&whole, &before), less)
            }
            None => whole,
        };
        let depth = depth.get();
        Some(vec![Part { mass: None, unbalance: taken, angle, place: None, depth, adds: None }])
    }

    pub fn places(&self, recorder: &Recorder<'b>, plane: &PlaneResults<'b>, carried: &Carried) -> Vec<StatedPlace<'b>> {
        let facts = &recorder.facts;
        let places = plane.places.as_ref();
        let stated = |(adds, name, field): (bool, &'b NameAt, EffectiveField<'b>)| {
            let fact = if adds { correction::ADD_PLACE } else { correction::REMOVE_PLACE };
            let origin = facts.origin(self.block, fact, Some(field));
            let mass = match &field.field.value {
                FieldValue::Quantity(stated) => facts.stated(self.block, field, stated, origin),
                _ => Val::missing(origin, Reason::Unreadable, Unit::GRAM),
            };
            let number = Places::nth(&name.text);
            let among = |numbers: &dyn Fn(&Places) -> bool| places.is_some_and(numbers);
            StatedPlace {
                name: &name.text,
                adds,
                field,
                mass,
                barred: among(&|all| all.numbered && number.is_some_and(|number| all.barred.contains(&number))),
                before: number.map_or(Mass::ZERO, |number| carried.at_place(number)),
                used: among(&|all| number.is_some_and(|number| all.used.contains(&number))),
            }
        };
        at_places(self.block).map(stated).collect()
    }
}
