//! Known unbalances of an assembly's parts: what they amount to in its correction planes, and how to turn the parts.

use std::sync::Arc;

use super::results::{ClockedParts, ClockingResults, PartResults};
use crate::book::derive::Val;
use crate::book::effective::{EffectiveBlock, effective};
use crate::book::files::ItemId;
use crate::book::formulas as by;
use crate::book::origin::{Missing, Origin, Reason};
use crate::book::results::computing::Computing;
use crate::book::results::plane::PlaneResults;
use crate::book::results::plane::called_for::{mass_for, meaning_of, radius_for};
use crate::book::results::plane::carried::Carried;
use crate::book::results::rotor::seated::{Loose, add_to, loose};
use crate::book::results::rotor::seen::Seen;
use crate::book::results::values::entry::{Meaning, Outcome, Recorder, Spot, origin};
use crate::book::results::values::not_computed::WhyNot;
use crate::book::vectors::{Gathered, Numbers, Produced, VectorVal};
use crate::mechanics::clocking::{Clocked, KnownPart, best_clocking, in_planes};
use crate::mechanics::verdict::Verdict;
use crate::sheet::FieldValue;
use crate::syntax::Kind;
use crate::units::{Angle, Length, Mass, Unbalance, Unit, Vector};
use crate::vocabulary::{ResultSpec, Sense, made_of, record, result, rotor, setup};

/// One part with its known unbalances, in its own angles and places.
struct Known<'a, 'b> {
    number: usize,
    part: &'a PartResults<'b>,
    /// Of the record that tells them; `None` when the assembly states them.
    verdict: Option<Verdict>,
    unbalances: Vec<(VectorVal<Unbalance>, Val<Length>)>,
    at: Val<Length>,
    fitted_at: Val<Angle>,
    step: Option<Val<Angle>>,
    /// Whether the part's angles run against the assembly's.
    mirrored: Result<bool, Arc<Missing>>,
}

pub(in crate::book::results) fn of<'b>(
    computing: &Computing<'b>,
    recorder: &mut Recorder<'b>,
    rotor: &EffectiveBlock<'b>,
    id: ItemId,
    parts: &[PartResults<'b>],
    planes: &[PlaneResults<'b>],
) -> Option<ClockingResults<'b>> {
    let known: Vec<Known<'_, 'b>> = parts
        .iter()
        .enumerate()
        .filter_map(|(number, part)| Known::of(computing, recorder, rotor, number, part))
        .collect();
    if known.is_empty() {
        let why = "the rotor is not made of parts whose unbalance is known";
        let specs = [
            &result::UNBALANCE_OF_PARTS,
            &result::CORRECTION_FOR_PARTS,
            &result::CLOCKED_UNBALANCE,
            &result::CLOCKING_SEARCH,
        ];
        recorder.not_asked(&Spot::heading(rotor, id), &specs, why);
        for part in parts {
            recorder.not_asked(&Spot::heading(&part.block, id), &[&result::CLOCKING], why);
        }
        return None;
    }
    for (_, part) in parts.iter().enumerate().filter(|(n, _)| !known.iter().any(|known| known.number == *n)) {
        let why = "the unbalance of this part is not known";
        recorder.not_asked(&Spot::heading(&part.block, id), &[&result::CLOCKING], why);
    }
    let planes: Vec<&PlaneResults<'b>> = planes.iter().filter(|plane| plane.shares_tolerance).collect();
    let sense = rotor.stated_choice(rotor::ANGLES_COUNT);
    let places: Option<Vec<Length>> = planes.iter().map(|plane| plane.at.get()).collect();
    let loose = places.map_or_else(Vec::new, |places| loose(recorder, parts, &places));
    let clocking = Clocking { rotor, id, known, loose, planes, sense };
    Some(clocking.work_out(recorder))
}

