//! One correction of a record: what its run calls for, by the plane's method, and what was done.

use super::fit::{Fit, Judged};
use super::ledger;
use super::run::{PlaneRun, RunResults, Runner};
use super::stated::{SAID_BY, Stated, StatedPlace};
use crate::book::derive::Val;
use crate::book::effective::EffectiveBlock;
use crate::book::formulas as by;
use crate::book::results::plane::PlaneResults;
use crate::book::results::plane::allowed::{half_width, most_per_place};
use crate::book::results::plane::called_for::{at_cut, mass_for};
use crate::book::results::plane::carried::Carried;
use crate::book::results::plane::cutting::chips;
use crate::book::results::plane::making::{MADE_BY_METHOD, Making};
use crate::book::results::values::entry::{Meaning, Recorder, Spot, origin};
use crate::book::results::values::not_computed::WhyNot;
use crate::book::vectors::{Gathered, VectorVal, components};
use crate::mechanics::force::centrifugal_force;
use crate::sheet::FieldValue;
use crate::units::{Angle, Force, Mass, Unbalance, Unit};
use crate::vocabulary::{self, ResultSpec, correction, result};

/// What the block leaves to be worked out where it does not state what was done.
const TO_WORK_OUT: [&ResultSpec; 8] = [
    &result::CORRECTION_REMOVE,
    &result::CORRECTION_ADD,
    &result::CORRECTION_ANGLE,
    MADE_BY_METHOD[0],
    MADE_BY_METHOD[1],
    MADE_BY_METHOD[2],
    MADE_BY_METHOD[3],
    MADE_BY_METHOD[4],
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
    /// How what was done stands to what was called for; at the last block of its plane and run.
    pub fit: Option<Fit>,
    /// The run that comes before it in the record, by number.
    pub written_after: Option<usize>,
    /// The masses stated place by place.
    pub places: Vec<StatedPlace<'b>>,
    /// The most that one place of the plane takes, where it says so.
    pub most_per_place: Option<Mass>,
    /// From the middle of a cut to its edge.
    pub half_width: Angle,
    /// What the plane carried before it, and after.
    pub carried: Carried,
    pub then: Carried,
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
        let stated = Stated { runner: self.runner, block };
        let adds = stated.adds(plane);
        let carried = carried(self.runner, &self.runs[..self.last_run.map_or(0, |last| last + 1)], self.earlier, name);
        let done = plane.and_then(|plane| stated.done(recorder, plane, adds, &carried));
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
            then: carried.clone(),
            carried,
        };
        let Some(plane) = plane else {
            recorder.none_of(block, self.runner.id, "the rotor has no such plane");
            return results;
        };
        let heading = Spot::heading(block, self.runner.id);
        results.places = stated.places(recorder, plane, &results.carried);
        results.then = ledger::after(recorder, stated, plane, adds, &results.carried);
        results.most_per_place = most_per_place(
            recorder,
            plane,
            &self.stated().spot(&[correction::ADD_PLACE.any(), correction::REMOVE_PLACE.any()]),
        );
        results.half_width = half_width(plane);
        match &results.done {
            Some(done) => {
                let spot = stated.spot(&SAID_BY);
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
                let judged = Judged {
                    stated,
                    run: after.map(|run| &self.runs[run]),
                    called_for: found,
                    why_nothing: self.why_nothing_is_called_for(after),
                    earlier: earlier.iter().map(|one| one.done.as_ref()).collect(),
                    more_to_come: self.more_to_come,
                };
                results.fit = judged.judge(recorder, done);
            }
            None => {
                let specs = [&result::CORRECTION_DONE, &result::CORRECTION_LEFT, &result::CORRECTION_FIT];
                recorder.not_asked(&heading, &specs, "the block does not state what was done, and where");
                if results.called_for.is_none() {
                    recorder.not_asked(&heading, &TO_WORK_OUT, self.why_nothing_is_called_for(after));
                }
                if let Some(called_for) = &results.called_for {
                    self.masses(recorder, plane, (adds, called_for), &results.carried);
                    let radius = &stated.radius(recorder, plane, &results.carried);
                    let sense = &self.runner.sense;
                    let making = Making { sense, plane, adds, radius, carried: &results.carried };
                    results.not_reached = making.work_out(
                        recorder,
                        &self.stated().spot(&[correction::ANGLE.any(), correction::RADIUS.any()]),
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

    fn stated(&self) -> Stated<'_, 'b> {
        Stated { runner: self.runner, block: self.block }
    }

    /// The run it names, else the one before it.
    fn after(&self) -> Option<usize> {
        match self.block.field(correction::AFTER).map(|field| &field.field.value) {
            Some(FieldValue::Name(name)) => self.runs.iter().position(|run| run.name == &*name.text),
            Some(_) => None,
            None => self.last_run,
        }
    }

    /// The mass to take off or put on, and where: what the block leaves to be worked out.
    fn masses(
        &self,
        recorder: &mut Recorder<'b>,
        plane: &PlaneResults<'b>,
        (adds, called_for): (Option<bool>, &VectorVal<Unbalance>),
        carried: &Carried,
    ) {
        let meaning = match adds {
            Some(true) => Meaning::ToAdd,
            Some(false) => Meaning::ToRemove,
            None => Meaning::ToAddOrRemoveOpposite,
        };
        let is_stated =
            [correction::RADIUS.any(), correction::DIAMETER.any(), correction::DEPTH.any(), correction::REMOVE.any()]
                .into_iter()
                .any(|fact| self.block.field(fact).is_some());
        let wanted = called_for.get().filter(|_| !is_stated && adds == Some(false));
        let chips = wanted.and_then(|wanted| chips(&recorder.facts, plane, carried, wanted));
        let radius = match chips {
            Some((_, radius)) => at_cut(plane, Some(radius)),
            None => self.stated().radius(recorder, plane, carried),
        };
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
            let spot = self.stated().spot(&[correction::RADIUS.any(), correction::DIAMETER.any()]);
            let mass = mass_for(recorder, &spot, spec, meaning, called_for, &radius).amount();
            // The point of a drill takes no less than itself, and no plane more than it can.
            let known = chips.map_or(mass.known, |(weigh, _)| Ok(weigh));
            recorder.keep(&spot, spec, &Val { known, ..mass });
        }
        if self.block.field(correction::ANGLE).is_some() {
            recorder.not_asked(&heading, &[&result::CORRECTION_ANGLE], WhyNot::Given(correction::ANGLE.any()));
        } else {
            let spot = self.stated().spot(&[correction::REMOVE.any(), correction::ADD.any()]);
            let mass = mass_for(recorder, &spot, &result::CORRECTION_ANGLE, meaning, called_for, &radius);
            recorder.keep_direction(&spot, &result::CORRECTION_ANGLE, &mass, meaning, &self.runner.sense);
        }
    }

    /// What holds a mass that stays on at the highest service speed.
    fn holding_force(&self, recorder: &mut Recorder<'b>, results: &CorrectionResults<'b>) -> Option<Val<Force>> {
        let spot = self.stated().spot(&[correction::ADD.any(), correction::ADD_PLACE.any()]);
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
}

/// What a plane carries by all that was done to it in these runs and corrections.
pub(in crate::book::results) fn carried<'b>(
    runner: &Runner<'_, 'b>,
    runs: &[RunResults<'b>],
    corrections: &[CorrectionResults<'b>],
    plane: &str,
) -> Carried {
    let last = corrections.iter().rev().find(|other| other.plane == plane);
    let mut carried = last.map_or_else(|| runner.to_begin_with(plane), |last| last.then.clone());
    if let Some(run) = runs.iter().find(|run| run.not_recorded) {
        let why = format!("run \"{}\" says that a correction was not recorded", run.name);
        carried.not_known = Some(WhyNot::Says(why.into()));
    }
    carried
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
