//! The setup: speeds, masses on the machine, and one calibration a plane.

pub(in crate::book::results) mod calibrate;
pub(in crate::book::results) mod check_mass;
pub(in crate::book::results) mod controls;
pub(in crate::book::results) mod division;
pub(in crate::book::results) mod left_out;
pub(in crate::book::results) mod machine;
pub(in crate::book::results) mod mode;
pub(in crate::book::results) mod proof;
pub(in crate::book::results) mod proof_fails;
pub(in crate::book::results) mod reading;
pub(in crate::book::results) mod residual;
pub(in crate::book::results) mod set_mass;
pub(in crate::book::results) mod sheet;
pub(in crate::book::results) mod supports;
pub(in crate::book::results) mod void;

use std::sync::Arc;

use crate::book::derive::Val;
use crate::book::effective::{Dropped, EffectiveBlock, effective};
use crate::book::files::ItemId;
use crate::book::formulas as by;
use crate::book::origin::Reason;
use crate::book::results::computing::Computing;
use crate::book::results::entry::{Entry, Recorder, Spot};
use crate::book::results::not_computed::{NotComputed, WhyNot};
use crate::book::results::rotor::RotorResults;
use crate::book::results::trials::agreement::{self, Contradiction};
use crate::book::results::trials::{self, TrialResults};
use crate::book::unread::is_read_whole;
use crate::mechanics::drive;
use crate::sheet::FieldValue;
use crate::syntax::Kind;
use crate::units::{Indication, Length, Mass, Ratio, Speed, Unit};
use crate::vocabulary::setup::Layout;
use crate::vocabulary::{self, AnyFact, arbor, result, setup};
use calibrate::CalibrateResults;
use check_mass::CheckMassResults;
use machine::MachineFacts;
use proof::ProofResults;
use sheet::Sheet;
use void::{VoidCause, Voiding};

/// What is computed of a setup, typed for what builds on it and as entries for people.
pub struct SetupResults<'b> {
    pub id: ItemId,
    pub block: EffectiveBlock<'b>,
    pub dropped: Vec<Dropped>,
    pub rotor: Option<Arc<RotorResults<'b>>>,
    pub machine: Option<MachineFacts<'b>>,
    pub arbor: Option<EffectiveBlock<'b>>,
    /// The set that calibration masses are taken from.
    pub masses: Option<ItemId>,
    pub balancing_speed: Val<Speed>,
    /// The lowest and the highest speed that count as the balancing speed.
    pub same_speed: Option<[Val<Speed>; 2]>,
    /// As stated, else as the belt drive gives it.
    pub motor_speed: Val<Speed>,
    /// As the belt drive gives it, whatever is stated; `None` when belt or pulley is not given.
    pub motor_speed_by_belt: Option<Val<Speed>>,
    /// The band in which a run counts as run at the same speed; the format's default where the sheet states none.
    pub same_speed_within: Val<Ratio>,
    pub resonance_ratio: Val<Ratio>,
    pub mass_on_machine: Val<Mass>,
    /// What the readout shows at the tolerance of a plane.
    pub reading_at_tolerance: Val<Indication>,
    /// Channel and plane, in the order in which they are written.
    pub channels: Vec<(&'b str, &'b str)>,
    /// The planes that the left and the right channel read.
    pub sides: [Option<&'b str>; 2],
    /// How planes and supports lie to each other, where that is stated or can be worked out.
    pub layout: Option<Layout>,
    /// One a plane that is read or calibrated.
    pub calibrations: Vec<CalibrateResults<'b>>,
    /// `None` when the sheet has no trial runs.
    pub trials: Option<TrialResults<'b>>,
    /// Where trials and calibration do not agree.
    pub contradictions: Vec<Contradiction>,
    /// `None` when the sheet has no proof.
    pub proof: Option<ProofResults<'b>>,
    /// What has changed since the sheet was proven; empty while the calibration holds.
    pub void_causes: Vec<VoidCause>,
    /// `None` without a check mass, or when its plane is not one of the rotor's.
    pub check_mass: Option<CheckMassResults<'b>>,
    pub entries: Vec<Entry>,
    /// Results that were left out, each with its reason.
    pub not_computed: Vec<NotComputed>,
}

