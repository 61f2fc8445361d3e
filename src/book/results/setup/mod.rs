//! The setup: speeds, masses on the machine, and one calibration a plane.

mod as_kept;
pub(in crate::book::results) mod binding;
mod how;
pub(in crate::book::results) mod influences;
pub(in crate::book::results) mod limits;
pub(in crate::book::results) mod on_machine;
pub(in crate::book::results) mod proof;
pub(in crate::book::results) mod proof_fails;
mod proof_repeats;
pub(in crate::book::results) mod proof_shows;
pub(in crate::book::results) mod vibration;
pub(in crate::book::results) mod void;

use std::sync::Arc;

use crate::book::derive::Val;
use crate::book::effective::{Dropped, EffectiveBlock, effective};
use crate::book::files::{Book, ItemId};
use crate::book::results::bench::machine::MachineFacts;
use crate::book::results::bench::{Bench, controls, load, speeds, supports};
use crate::book::results::calibration::calibrate::{self, CalibrateResults};
use crate::book::results::calibration::check_mass::{self, CheckMassResults};
use crate::book::results::computing::Computing;
use crate::book::results::measuring::agreement::{self, Contradiction};
use crate::book::results::measuring::sheet::Sheet;
use crate::book::results::measuring::turn::HeavySpot;
use crate::book::results::measuring::{Measuring, WorkedBy};
use crate::book::results::rotor::kept::KeptLimits;
use crate::book::results::rotor::results::RotorResults;
use crate::book::results::trials::{self, TrialResults};
use crate::book::results::values::entry::{Entry, Recorder};
use crate::book::results::values::not_computed::NotComputed;
use crate::book::unread::is_read_whole;
use crate::sheet::FieldValue;
use crate::syntax::Kind;
use crate::units::{Indication, Length, Mass, Ratio, Speed, Unbalance, Unit};
use crate::vocabulary::setup::Layout;
use crate::vocabulary::{AnyFact, proven_with, setup};
use proof::{ProofResults, SeparationResults};
use vibration::VibrationLimit;
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
    /// What the left and the right support carry, where places are stated.
    pub support_loads: Option<[Val<Mass>; 2]>,
    /// The places of the left and the right support.
    supports_at: Option<[Length; 2]>,
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
    /// How its readings become unbalances.
    pub worked_by: WorkedBy,
    /// Where trials and calibration do not agree.
    pub contradictions: Vec<Contradiction>,
    /// `None` when the sheet has no proof.
    pub proof: Option<ProofResults<'b>>,
    /// Where the heavy spot stands, for each plane that is read or calibrated.
    pub heavy_spots: Vec<HeavySpot<'b>>,
    /// What has changed since the sheet was proven; empty while the calibration holds.
    pub void_causes: Vec<VoidCause>,
    /// What channels may read, for work in place.
    pub vibration_limits: Vec<VibrationLimit<'b>>,
    /// `None` without a check mass, or when its plane is not one of the rotor's.
    pub check_mass: Option<CheckMassResults<'b>>,
    pub entries: Vec<Entry>,
    /// Results that were left out, each with its reason.
    pub not_computed: Vec<NotComputed>,
}

/// The facts that a setup is worked out from.
struct Given<'b> {
    block: EffectiveBlock<'b>,
    dropped: Vec<Dropped>,
    rotor: Option<Arc<RotorResults<'b>>>,
    /// What a proof or a record has kept of the day.
    kept: Option<EffectiveBlock<'b>>,
    /// Whether services of the machine since the proof count.
    is_of_today: bool,
}

/// The item that a fact names.
fn named<'b>(book: &'b Book, block: &EffectiveBlock<'b>, fact: AnyFact, kind: Kind) -> Option<ItemId> {
    let FieldValue::Name(name) = &block.field(fact)?.field.value else { return None };
    book.find(kind, &name.text).ok()
}

impl<'b> SetupResults<'b> {
    pub fn of(computing: &Computing<'b>, id: ItemId) -> Self {
        let (block, dropped) = effective(computing.book(), id);
        let rotor = named(computing.book(), &block, setup::ROTOR.any(), Kind::Rotor);
        let rotor = rotor.and_then(|rotor| computing.rotor(rotor));
        Self::of_given(computing, id, Given { block, dropped, rotor, kept: None, is_of_today: true })
    }

    /// As one of its proofs says that it was.
    pub fn as_proven(computing: &Computing<'b>, id: ItemId, proof: &str) -> Self {
        let (mut block, dropped) = effective(computing.book(), id);
        block.blocks.retain(|inner| inner.kind != Kind::Proof || inner.name_text() == proof);
        let with = block.latest_proof().and_then(EffectiveBlock::proven_with).cloned();
        Self::as_kept(computing, id, (block, dropped), with)
    }