impl<'a, 'b> Known<'a, 'b> {
    /// `None` when nothing is known of the part.
    fn of(
        computing: &Computing<'b>,
        recorder: &Recorder<'b>,
        assembly: &EffectiveBlock<'b>,
        number: usize,
        part: &'a PartResults<'b>,
    ) -> Option<Self> {
        let (facts, block) = (&recorder.facts, &part.block);
        let stated: Vec<_> = block.named(made_of::UNBALANCE).collect();
        let Told { verdict, unbalances } = if stated.is_empty() {
            of_record(computing, recorder, part)?
        } else {
            let one = |(plane, field): (&crate::sheet::NameAt, crate::book::effective::EffectiveField<'b>)| {
                let origin = Origin {
                    name: format!("unbalance {}", plane.text).into(),
                    ..facts.origin(block, made_of::UNBALANCE, Some(field))
                };
                let vector = stated_vector(recorder, block, field, origin.clone());
                (vector, place_of(part, &plane.text, origin))
            };
            Told { verdict: None, unbalances: stated.into_iter().map(one).collect() }
        };
        let fitted_at: Val<Angle> = facts.quantity(block, made_of::FITTED_AT);
        let step = block.field(made_of::INDEXED_BY).map(|_| facts.quantity(block, made_of::INDEXED_BY));
        let zero = || recorder.default(block, made_of::FITTED_AT, Angle::ZERO, Unit::DEGREE);
        let fitted_at = if step.is_some() { fitted_at.or(zero) } else { fitted_at };
        let mirrored = part.rotor.as_deref().map_or(Ok(false), |rotor| runs_against(&rotor.block, assembly));
        Some(Self {
            number,
            part,
            verdict,
            unbalances,
            at: facts.quantity(block, made_of::AT),
            fitted_at,
            step,
            mirrored,
        })
    }
}

/// Whether the angles of a part run against those of its assembly: both are counted by rotation, and the two may turn
/// either way round. Where one does not say how it turns, both are taken to turn alike.
fn runs_against(part: &EffectiveBlock<'_>, assembly: &EffectiveBlock<'_>) -> Result<bool, Arc<Missing>> {
    let counted = part.stated_choice(rotor::ANGLES_COUNT)? != assembly.stated_choice(rotor::ANGLES_COUNT)?;
    Ok(match (Seen::of(part), Seen::of(assembly)) {
        (Ok(part), Ok(assembly)) => part.from_end(assembly.from).grows != assembly.grows,
        _ => counted,
    })
}

/// The part's plane along the part.
fn place_of(part: &PartResults<'_>, plane: &str, origin: Origin) -> Val<Length> {
    match part.rotor.as_ref().and_then(|rotor| rotor.plane(plane)) {
        Some(plane) => plane.at.clone(),
        None => {
            let why = format!("the part has no plane `{plane}`");
            Val::missing(origin, Reason::Impossible(why.into()), Unit::MILLIMETRE)
        }
    }
}

/// An unbalance at an angle, as a card states it.
fn stated_vector<'b>(
    recorder: &Recorder<'b>,
    block: &EffectiveBlock<'b>,
    field: crate::book::effective::EffectiveField<'b>,
    origin: Origin,
) -> VectorVal<Unbalance> {
    let unit = recorder.facts.shop.unbalance_unit;
    let FieldValue::Reading(reading) = &field.field.value else {
        return VectorVal::missing(origin, Reason::Unreadable, unit);
    };
    let Some(angle) = &reading.angle else {
        let why = "an unbalance without its angle cannot be added to others";
        return VectorVal::missing(origin, Reason::Impossible(why.into()), unit);
    };
    let amount: Val<Unbalance> = recorder.facts.stated(block, field, &reading.amount, origin.clone());
    VectorVal::from_polar(&amount, &Val::exact(angle.typed::<Angle>(), origin, angle.unit))
}

/// What a record tells of a part, and how it judges it.
struct Told {
    verdict: Option<Verdict>,
    unbalances: Vec<(VectorVal<Unbalance>, Val<Length>)>,
}