impl<'b> SetupResults<'b> {
    pub fn of(computing: &Computing<'b>, id: ItemId) -> Self {
        let book = computing.book();
        let (block, dropped) = effective(book, id);
        let named = |fact: AnyFact, kind: Kind| -> Option<ItemId> {
            let FieldValue::Name(name) = &block.field(fact)?.field.value else { return None };
            book.find(kind, &name.text).ok()
        };
        let rotor = named(setup::ROTOR.any(), Kind::Rotor).and_then(|rotor| computing.rotor(rotor));
        let machine = named(setup::MACHINE.any(), Kind::Machine).map(|machine| MachineFacts::of(computing, machine));
        let arbor = named(setup::ARBOR.any(), Kind::Arbor).map(|arbor| effective(book, arbor).0);
        let masses = named(setup::MASSES.any(), Kind::Masses);
        let mut recorder = Recorder::new(computing.facts().with_masses(masses));
        let balancing_speed: Val<Speed> = recorder.facts.quantity(&block, setup::BALANCING_SPEED);
        let (same_speed_within, same_speed) = speed_band(&mut recorder, &block, id, &balancing_speed);
        let motor_speed_by_belt = motor_speed_by_belt(&mut recorder, &block, id, machine.as_ref(), &balancing_speed);
        let stated: Val<Speed> = recorder.facts.quantity(&block, setup::MOTOR_SPEED);
        let motor_speed = match &motor_speed_by_belt {
            Some(by_belt) => stated.or(|| by_belt.clone()),
            None => stated,
        };
        let resonance_ratio = resonance(&mut recorder, &block, id, &balancing_speed);
        let mass_on_machine = mass_on_machine(&mut recorder, &block, id, rotor.as_deref(), arbor.as_ref());
        let reading_at_tolerance = recorder.facts.quantity(&block, setup::TOLERANCE_READS);
        let channels: Vec<(&str, &str)> = block
            .named(setup::CHANNEL)
            .filter_map(|(channel, field)| match &field.field.value {
                FieldValue::Name(plane) => Some((&*channel.text, &*plane.text)),
                _ => None,
            })
            .collect();
        let work = supports::Work {
            setup: &block,
            id,
            rotor: rotor.as_deref(),
            machine: machine.as_ref(),
            channels: &channels,
        };
        let laid = work.laid(&mut recorder);
        let worked = controls::Worked {
            laid: &laid,
            balancing_speed: &balancing_speed,
            motor_speed: &motor_speed,
            mass_on_machine: &mass_on_machine,
        };
        controls::of(&mut recorder, &work, &worked);
        let sides = work.read_by_channels(&recorder).map(|side| side.ok().map(|plane| plane.name));
        let bench = calibrate::Bench {
            id,
            setup: &block,
            rotor: rotor.as_deref(),
            machine: machine.as_ref(),
            speed: &balancing_speed,
            reading_at_tolerance: &reading_at_tolerance,
            mass_on_machine: &mass_on_machine,
        };
        let calibrations = calibrate::of(&mut recorder, &bench, &channels);
        let check_mass = check_mass::of(&mut recorder, &bench, &calibrations);
        let trials = trials::of(&mut recorder, &bench, &channels);
        let void_causes = void::causes(
            &block,
            rotor.as_ref().map(|rotor| &rotor.block),
            machine.as_ref().map(|machine| &machine.block),
            &recorder.entries,
            [Some(id), rotor.as_ref().map(|rotor| rotor.id)]
                .into_iter()
                .flatten()
                .all(|item| is_read_whole(computing.book(), item)),
        );
        void::keep(&mut recorder, &block, id, &void_causes);
        let sheet = Sheet {
            id,
            block: &block,
            rotor: rotor.as_deref(),
            machine: machine.as_ref(),
            channels: &channels,
            reading_at_tolerance: &reading_at_tolerance,
            calibrations: &calibrations,
            trials: trials.as_ref(),
        };
        let contradictions = agreement::contradictions(&recorder, &sheet);
        let proof = proof::of(&mut recorder, &sheet);
        Self {
            id,
            dropped,
            rotor,
            machine,
            arbor,
            masses,
            balancing_speed,
            same_speed,
            motor_speed,
            motor_speed_by_belt,
            same_speed_within,
            resonance_ratio,
            mass_on_machine,
            reading_at_tolerance,
            channels,
            sides,
            layout: laid.layout.ok(),
            calibrations,
            trials,
            contradictions,
            proof,
            void_causes,
            check_mass,
            entries: recorder.entries,
            not_computed: recorder.not_computed,
            block,
        }
    }

