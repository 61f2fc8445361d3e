//! One correction of a record: what its run calls for, by the plane's method, and what was done.

use super::run::{PlaneRun, RunResults, Runner};
use crate::book::derive::Val;
use crate::book::effective::{EffectiveBlock, EffectiveField};
use crate::book::formulas as by;
use crate::book::origin::{Origin, Reason};
use crate::book::results::plane::PlaneResults;
use crate::book::results::plane::allowed::{half_width, most_per_place};
use crate::book::results::plane::called_for::mass_for;
use crate::book::results::plane::making::{MADE_BY_METHOD, Making};
use crate::book::results::plane::places::Places;
use crate::book::results::values::entry::{Meaning, Recorder, Spot, origin};
use crate::book::results::values::not_computed::WhyNot;
use crate::book::vectors::{Gathered, VectorVal, components};
use crate::mechanics::effect::{Effect, apart, mirrored_about};
use crate::mechanics::force::centrifugal_force;
use crate::sheet::{FieldValue, NameAt};
use crate::units::{Angle, Force, Length, Mass, Unbalance, Unit, Vector};
use crate::vocabulary::plane::CorrectBy;
use crate::vocabulary::{self, AnyFact, ResultSpec, correction, result};

/// What the block leaves to be worked out where it does not state what was done.
const TO_WORK_OUT: [&ResultSpec; 9] = [
    &result::CORRECTION_REMOVE,
    &result::CORRECTION_ADD,
    &result::CORRECTION_ANGLE,
    MADE_BY_METHOD[0],
    MADE_BY_METHOD[1],
    MADE_BY_METHOD[2],
    MADE_BY_METHOD[3],
    MADE_BY_METHOD[4],
    MADE_BY_METHOD[5],
];

/// What is computed of one `correction` block.
pub struct CorrectionResults<'b> {
    pub plane: &'b str,
    pub block: EffectiveBlock<'b>,
    /// The run that called for it, by its number in the record.
    pub after: Option<usize>,
    /// Whether mass was put on rather than taken off; `None` when neither sheet nor plane says.
    pub adds: Option<bool>,
    /// What is to be corrected: the rotor's own unbalance in the run, with what earlier blocks for the same run did.
    pub called_for: Option<VectorVal<Unbalance>>,
    /// What the stated masses do, as an unbalance put on; `None` when the block states none.
    pub done: Option<VectorVal<Unbalance>>,
    /// What then remains, where it is in excess.
    pub left: Option<VectorVal<Unbalance>>,
    /// What the plane cannot take, where it is still in excess.
    pub not_reached: Option<VectorVal<Unbalance>>,
    pub holding_force: Option<Val<Force>>,
    /// How what was done stands to what was called for.
    pub fit: Option<Effect>,
    /// The run that stands before it in the record, by number.
    pub written_after: Option<usize>,
    /// The masses stated place by place.
    pub places: Vec<StatedPlace<'b>>,
    /// The most that one place of the plane takes, where it says so.
    pub most_per_place: Option<Mass>,
    /// From the middle of a cut to its edge.
    pub half_width: Angle,
}

/// A mass that a correction states for a numbered place.
pub struct StatedPlace<'b> {
    pub name: &'b str,
    /// Put on there, or taken off.
    pub adds: bool,
    pub field: EffectiveField<'b>,
    pub mass: Val<Mass>,
    /// In a barred range.
    pub barred: bool,
    /// Said to be taken by the plane's `places used`.
    pub used: bool,
}

/// One mass of a correction.
struct Part {
    unbalance: Val<Unbalance>,
    angle: Val<Angle>,
    /// Put on or taken off; `None` where the whole block says it.
    adds: Option<bool>,
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

/// A correction on its way to results.
pub(in crate::book::results) struct Correcting<'a, 'b> {
    pub runner: &'a Runner<'a, 'b>,
    pub block: &'a EffectiveBlock<'b>,
    pub runs: &'a [RunResults<'b>],
    pub earlier: &'a [CorrectionResults<'b>],
    /// The run before it, as the record is written.
    pub last_run: Option<usize>,
    /// Whether another block corrects the same plane after the same run.
    pub more_to_come: bool,
}