/// What the record of a part tells: its own unbalance in each of its planes after the last correction.
fn of_record<'b>(computing: &Computing<'b>, recorder: &Recorder<'b>, part: &PartResults<'b>) -> Option<Told> {
    let field = part.block.field(made_of::RECORD)?;
    let unit = recorder.facts.shop.unbalance_unit;
    let origin = recorder.facts.origin(&part.block, made_of::RECORD, Some(field));
    let lacking = |reason: Reason| {
        let place = Val::missing(origin.clone(), reason.clone(), Unit::MILLIMETRE);
        let unbalances = vec![(VectorVal::missing(origin.clone(), reason, unit), place)];
        Some(Told { verdict: None, unbalances })
    };
    let FieldValue::Name(name) = &field.field.value else { return lacking(Reason::Unreadable) };
    let book = computing.book();
    let Ok(record) = book.find(Kind::Record, &name.text) else { return lacking(Reason::NoSuchItem) };
    let rotor = part.rotor.as_ref()?;
    // Looked at before anything is worked out: a record of another rotor might lead back to this one.
    if rotor_of_record(computing, record) != Some(rotor.id) {
        return lacking(Reason::Impossible("the record is not one of this part".into()));
    }
    let results = computing.record(record)?;
    let Some(verdict) = results.verdict.as_ref().filter(|verdict| !verdict.residual.is_empty()) else {
        return lacking(Reason::Impossible("the record does not tell the part's unbalance with its angle".into()));
    };
    if let Some(why) = verdict.does_not_count.first() {
        let why = format!("what the record shows counts for nothing: {}", why.words);
        return lacking(Reason::Impossible(why.into()));
    }
    let one =
        |(plane, vector): &(String, VectorVal<Unbalance>)| (vector.clone(), place_of(part, plane, origin.clone()));
    Some(Told { verdict: Some(verdict.verdict), unbalances: verdict.residual.iter().map(one).collect() })
}

/// The rotor that a record is of, by names alone.
fn rotor_of_record(computing: &Computing<'_>, record: ItemId) -> Option<ItemId> {
    let book = computing.book();
    let FieldValue::Name(setup) = &book.item(record).field(record::SETUP)?.value else { return None };
    let setup = book.find(Kind::Setup, &setup.text).ok()?;
    let (block, _) = effective(book, setup);
    let FieldValue::Name(rotor) = &block.field(setup::ROTOR)?.field.value else { return None };
    book.find(Kind::Rotor, &rotor.text).ok()
}

struct Clocking<'a, 'b> {
    rotor: &'a EffectiveBlock<'b>,
    id: ItemId,
    known: Vec<Known<'a, 'b>>,
    /// What turning a part turns with it, at an angle that is not known: it moves no sum, and is what that is known to.
    loose: Vec<Loose>,
    planes: Vec<&'a PlaneResults<'b>>,
    sense: Result<Sense, Arc<Missing>>,
}

/// The places of one part's numbers.
struct PartAt {
    unbalances: Vec<(usize, usize)>,
    at: usize,
    fitted_at: usize,
    mirrored: bool,
}