    /// What its readings are judged by.
    pub(in crate::book::results) fn sheet(&self) -> Sheet<'_, 'b> {
        Sheet {
            id: self.id,
            block: &self.block,
            rotor: self.rotor.as_deref(),
            machine: self.machine.as_ref(),
            channels: &self.channels,
            reading_at_tolerance: &self.reading_at_tolerance,
            calibrations: &self.calibrations,
            trials: self.trials.as_ref(),
        }
    }

    pub fn calibration(&self, plane: &str) -> Option<&CalibrateResults<'b>> {
        self.calibrations.iter().find(|calibration| calibration.plane == plane)
    }

    /// The facts whose change would void the calibration, and which its proof does not name; empty without a proof.
    pub fn not_proven(&self) -> Vec<Voiding<'b>> {
        let proof = self.block.inner(Kind::Proof).next();
        let rotor = self.rotor.as_ref().map(|rotor| &rotor.block);
        proof.map_or_else(Vec::new, |proof| void::not_proven(proof, &self.block, rotor))
    }

    /// Whether technicians may use it.
    pub fn is_released(&self) -> bool {
        self.block.choice(setup::STATUS) == Some(setup::Status::Released)
    }
}

fn speed_band<'b>(
    recorder: &mut Recorder<'b>,
    block: &EffectiveBlock<'b>,
    id: ItemId,
    speed: &Val<Speed>,
) -> (Val<Ratio>, Option<[Val<Speed>; 2]>) {
    let within: Val<Ratio> = recorder.facts.quantity(block, setup::SAME_SPEED_WITHIN);
    let within = within.or(|| recorder.default(block, setup::SAME_SPEED_WITHIN, Ratio::percent(3.0), Unit::PERCENT));
    let spot =
        Spot::beside(block, id, block.field(setup::SAME_SPEED_WITHIN).or_else(|| block.field(setup::BALANCING_SPEED)));
    if let Err(missing) = &speed.known {
        let why = WhyNot::Lacks(missing.clone());
        recorder.not_asked(&spot, &[&result::LOWEST_SAME_SPEED, &result::HIGHEST_SAME_SPEED], why);
        return (within, None);
    }
    let specs =
        [(&result::LOWEST_SAME_SPEED, &by::SPEED_BAND_LOW), (&result::HIGHEST_SAME_SPEED, &by::SPEED_BAND_HIGH)];
    let band = [0, 1].map(|n| {
        let (spec, formula) = specs[n];
        recorder.work_out(&spot, spec, speed.unit, formula, (speed, &within), |(speed, within)| {
            drive::band_of_equal_speed(speed, within).map(|band| band[n])
        })
    });
    (within, Some(band))
}