impl<'b> Correcting<'_, 'b> {
    pub fn work_out(&self, recorder: &mut Recorder<'b>) -> CorrectionResults<'b> {
        let block = self.block;
        let name = block.name_text();
        let plane = self.runner.plane(name);
        let after = self.after();
        let earlier: Vec<&CorrectionResults<'b>> =
            self.earlier.iter().filter(|other| other.plane == name && other.after == after).collect();
        let found = after.and_then(|run| self.runs[run].plane(name)).and_then(PlaneRun::own_vector);
        let called_for =
            found.map(|found| with_what_was_done(found, earlier.iter().filter_map(|one| one.done.as_ref())));
        let adds = self.adds(plane);
        let done = plane.and_then(|plane| self.done(recorder, plane, adds));
        let mut results = CorrectionResults {
            plane: name,
            block: block.clone(),
            after,
            adds,
            called_for,
            done,
            left: None,
            not_reached: None,
            holding_force: None,
            fit: None,
            written_after: self.last_run,
            places: Vec::new(),
            most_per_place: None,
            half_width: Angle::ZERO,
        };
        let Some(plane) = plane else {
            recorder.none_of(block, self.runner.id, "the rotor has no such plane");
            return results;
        };
        let heading = Spot::heading(block, self.runner.id);
        results.places = self.stated_places(recorder, plane);
        results.most_per_place =
            most_per_place(recorder, plane, &self.spot(&[correction::ADD_PLACE.any(), correction::REMOVE_PLACE.any()]));
        results.half_width = half_width(plane);
        match &results.done {
            Some(done) => {
                let spot = self.spot(&[
                    correction::REMOVE.any(),
                    correction::ADD.any(),
                    correction::ADD_PLACE.any(),
                    correction::REMOVE_PLACE.any(),
                    correction::DEPTH.any(),
                ]);
                recorder.keep_vector(&spot, &result::CORRECTION_DONE, done, Meaning::PutOn, &self.runner.sense);
                if let Some(called_for) = &results.called_for {
                    let left = with_what_was_done(called_for, [done]);
                    let left = left.under(origin(&spot, &result::CORRECTION_LEFT));
                    let spec = &result::CORRECTION_LEFT;
                    recorder.keep_vector(&spot, spec, &left, Meaning::HeavySpot, &self.runner.sense);
                    results.left = Some(left);
                } else {
                    recorder.not_asked(&spot, &[&result::CORRECTION_LEFT], self.why_nothing_is_called_for(after));
                }
                recorder.not_asked(&heading, &TO_WORK_OUT, "the block states what was done");
                results.fit = self.fit(recorder, found, &earlier, done);
            }
            None => {
                let specs = [&result::CORRECTION_DONE, &result::CORRECTION_LEFT, &result::CORRECTION_FIT];
                recorder.not_asked(&heading, &specs, "the block does not state what was done, and where");
                if results.called_for.is_none() {
                    recorder.not_asked(&heading, &TO_WORK_OUT, self.why_nothing_is_called_for(after));
                }
                if let Some(called_for) = &results.called_for {
                    self.masses(recorder, plane, adds, called_for);
                    let making =
                        Making { sense: &self.runner.sense, plane, adds, radius: &self.radius(recorder, plane) };
                    results.not_reached = making.work_out(
                        recorder,
                        &self.spot(&[correction::ANGLE.any(), correction::RADIUS.any()]),
                        called_for,
                    );
                }
            }
        }
        results.holding_force = self.holding_force(recorder, &results);
        results
    }

    fn why_nothing_is_called_for(&self, after: Option<usize>) -> WhyNot {
        let Some(run) = after else { return "there is no run that calls for it".into() };
        match self.runs[run].plane(self.block.name_text()) {
            Some(_) => "the run does not tell the unbalance of this plane with its angle".into(),
            None => "the run does not tell the unbalance of this plane".into(),
        }
    }

    fn spot(&self, keys: &[AnyFact]) -> Spot {
        let field = keys.iter().find_map(|key| self.block.field(*key));
        Spot::beside(self.block, self.runner.id, field)
    }

    /// The run it names, else the one before it.
    fn after(&self) -> Option<usize> {
        match self.block.field(correction::AFTER).map(|field| &field.field.value) {
            Some(FieldValue::Name(name)) => self.runs.iter().position(|run| run.name == &*name.text),
            Some(_) => None,
            None => self.last_run,
        }
    }

    /// Whether mass is put on, be it only a part of what is done.
    fn adds(&self, plane: Option<&PlaneResults<'b>>) -> Option<bool> {
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
    fn radius(&self, recorder: &Recorder<'b>, plane: &PlaneResults<'b>) -> Val<Length> {
        let stated: Val<Length> = recorder.facts.radius(self.block, correction::RADIUS, correction::DIAMETER);
        stated.or(|| plane.radius.clone())
    }

    /// What the stated masses, places or depth do, put on.
    fn done(
        &self,
        recorder: &Recorder<'b>,
        plane: &PlaneResults<'b>,
        adds: Option<bool>,
    ) -> Option<VectorVal<Unbalance>> {
        let spot = self.spot(&[
            correction::REMOVE.any(),
            correction::ADD.any(),
            correction::ADD_PLACE.any(),
            correction::REMOVE_PLACE.any(),
            correction::DEPTH.any(),
        ]);
        let unit = recorder.facts.shop.unbalance_unit;
        let parts = self.parts(recorder, &spot, plane)?;
        let Some(adds) = adds else {
            let missing = crate::book::results::plane::called_for::meaning_of(plane).err();
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
    fn parts(&self, recorder: &Recorder<'b>, spot: &Spot, plane: &PlaneResults<'b>) -> Option<Vec<Part>> {
        let (facts, block) = (&recorder.facts, self.block);
        let spec = &result::CORRECTION_DONE;
        let unit = facts.shop.unbalance_unit;
        let radius = self.radius(recorder, plane);
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
                Part { unbalance: times_radius(&mass), angle, adds: Some(*adds) }
            };
            return Some(at_places.iter().map(part).collect());
        }
        let angle: Val<Angle> = facts.quantity(block, correction::ANGLE);
        let mass: Val<Mass> = facts.quantity(block, correction::ADD);
        let mass = mass.or(|| facts.quantity(block, correction::REMOVE));
        if !mass.is_left_out() {
            return (!angle.is_left_out()).then(|| vec![Part { unbalance: times_radius(&mass), angle, adds: None }]);
        }
        let depth: Val<Length> = facts.quantity(block, correction::DEPTH);
        if depth.is_left_out() || angle.is_left_out() {
            return None;
        }
        let taken = plane.geometry.taken_by(recorder, spot, spec, plane.method, &depth)?;
        Some(vec![Part { unbalance: taken, angle, adds: None }])
    }

    fn stated_places(&self, recorder: &Recorder<'b>, plane: &PlaneResults<'b>) -> Vec<StatedPlace<'b>> {
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
                used: among(&|all| number.is_some_and(|number| all.used.contains(&number))),
            }
        };
        at_places(self.block).map(stated).collect()
    }

    /// The mass to take off or put on, and where: what the block leaves to be worked out.
    fn masses(
        &self,
        recorder: &mut Recorder<'b>,
        plane: &PlaneResults<'b>,
        adds: Option<bool>,
        called_for: &VectorVal<Unbalance>,
    ) {
        let meaning = match adds {
            Some(true) => Meaning::ToAdd,
            Some(false) => Meaning::ToRemove,
            None => Meaning::ToAddOrRemoveOpposite,
        };
        let radius = self.radius(recorder, plane);
        let (spec, other, why) = match adds {
            Some(false) => (&result::CORRECTION_REMOVE, &result::CORRECTION_ADD, "mass is taken off"),
            Some(true) | None => (&result::CORRECTION_ADD, &result::CORRECTION_REMOVE, "mass is put on"),
        };
        let heading = Spot::heading(self.block, self.runner.id);
        recorder.not_asked(&heading, &[other], why);
        if self.block.field(correction::ADD).is_some() {
            recorder.not_asked(&heading, &[spec], WhyNot::Given(correction::ADD.any()));
        } else if self.block.field(correction::REMOVE).is_some() {
            recorder.not_asked(&heading, &[spec], WhyNot::Given(correction::REMOVE.any()));
        } else {
            let spot = self.spot(&[correction::RADIUS.any(), correction::DIAMETER.any()]);
            let mass = mass_for(recorder, &spot, spec, meaning, called_for, &radius);
            recorder.keep(&spot, spec, &mass.amount());
        }
        if self.block.field(correction::ANGLE).is_some() {
            recorder.not_asked(&heading, &[&result::CORRECTION_ANGLE], WhyNot::Given(correction::ANGLE.any()));
        } else {
            let spot = self.spot(&[correction::REMOVE.any(), correction::ADD.any()]);
            let mass = mass_for(recorder, &spot, &result::CORRECTION_ANGLE, meaning, called_for, &radius);
            recorder.keep_direction(&spot, &result::CORRECTION_ANGLE, &mass, meaning, &self.runner.sense);
        }
    }

    /// What holds a mass that stays on at the highest service speed.
    fn holding_force(&self, recorder: &mut Recorder<'b>, results: &CorrectionResults<'b>) -> Option<Val<Force>> {
        let spot = self.spot(&[correction::ADD.any(), correction::ADD_PLACE.any()]);
        let given = || {
            if results.adds != Some(true) {
                return Err("no mass is put on".into());
            }
            let setup = self.runner.setup;
            let rotor = setup.rotor.as_ref();
            let rotor = rotor.ok_or_else(|| recorder.no_such_item(&setup.block, vocabulary::setup::ROTOR))?;
            let unbalance = results.done.as_ref().or(results.called_for.as_ref());
            let unbalance = unbalance.ok_or("nothing says how much mass is put on")?.amount();
            match (&unbalance.known, &rotor.service_speed.known) {
                (Ok(_), Ok(_)) => Ok((rotor, unbalance)),
                (Err(missing), _) | (_, Err(missing)) => Err(WhyNot::Lacks(missing.clone())),
            }
        };
        let (rotor, unbalance) = match given() {
            Ok(given) => given,
            Err(why) => {
                recorder.not_asked(&spot, &[&result::HOLDING_FORCE], why);
                return None;
            }
        };
        let inputs = (&unbalance, &rotor.service_speed);
        let newton = recorder.facts.shop.shown(Unit::NEWTON);
        Some(recorder.work_out(&spot, &result::HOLDING_FORCE, newton, &by::HOLD, inputs, |(unbalance, speed)| {
            centrifugal_force(unbalance, speed)
        }))
    }

    /// Whether what was done in this plane for this run is what the run calls for, or what a slip would make of it.
    /// Judged once, at the last of its blocks.
    fn fit(
        &self,
        recorder: &mut Recorder<'b>,
        found: Option<&VectorVal<Unbalance>>,
        earlier: &[&CorrectionResults<'b>],
        done: &VectorVal<Unbalance>,
    ) -> Option<Effect> {
        let spot = self.spot(&[
            correction::REMOVE.any(),
            correction::ADD.any(),
            correction::ADD_PLACE.any(),
            correction::REMOVE_PLACE.any(),
            correction::DEPTH.any(),
        ]);
        let given = || {
            if self.more_to_come {
                return Err(WhyNot::from("the last block of this plane and run is judged with all before it"));
            }
            let found = found.ok_or_else(|| self.why_nothing_is_called_for(self.after()))?;
            let wanted = -found.known.clone().map_err(WhyNot::Lacks)?;
            let mut in_all = done.known.clone().map_err(WhyNot::Lacks)?;
            for one in earlier {
                let done = one.done.as_ref().ok_or("an earlier block of this plane does not state what was done")?;
                in_all = in_all + done.known.clone().map_err(WhyNot::Lacks)?;
            }
            Ok((wanted, in_all))
        };
        let (wanted, done) = match given() {
            Ok(given) => given,
            Err(why) => {
                recorder.not_asked(&spot, &[&result::CORRECTION_FIT], why);
                return None;
            }
        };
        let axis = self.runner.axis(self.block.name_text());
        let other = self.other_plane().map(|other| -other);
        let fit = fit(done, wanted, axis, other);
        let off = apart(done, wanted);
        let share = || crate::units::quantity(off.in_percent(), "%", None);
        let words = match fit {
            Effect::AsMeant if off.value() <= NOT_WORTH_SAYING => "as called for".to_owned(),
            Effect::AsMeant => format!("about as called for, {} off", share()),
            Effect::Opposite => "half a turn from what is called for: it doubles the unbalance".to_owned(),
            Effect::Mirrored => "it fits only if readings and masses are counted in opposite senses".to_owned(),
            Effect::Swapped => "it fits the other plane".to_owned(),
            Effect::Unexplained if off.value().is_finite() => {
                format!("it is not what the run calls for, {} off", share())
            }
            Effect::Unexplained => "it is not what the run calls for".to_owned(),
        };
        recorder.words(&spot, &result::CORRECTION_FIT, words);
        Some(fit)
    }

    /// The unbalance of the other of two planes, in the run that this corrects.
    fn other_plane(&self) -> Option<Vector<Unbalance>> {
        let planes = &self.runs[self.after()?].planes;
        let [first, second] = &planes[..] else { return None };
        let other = if first.name == self.block.name_text() { second } else { first };
        other.own_vector()?.get()
    }
}