impl<'b> Clocking<'_, 'b> {
    fn work_out(&self, recorder: &mut Recorder<'b>) -> ClockingResults<'b> {
        let spot = Spot::heading(self.rotor, self.id);
        let turns = vec![Angle::ZERO; self.known.len()];
        let in_planes = self.in_planes(recorder, &spot, &result::UNBALANCE_OF_PARTS, &turns);
        let corrections = self.corrections(recorder, &spot, &in_planes);
        if self.planes.is_empty() {
            let specs = [&result::UNBALANCE_OF_PARTS, &result::CORRECTION_FOR_PARTS];
            recorder.not_asked(&spot, &specs, "the rotor has no plane that shares the tolerance");
        }
        let missing = in_planes.iter().find_map(|plane| plane.known.as_ref().err());
        let best = match missing {
            Some(missing) => Err(WhyNot::Lacks(missing.clone())),
            None => self.best(),
        };
        let clocked = match best {
            Ok(best) => self.clocked(recorder, &spot, &best),
            Err(why) => {
                let specs = [&result::CLOCKED_UNBALANCE, &result::CLOCKING_SEARCH];
                recorder.not_asked(&spot, &specs, why.clone());
                for known in &self.known {
                    let spot = Spot::heading(&known.part.block, self.id);
                    recorder.not_asked(&spot, &[&result::CLOCKING], why.clone());
                }
                None
            }
        };
        ClockingResults {
            parts: self.known.iter().map(|known| known.number).collect(),
            verdicts: self.known.iter().map(|known| known.verdict).collect(),
            planes: self.planes.iter().map(|plane| plane.name).collect(),
            in_planes,
            corrections,
            clocked,
        }
    }

    /// What the parts amount to in each plane, each turned on by so much from where it is fitted.
    fn in_planes(
        &self,
        recorder: &mut Recorder<'b>,
        spot: &Spot,
        spec: &'static ResultSpec,
        turns: &[Angle],
    ) -> Vec<VectorVal<Unbalance>> {
        let unit = recorder.facts.shop.unbalance_unit;
        (0..self.planes.len())
            .map(|n| {
                let spot = spot.of_plane(self.planes[n].name);
                let value = match self.mirrored() {
                    Err(missing) => VectorVal::lacking(origin(&spot, spec), missing, unit),
                    Ok(mirrored) => {
                        let mut gathered = Gathered::new();
                        let parts: Vec<PartAt> =
                            self.known.iter().zip(mirrored).map(|(known, m)| known.gather(&mut gathered, m)).collect();
                        let planes: Vec<usize> = self.planes.iter().map(|plane| gathered.value(&plane.at)).collect();
                        let formula = if planes.len() == 1 { &by::SUM_OF_PARTS } else { &by::PARTS_IN_PLANES };
                        let outputs = gathered.work_out(recorder.explained(formula), |numbers| {
                            let known: Vec<(Vector<Unbalance>, Length)> = parts
                                .iter()
                                .zip(turns)
                                .flat_map(|(part, turn)| part.unbalances(numbers, *turn))
                                .collect();
                            let planes: Vec<Length> = planes.iter().map(|at| numbers.value(*at)).collect();
                            Ok(Produced::vector(in_planes(&known, &planes)?[n]))
                        });
                        let mut value = outputs.vector(0, origin(&spot, spec), unit);
                        add_to(&mut value, n, &self.loose);
                        value
                    }
                };
                recorder.keep_vector(&spot, spec, &value, Meaning::HeavySpot, &self.sense);
                value
            })
            .collect()
    }

    fn mirrored(&self) -> Result<Vec<bool>, Arc<Missing>> {
        self.known.iter().map(|known| known.mirrored.clone()).collect()
    }

    fn corrections(
        &self,
        recorder: &mut Recorder<'b>,
        spot: &Spot,
        in_planes: &[VectorVal<Unbalance>],
    ) -> Vec<VectorVal<Mass>> {
        let spec = &result::CORRECTION_FOR_PARTS;
        let mut corrections = Vec::new();
        for (plane, unbalance) in self.planes.iter().zip(in_planes) {
            let spot = spot.of_plane(plane.name);
            if let Err(missing) = &unbalance.known {
                recorder.not_asked(&spot, &[spec], WhyNot::Lacks(missing.clone()));
                continue;
            }
            let (meaning, mass) = match meaning_of(plane) {
                Ok(meaning) => {
                    let radius = radius_for(recorder, plane, &Carried::default(), (meaning, unbalance));
                    (meaning, mass_for(recorder, &spot, spec, meaning, unbalance, &radius))
                }
                Err(missing) => (Meaning::ToAdd, VectorVal::lacking(origin(&spot, spec), missing, Unit::GRAM)),
            };
            recorder.keep_vector(&spot, spec, &mass, meaning, &self.sense);
            corrections.push(mass);
        }
        corrections
    }

    /// The positions that leave least, with the angle by which each part is turned on; else why none is searched for.
    fn best(&self) -> Result<(Clocked, Vec<Angle>), WhyNot> {
        if self.known.iter().all(|known| known.step.is_none()) {
            return Err("no part with a known unbalance says by which steps it can be turned: `indexed by`".into());
        }
        let mirrored = self.mirrored().map_err(WhyNot::Lacks)?;
        let mut gathered = Gathered::new();
        let at: Vec<PartAt> =
            self.known.iter().zip(mirrored).map(|(known, m)| known.gather(&mut gathered, m)).collect();
        let numbers = gathered.numbers().ok_or("not all places of the parts are known")?;
        let part = |(known, at): (&Known<'_, 'b>, &PartAt)| -> Option<KnownPart> {
            let step = match &known.step {
                Some(step) => Some(step.get()?),
                None => None,
            };
            Some(KnownPart { unbalances: at.unbalances(&numbers, Angle::ZERO).collect(), step })
        };
        let parts: Option<Vec<KnownPart>> = self.known.iter().zip(&at).map(part).collect();
        let parts = parts.ok_or("`indexed by` of a part cannot be read")?;
        let planes: Result<Vec<Length>, _> = self.planes.iter().map(|plane| plane.at.known.clone()).collect();
        let planes = planes.map_err(WhyNot::Lacks)?;
        let tolerances: Option<Vec<Unbalance>> = self.planes.iter().map(|plane| plane.tolerance.get()).collect();
        let clocked = best_clocking(&parts, &planes, tolerances.as_deref());
        let clocked = clocked.map_err(|error| WhyNot::Says(error.to_string().into()))?;
        let turns: Vec<Angle> = parts
            .iter()
            .zip(&clocked.positions)
            .map(|(part, position)| part.step.map_or(Angle::ZERO, |step| step * f64::from(*position)))
            .collect();
        Ok((clocked, turns))
    }

    /// Records these positions and what they leave.
    fn clocked(
        &self,
        recorder: &mut Recorder<'b>,
        spot: &Spot,
        (clocked, turns): &(Clocked, Vec<Angle>),
    ) -> Option<ClockedParts> {
        let in_planes = self.in_planes(recorder, spot, &result::CLOCKED_UNBALANCE, turns);
        if in_planes.is_empty() {
            let why = "the rotor has no plane that shares the tolerance";
            recorder.not_asked(spot, &[&result::CLOCKED_UNBALANCE], why);
        }
        let words = match clocked.tried_all {
            true => "every position was tried",
            false => "part by part, as there are too many positions to try them all",
        };
        recorder.words(spot, &result::CLOCKING_SEARCH, words);
        let mut fitted_at = Vec::new();
        for (known, turn) in self.known.iter().zip(turns) {
            if known.step.is_none() {
                let why = WhyNot::LeftOut(made_of::INDEXED_BY.any());
                recorder.not_asked(&Spot::heading(&known.part.block, self.id), &[&result::CLOCKING], why);
                continue;
            }

            let angle = (known.fitted_at.get()? + *turn).within_one_turn();
            fitted_at.push((known.number, angle));
            let block = &known.part.block;
            let spot = Spot::beside(block, self.id, block.field(made_of::INDEXED_BY));
            let outcome = match &self.sense {
                Ok(sense) => {
                    let meaning = Meaning::ZeroMark;
                    Outcome::Direction { angle: angle.in_radians(), standard: 0.0, meaning, sense: *sense }
                }
                Err(missing) => Outcome::Missing(missing.clone()),
            };
            recorder.push(&spot, &result::CLOCKING, outcome, None);
        }
        Some(ClockedParts { fitted_at, in_planes, tried_all: clocked.tried_all })
    }
}

impl Known<'_, '_> {
    fn gather(&self, gathered: &mut Gathered, mirrored: bool) -> PartAt {
        PartAt {
            unbalances: self
                .unbalances
                .iter()
                .map(|(vector, at)| (gathered.vector(vector), gathered.value(at)))
                .collect(),
            at: gathered.value(&self.at),
            fitted_at: gathered.value(&self.fitted_at),
            mirrored,
        }
    }
}

impl PartAt {
    /// In the assembly's angles and places.
    fn unbalances<'n>(
        &'n self,
        numbers: &'n Numbers,
        turn: Angle,
    ) -> impl Iterator<Item = (Vector<Unbalance>, Length)> + 'n {
        let (at, fitted_at): (Length, Angle) = (numbers.value(self.at), numbers.value(self.fitted_at));
        self.unbalances.iter().map(move |(vector, along)| {
            let own: Vector<Unbalance> = numbers.vector(*vector);
            let own = if self.mirrored { own.mirrored() } else { own };
            (own.rotate(fitted_at + turn), at + numbers.value::<Length>(*along))
        })
    }
}
