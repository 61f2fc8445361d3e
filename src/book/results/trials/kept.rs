//! Influences that a proof or a record has kept, in place of those of trial runs.

use super::TrialResults;
use super::influence::{AmountAsFound, InfluenceResults};
use super::sets::is_same;
use crate::book::derive::{Val, derive};
use crate::book::effective::{EffectiveBlock, EffectiveField};
use crate::book::origin::{Origin, Reason};
use crate::book::readers::source;
use crate::book::results::bench::Bench;
use crate::book::results::values::entry::Recorder;
use crate::book::vectors::VectorVal;
use crate::mechanics::influence as physics;
use crate::sheet::{FieldValue, StatedReading};
use crate::syntax::Kind;
use crate::units::{Angle, Contributions, Indication, Part, Sensitivity, Speed, Unbalance, Unit};
use crate::vocabulary::{influence, trial};

/// What `kept` says of channels and planes; `None` where it has no `influence`.
pub(in crate::book::results) fn of<'b>(
    recorder: &Recorder<'b>,
    bench: &Bench<'_, 'b>,
    mapping: &[(&'b str, &'b str)],
    kept: &EffectiveBlock<'b>,
) -> Option<TrialResults<'b>> {
    let blocks: Vec<&EffectiveBlock<'b>> = kept.inner(Kind::Influence).collect();
    let channels: Vec<&'b str> = blocks.iter().map(|block| block.name_text()).collect();
    let mut planes: Vec<&'b str> = Vec::new();
    for (plane, _) in blocks.iter().flat_map(|block| block.named(influence::IN_PLANE)) {
        if !planes.contains(&&*plane.text) {
            planes.push(&plane.text);
        }
    }
    if planes.is_empty() {
        return None;
    }
    let row = |block: &&EffectiveBlock<'b>| planes.iter().map(|plane| coefficient(recorder, block, plane)).collect();
    let rows: Vec<Vec<Coefficient>> = blocks.iter().map(row).collect();
    let with_angles = rows.iter().flatten().all(|one| one.angle.is_some());
    let worth_of_amount = match &rows[..] {
        [row] if !with_angles && row.len() == 1 => Some(worth(&row[0].amount)),
        _ => None,
    };
    let vectors = |row: Vec<Coefficient>| row.iter().map(Coefficient::vector).collect();
    let coefficients = if with_angles { rows.into_iter().map(vectors).collect() } else { Vec::new() };
    let of_sheet = || super::of(&mut Recorder::new(recorder.facts), bench, mapping);
    let amount_as_found = worth_of_amount.as_ref().and_then(|worth| as_found(of_sheet()?, worth));
    let found = InfluenceResults { coefficients, worth_of_amount, amount_as_found, ..InfluenceResults::default() };
    let speed = |block: &EffectiveBlock<'b>| recorder.facts.quantity::<Speed>(block, influence::SPEED).get();
    let (speed, within) = (blocks.iter().find_map(|block| speed(block)), bench.within());
    // Only what was found at one speed is kept; the sheet's own trials tell of others.
    let is_other = |trial: &EffectiveBlock<'b>| {
        let own = recorder.facts.quantity::<Speed>(trial, trial::SPEED).get();
        speed.zip(own).is_some_and(|(kept, own)| !is_same(kept, own, within))
    };
    let others = bench.setup.inner(Kind::Trial).any(is_other);
    let others = others.then(|| of_sheet().map_or_else(Vec::new, |trials| trials.others));
    Some(TrialResults {
        speed,
        within,
        runs: Vec::new(),
        channels,
        planes,
        with_angles,
        pre_balanced: None,
        is_kept: true,
        found,
        at_balancing_speed: Vec::new(),
        others: others.unwrap_or_default(),
    })
}

/// The rotor as the trials of the sheet found it, where these are the trials that were kept: six digits are written.
fn as_found(trials: TrialResults<'_>, kept: &Val<Unbalance>) -> Option<AmountAsFound> {
    let own = trials.found.worth_of_amount.as_ref()?.get()?;
    let is_same = ((own - kept.get()?) / own).value().abs() < 1e-5;
    trials.found.amount_as_found.filter(|_| is_same)
}

/// What a channel reads for one unbalance in a plane.
struct Coefficient {
    amount: Val<Sensitivity>,
    angle: Option<Val<Angle>>,
}

impl Coefficient {
    fn vector(&self) -> VectorVal<Sensitivity> {
        match &self.angle {
            Some(angle) => VectorVal::from_polar(&self.amount, angle),
            None => VectorVal::missing(self.amount.origin.clone(), Reason::NotGiven, self.amount.unit),
        }
    }
}

/// A plane that the block does not name is not heard.
fn coefficient<'b>(recorder: &Recorder<'b>, block: &EffectiveBlock<'b>, plane: &str) -> Coefficient {
    let per: Val<Unbalance> = recorder.facts.quantity(block, influence::PER);
    let field = block.named(influence::IN_PLANE).find(|(name, _)| &*name.text == plane).map(|(_, field)| field);
    let origin = Origin { name: plane.to_owned().into(), ..recorder.facts.origin(block, influence::IN_PLANE, field) };
    let silent = || Coefficient {
        amount: Val::exact(Sensitivity::default(), origin.clone(), Unit::ONE),
        angle: Some(Val::exact(Angle::ZERO, origin.clone(), Unit::DEGREE)),
    };
    let Some(field) = field else { return silent() };
    let FieldValue::Reading(reading) = &field.field.value else {
        return Coefficient { amount: Val::missing(origin, Reason::Unreadable, Unit::ONE), angle: None };
    };
    let shown: Val<Indication> = recorder.facts.stated(block, field, &reading.amount, origin.clone());
    let unit = shown.unit.per_whole(per.unit).unwrap_or(Unit::ONE);
    let amount = derive(origin.clone(), unit, None, (&shown, &per), |(shown, per): (Indication, Unbalance)| {
        physics::coefficient_of(shown, per)
    });
    Coefficient { amount, angle: angle_of(field, reading, origin) }
}

fn angle_of(field: EffectiveField<'_>, reading: &StatedReading, origin: Origin) -> Option<Val<Angle>> {
    let stated = reading.angle.as_ref()?;
    let standard = stated.stated_uncertainty().unwrap_or(0.0);
    let contributions = Contributions::of(source(field, 0, Part::Angle), standard);
    Some(Val { contributions, ..Val::exact(stated.typed(), origin, Unit::DEGREE) })
}

/// The unbalance that one unit of the readout means.
fn worth(amount: &Val<Sensitivity>) -> Val<Unbalance> {
    let f = |(amount,)| physics::worth_of_one(amount);
    derive(amount.origin.clone(), Unit::GRAM_MILLIMETRE, None, (amount,), f)
}