/// So much of what is called for may be missed without a word: weighing and setting off take that. Source: common
/// practice, no source.
const NOT_WORTH_SAYING: f64 = 0.05;

/// A correction within a third of what is called for is taken for it; a slip must fit within a quarter, and twice as
/// well. Source: common practice, no source.
fn fit(done: Vector<Unbalance>, wanted: Vector<Unbalance>, axis: Angle, other: Option<Vector<Unbalance>>) -> Effect {
    let as_meant = apart(done, wanted).value();
    if as_meant <= 0.35 {
        return Effect::AsMeant;
    }
    let slips = [
        (Effect::Opposite, Some(-wanted)),
        (Effect::Mirrored, Some(mirrored_about(wanted, axis))),
        (Effect::Swapped, other),
    ];
    let slips = slips.into_iter().filter_map(|(slip, meant)| Some((slip, apart(done, meant?).value())));
    let best = slips.min_by(|a, b| a.1.total_cmp(&b.1));
    match best {
        Some((slip, off)) if off <= 0.25 && off < 0.5 * as_meant => slip,
        _ => Effect::Unexplained,
    }
}

/// An unbalance together with what was put on.
pub(in crate::book::results) fn with_what_was_done<'v>(
    unbalance: &VectorVal<Unbalance>,
    done: impl IntoIterator<Item = &'v VectorVal<Unbalance>>,
) -> VectorVal<Unbalance> {
    let mut gathered = Gathered::new();
    let mut at = vec![gathered.vector(unbalance)];
    at.extend(done.into_iter().map(|done| gathered.vector(done)));
    if at.len() == 1 {
        return unbalance.clone();
    }
    let outputs = gathered.work_out(Some(&by::LEFT_OF), |numbers| {
        Ok(components([at.iter().map(|at| numbers.vector::<Unbalance>(*at)).sum()]))
    });
    outputs.vector(0, unbalance.origin.clone(), unbalance.unit)
}