    /// By the limits and influences of a record's `as run`. Where it holds influences, no proof is asked.
    pub fn as_run(computing: &Computing<'b>, id: ItemId, kept: &EffectiveBlock<'b>) -> Self {
        let (mut block, dropped) = effective(computing.book(), id);
        if kept.inner(Kind::Influence).next().is_some() {
            block.blocks.retain(|inner| inner.kind != Kind::Proof);
        }
        if as_kept::says_all(kept) {
            block.blocks.retain(|inner| inner.kind != Kind::Calibrate);
        }
        Self::as_kept(computing, id, (block, dropped), Some(kept.clone()))
    }

    fn as_kept(
        computing: &Computing<'b>,
        id: ItemId,
        (mut block, dropped): (EffectiveBlock<'b>, Vec<Dropped>),
        kept: Option<EffectiveBlock<'b>>,
    ) -> Self {
        let book = computing.book();
        let of_day = kept.as_ref().and_then(|kept| named(book, kept, proven_with::ROTOR.any(), Kind::Rotor));
        let rotor = of_day.or_else(|| named(book, &block, setup::ROTOR.any(), Kind::Rotor));
        let mut of_rotor = rotor.map(|rotor| effective(book, rotor).0);
        if let Some(kept) = &kept {
            as_kept::lay_over(&mut block, of_rotor.as_mut(), kept);
            as_kept::lay_speed(&mut block, kept);
        }
        let of_that_day = kept.as_ref().and_then(|kept| KeptLimits::of(&computing.facts(), kept));
        let rotor = rotor
            .zip(of_rotor)
            .map(|(rotor, block)| Arc::new(RotorResults::of_block(computing, rotor, block, of_that_day.as_ref())));
        Self::of_given(computing, id, Given { block, dropped, rotor, kept, is_of_today: false })
    }

    fn of_given(computing: &Computing<'b>, id: ItemId, given: Given<'b>) -> Self {
        let Given { block, dropped, rotor, kept, is_of_today } = given;
        let book = computing.book();
        let named = |fact: AnyFact, kind: Kind| named(book, &block, fact, kind);
        let machine = named(setup::MACHINE.any(), Kind::Machine).map(|machine| {
            let (mut block, _) = effective(book, machine);
            if let Some(kept) = &kept {
                as_kept::lay_over_readout(&mut block, kept);
            }
            MachineFacts::of(&computing.facts(), machine, block)
        });
        let arbor = named(setup::ARBOR.any(), Kind::Arbor).map(|arbor| effective(book, arbor).0);
        let masses = named(setup::MASSES.any(), Kind::Masses);
        let mut recorder = Recorder::new(computing.facts().with_masses(masses));
        let balancing_speed: Val<Speed> = recorder.facts.quantity(&block, setup::BALANCING_SPEED);
        let (same_speed_within, same_speed) = speeds::speed_band(&mut recorder, &block, id, &balancing_speed);
        let motor_speed_by_belt =
            speeds::motor_speed_by_belt(&mut recorder, &block, id, machine.as_ref(), &balancing_speed);
        let stated: Val<Speed> = recorder.facts.quantity(&block, setup::MOTOR_SPEED);
        let motor_speed = match &motor_speed_by_belt {
            Some(by_belt) => stated.or(|| by_belt.clone()),
            None => stated,
        };
        let resonance_ratio = speeds::resonance(&mut recorder, &block, id, &balancing_speed);
        speeds::left_out_of_belt(&mut recorder, &block, id, machine.as_ref(), &balancing_speed);
        speeds::amplification(&mut recorder, &block, id, machine.as_ref(), &resonance_ratio);
        let mass_on_machine = load::mass_on_machine(&mut recorder, &block, id, rotor.as_deref(), arbor.as_ref());
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
        let carried = (rotor.as_deref(), arbor.is_some());
        let support_loads = load::on_supports(&mut recorder, &block, id, carried, laid.supports.as_ref());
        let supports_at = laid.supports.as_ref().and_then(|[left, right]| Some([left.get()?, right.get()?]));
        let worked = controls::Worked {
            laid: &laid,
            balancing_speed: &balancing_speed,
            motor_speed: &motor_speed,
            mass_on_machine: &mass_on_machine,
        };
        controls::of(&mut recorder, &work, &worked);
        let sides = work.read_by_channels(&recorder).map(|side| side.ok().map(|plane| plane.name));
        let void_causes = void::causes(
            &block,
            (rotor.as_ref().map(|rotor| &rotor.block), machine.as_ref().map(|machine| &machine.block)),
            is_of_today,
            &recorder.entries,
            [Some(id), rotor.as_ref().map(|rotor| rotor.id), machine.as_ref().map(|machine| machine.id)]
                .into_iter()
                .flatten()
                .all(|item| is_read_whole(computing.book(), item)),
        );
        let bench = Bench {
            id,
            setup: &block,
            rotor: rotor.as_deref(),
            machine: machine.as_ref(),
            speed: &balancing_speed,
            same_speed_within: &same_speed_within,
            reading_at_tolerance: &reading_at_tolerance,
            mass_on_machine: &mass_on_machine,
            proof: block.latest_proof().filter(|_| void_causes.is_empty()),
        };
        let calibrations = calibrate::of(&mut recorder, &bench, &channels);
        let check_mass = check_mass::of(&mut recorder, &bench, &calibrations);
        let trials = kept.as_ref().and_then(|kept| trials::kept::of(&recorder, &bench, &channels, kept));
        let trials = trials.or_else(|| trials::of(&mut recorder, &bench, &channels));
        void::keep(&mut recorder, &block, id, &void_causes);
        let sheet = Sheet {
            id,
            block: &block,
            rotor: rotor.as_deref(),
            machine: machine.as_ref(),
            channels: &channels,
            calibrations: &calibrations,
            trials: trials.as_ref(),
        };
        let contradictions = match &trials {
            Some(trials) if trials.is_kept => Vec::new(),
            _ => agreement::contradictions(&recorder, &sheet),
        };
        let worked_by = Measuring::of(sheet, &contradictions).worked_by();
        let proof = proof::of(&mut recorder, &sheet);
        let planes = calibrations.iter().map(|calibration| calibration.plane);
        let disproved = |plane: &str| {
            let separations = proof.iter().flat_map(|proof| &proof.separations);
            separations.filter(|one| one.plane == plane).any(SeparationResults::shows_the_other_spot)
        };
        let readout = machine.as_ref().and_then(|machine| machine.readout.as_ref());
        let vibration_limits = vibration::limits(&recorder.facts, &block, kept.as_ref(), readout);
        let heavy_spots = planes.map(|plane| sheet.heavy_spot(&recorder, plane, disproved(plane))).collect();
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
            support_loads,
            supports_at,
            reading_at_tolerance,
            channels,
            sides,
            layout: laid.layout.ok(),
            calibrations,
            trials,
            worked_by,
            contradictions,
            proof,
            heavy_spots,
            void_causes,
            vibration_limits,
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
            calibrations: &self.calibrations,
            trials: self.trials.as_ref(),
        }
    }