fn motor_speed_by_belt<'b>(
    recorder: &mut Recorder<'b>,
    block: &EffectiveBlock<'b>,
    id: ItemId,
    machine: Option<&MachineFacts<'b>>,
    speed: &Val<Speed>,
) -> Option<Val<Speed>> {
    let spot = Spot::beside(block, id, block.field(setup::BELT_RUNS_ON));
    let (spec, unit) = (&result::MOTOR_SPEED, if speed.is_known() { speed.unit } else { Unit::RPM });
    let Some(machine) = machine else {
        recorder.not_asked(&spot, &[spec], recorder.no_such_item(block, setup::MACHINE));
        return None;
    };
    if block.field(setup::BELT_RUNS_ON).is_none() {
        recorder.not_asked(&spot, &[spec], WhyNot::LeftOut(setup::BELT_RUNS_ON.any()));
        return None;
    }
    let runs_on: Val<Length> = recorder.facts.quantity(block, setup::BELT_RUNS_ON);
    let pulley: Val<Length> = recorder.facts.quantity(block, setup::PULLEY);
    let pulley = pulley.or(|| recorder.facts.nth(&machine.block, vocabulary::machine::PULLEY, 0));
    if pulley.is_left_out() {
        recorder.not_asked(&spot, &[spec], WhyNot::LeftOut(setup::PULLEY.any()));
        return None;
    }
    let slip: Val<Ratio> = recorder.facts.quantity(&machine.block, vocabulary::machine::BELT_SLIP);
    let slip =
        slip.or(|| recorder.default(&machine.block, vocabulary::machine::BELT_SLIP, Ratio::new(0.0), Unit::PERCENT));
    let inputs = (speed, &runs_on, &pulley, &slip);
    let f = |(n, d, pulley, slip)| drive::motor_speed(n, pulley, d, slip);
    Some(recorder.work_out(&spot, spec, unit, &by::MOTOR_BY_BELT, inputs, f))
}

fn resonance<'b>(
    recorder: &mut Recorder<'b>,
    block: &EffectiveBlock<'b>,
    id: ItemId,
    speed: &Val<Speed>,
) -> Val<Ratio> {
    let found: Val<Speed> = recorder.facts.quantity(block, setup::RESONANCE_FOUND_AT);
    let spot = Spot::beside(block, id, block.field(setup::RESONANCE_FOUND_AT));
    if found.is_left_out() {
        let why = WhyNot::LeftOut(setup::RESONANCE_FOUND_AT.any());
        recorder.not_asked(&spot, &[&result::RESONANCE_RATIO], why);
        return Val::missing(found.origin, Reason::NotGiven, Unit::ONE);
    }
    recorder.work_out(
        &spot,
        &result::RESONANCE_RATIO,
        Unit::ONE,
        &by::OVER_RESONANCE,
        (speed, &found),
        |(n, resonance)| drive::ratio_to_resonance(n, resonance),
    )
}

fn mass_on_machine<'b>(
    recorder: &mut Recorder<'b>,
    block: &EffectiveBlock<'b>,
    id: ItemId,
    rotor: Option<&RotorResults<'b>>,
    arbor: Option<&EffectiveBlock<'b>>,
) -> Val<Mass> {
    let spot = Spot::beside(block, id, block.field(setup::ARBOR).or_else(|| block.field(setup::ROTOR)));
    let spec = &result::MASS_ON_MACHINE;
    let Some(rotor) = rotor else {
        recorder.not_asked(&spot, &[spec], recorder.no_such_item(block, setup::ROTOR));
        let origin = recorder.facts.origin(block, setup::ROTOR, block.field(setup::ROTOR));
        return Val::missing(origin, Reason::NoSuchItem, Unit::KILOGRAM);
    };
    let unit = if rotor.mass.is_known() { rotor.mass.unit } else { Unit::KILOGRAM };
    match arbor {
        Some(arbor) => {
            let mass: Val<Mass> = recorder.facts.quantity(arbor, arbor::MASS);
            recorder
                .work_out(&spot, spec, unit, &by::WITH_ARBOR, (&rotor.mass, &mass), |(rotor, arbor)| Ok(rotor + arbor))
        }
        None => recorder.work_out(&spot, spec, unit, &by::ROTOR_ALONE, (&rotor.mass,), |(mass,)| Ok(mass)),
    }
}