    /// How its readings become unbalances, with the numbers.
    pub(in crate::book::results) fn measuring(&self) -> Measuring<'_, 'b> {
        Measuring::of(self.sheet(), &self.contradictions)
    }

    /// Whether its readings are understood by trial runs.
    pub fn rests_on_trials(&self) -> bool {
        matches!(self.worked_by, WorkedBy::Trials | WorkedBy::Amounts)
    }

    /// Whether it has trial runs, whatever they tell.
    pub fn has_trial_runs(&self) -> bool {
        self.block.inner(Kind::Trial).next().is_some()
    }

    /// What the finest step of the readout is worth in a plane; `None` where trials alone tell that.
    pub fn of_one_step(&self, plane: &str) -> Option<Unbalance> {
        let sheet = self.sheet();
        sheet.worth(plane, Unit::GRAM_MILLIMETRE).of(sheet.finest_step(Indication::new(0.0))?)
    }

    pub fn calibration(&self, plane: &str) -> Option<&CalibrateResults<'b>> {
        self.calibrations.iter().find(|calibration| calibration.plane == plane)
    }

    pub fn heavy_spot(&self, plane: &str) -> Option<&HeavySpot<'b>> {
        self.heavy_spots.iter().find(|spot| spot.plane == plane)
    }

    /// The facts of which the day is kept, as they are.
    pub fn facts_to_keep(&self) -> Vec<Voiding<'b>> {
        void::voiding(&self.block, self.kept_beside())
    }

    /// Those that its newest proof does not name; empty without a proof.
    pub fn not_proven(&self) -> Vec<Voiding<'b>> {
        let proof = self.block.newest_proof();
        proof.map_or_else(Vec::new, |proof| void::not_proven(proof, &self.block, self.kept_beside()))
    }

    /// The rotor and the machine, of whose facts the day is kept too.
    fn kept_beside(&self) -> void::Beside<'_, 'b> {
        (self.rotor.as_ref().map(|rotor| &rotor.block), self.machine.as_ref().map(|machine| &machine.block))
    }
}
