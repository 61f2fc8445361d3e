//! The proof of a setup: separation, linearity, return to the start, remounting.

use crate::book::derive::Val;
use crate::book::effective::EffectiveBlock;
use crate::book::formulas as by;
use crate::book::origin::Reason;
use crate::book::results::bench::mode::WorthAt;
use crate::book::results::bench::readings::indication;
use crate::book::results::bench::readings::{self as reading, ReadingResults};
use crate::book::results::measuring::sheet::Sheet;
use crate::book::results::measuring::turn::within_half_a_turn;
use crate::book::results::values::entry::{Recorder, Spot, origin};
use crate::book::results::values::not_computed::WhyNot;
use crate::book::vectors::{Gathered, Numbers};
use crate::mechanics::machine::interference_ratio;
use crate::mechanics::proof::{departure_from_line, departure_from_put_on};
use crate::sheet::FieldValue;
use crate::syntax::Kind;
use crate::units::{Angle, Indication, Length, Mass, Ratio, Unbalance, Unit, Vector};
use crate::vocabulary::{AnyFact, ResultSpec, proof, result, separation, setup};

/// What is computed of a setup's proof.
pub struct ProofResults<'b> {
    pub block: EffectiveBlock<'b>,
    pub separations: Vec<SeparationResults<'b>>,
    pub linearities: Vec<LinearityResults<'b>>,
    /// For each channel, how far the reading without masses moved, as a share of the reading at tolerance.
    pub returns: Vec<(&'b str, Val<Ratio>)>,
    /// For each channel, how far remounting moves it.
    pub repeatability: Vec<(&'b str, Val<Ratio>)>,
}

/// A mass in one plane, read there and in the others.
pub struct SeparationResults<'b> {
    pub plane: &'b str,
    pub block: EffectiveBlock<'b>,
    /// The largest share that another plane shows of it; `None` when no other plane was read.
    pub interference: Option<Val<Ratio>>,
    pub own_error: Option<Val<Ratio>>,
    /// How far from the mass its heavy spot is shown, within half a turn; `None` without angles.
    pub own_angle: Option<Val<Angle>>,
}

/// Another mass in the same plane.
pub struct LinearityResults<'b> {
    pub plane: &'b str,
    pub block: EffectiveBlock<'b>,
    pub departure: Option<Val<Ratio>>,
}

pub(super) struct Proof<'a, 'b> {
    pub(super) sheet: &'a Sheet<'a, 'b>,
    pub(super) block: &'a EffectiveBlock<'b>,
    start: Vec<ReadingResults<'b>>,
}

pub(in crate::book::results) fn of<'b>(recorder: &mut Recorder<'b>, sheet: &Sheet<'_, 'b>) -> Option<ProofResults<'b>> {
    let block = sheet.block.latest_proof()?.clone();
    for older in sheet.block.inner(Kind::Proof).filter(|older| older.path != block.path) {
        let why = match older.proven_with() {
            Some(_) => "it is not the latest proof: only the records that name it rest on it",
            None => "it does not say what it was made with: the sheet goes by a proof that does",
        };
        recorder.none_of(older, sheet.id, why);
    }
    let start = reading::readings(recorder, &sheet.angles(), &block, proof::START_READING);
    let proof = Proof { sheet, block: &block, start };
    let separations: Vec<SeparationResults<'b>> =
        block.inner(Kind::Separation).map(|mass| proof.separation(recorder, mass)).collect();
    let linearities = block.inner(Kind::Linearity).map(|mass| proof.linearity(recorder, mass)).collect();
    let returns = proof.returns(recorder);
    let repeatability = proof.repeatability(recorder);
    Some(ProofResults { separations, linearities, returns, repeatability, block })
}

/// Where the numbers of a reading with a mass and of the start stand; vectors when both have angles.
struct Effect {
    with_mass: usize,
    start: Option<usize>,
    vectors: bool,
}

impl Effect {
    /// What the mass alone reads.
    fn of(&self, numbers: &Numbers) -> Indication {
        if !self.vectors {
            // The start is small where amounts are let stand for the difference.
            return numbers.value(self.with_mass);
        }
        let start = self.start.map_or_else(Vector::zero, |at| numbers.vector::<Indication>(at));
        (numbers.vector::<Indication>(self.with_mass) - start).amount()
    }
}

fn no_channel(plane: &str) -> String {
    format!("no channel is said to read plane `{plane}`")
}

impl<'a, 'b> Proof<'a, 'b> {
    fn spot(&self, block: &EffectiveBlock<'b>, keys: &[AnyFact]) -> Spot {
        let field = keys.iter().find_map(|key| block.field(*key));
        Spot::beside(block, self.sheet.id, field)
    }

    fn channel_of(&self, plane: &str) -> Option<&'b str> {
        self.sheet.channels.iter().find(|(_, reads)| *reads == plane).map(|(channel, _)| *channel)
    }

    fn said_channel_of(&self, plane: &str) -> Result<&'b str, String> {
        self.channel_of(plane).ok_or_else(|| no_channel(plane))
    }

    pub(super) fn start(&self, channel: &str) -> Option<&ReadingResults<'b>> {
        self.start.iter().find(|reading| reading.channel == channel)
    }

    /// The reading of a channel with a mass on, and the one without, on their way into a formula. Amounts alone are let
    /// stand for the mass's own effect only where the start is small beside them.
    fn effect(&self, gathered: &mut Gathered, read: &[ReadingResults<'b>], channel: &str) -> Result<Effect, String> {
        let reading = read.iter().find(|reading| reading.channel == channel);
        let reading = reading.ok_or_else(|| format!("`reading {channel}` is missing"))?;
        let start = self.start(channel);
        if let (Some(vector), Some(Some(start))) = (reading.vector(), start.map(ReadingResults::vector)) {
            let with_mass = gathered.vector(&vector);
            return Ok(Effect { with_mass, start: Some(gathered.vector(&start)), vectors: true });
        }
        let Some(start) = start.and_then(|start| start.amount.get()) else {
            return Err(format!("`start reading {channel}` is missing"));
        };
        if start.value() > self.most_at_start(read) {
            return Err(format!(
                "amounts are compared only when the rotor was pre-balanced, and channel `{channel}` read too much at the start"
            ));
        }
        Ok(Effect { with_mass: gathered.value(&reading.without_start(start)), start: None, vectors: false })
    }

    /// `pre-balance to`, else a tenth of the largest reading with the mass on.
    fn most_at_start(&self, read: &[ReadingResults<'b>]) -> f64 {
        let readout = self.sheet.machine.and_then(|machine| machine.readout.as_ref());
        let stated = self.sheet.block.field(setup::PRE_BALANCE_TO).and_then(|field| match &field.field.value {
            FieldValue::Reading(reading) => indication(reading, readout),
            _ => None,
        });
        let largest = read.iter().filter_map(|reading| reading.amount.get()).map(Indication::value);
        stated.map_or_else(|| largest.fold(0.0, f64::max) / 10.0, |(limit, _)| limit.value())
    }

    pub(super) fn worth(&self, recorder: &Recorder<'b>, gathered: &mut Gathered, plane: &str) -> WorthAt {
        self.sheet.worth(plane, recorder.facts.shop.unbalance_unit).gather(gathered)
    }

    fn impossible(&self, spot: &Spot, spec: &'static ResultSpec, why: String) -> Val<Ratio> {
        Val::missing(origin(spot, spec), Reason::Impossible(why.into()), Unit::PERCENT)
    }

    fn put_on(&self, recorder: &Recorder<'b>, block: &EffectiveBlock<'b>) -> Val<Unbalance> {
        let mass: Val<Mass> = recorder.facts.quantity(block, separation::MASS);
        let radius: Val<Length> = recorder.facts.radius(block, separation::RADIUS, separation::DIAMETER);
        let unit = recorder.facts.shop.unbalance_unit;
        let spot = Spot::heading(block, self.sheet.id);
        recorder.on_the_way(
            &spot,
            &result::OWN_READING_ERROR,
            unit,
            &by::MASS_TIMES_RADIUS,
            (&mass, &radius),
            |(mass, radius): (Mass, Length)| Ok(mass * radius),
        )
    }

    fn separation(&self, recorder: &mut Recorder<'b>, block: &EffectiveBlock<'b>) -> SeparationResults<'b> {
        let plane = block.name_text();
        let read = reading::readings(recorder, &self.sheet.angles(), block, separation::READING);
        let others = self.sheet.channels.iter().filter(|(_, other)| *other != plane);
        let ratios: Vec<Val<Ratio>> =
            others.map(|(channel, other)| self.interference(recorder, block, &read, plane, (channel, other))).collect();
        let largest = ratios.into_iter().reduce(|a, b| match (a.get(), b.get()) {
            (Some(x), Some(y)) if y > x => b,
            (Some(_), None) => b,
            _ => a,
        });
        let spot = self.spot(block, &[separation::MASS.any()]);
        match &largest {
            Some(largest) => recorder.keep(&spot, &result::PROOF_INTERFERENCE, largest),
            None => recorder.not_asked(&spot, &[&result::PROOF_INTERFERENCE], "no channel reads another plane"),
        }
        let own_error = self.own_error(recorder, block, &read, plane);
        let own_angle = self.own_angle(recorder, block, &read, plane);
        SeparationResults { plane, block: block.clone(), interference: largest, own_error, own_angle }
    }

    fn interference(
        &self,
        recorder: &Recorder<'b>,
        block: &EffectiveBlock<'b>,
        read: &[ReadingResults<'b>],
        plane: &str,
        (other_channel, other): (&str, &str),
    ) -> Val<Ratio> {
        let (spot, spec) = (self.spot(block, &[separation::MASS.any()]), &result::PROOF_INTERFERENCE);
        let mut gathered = Gathered::new().curved();
        let effects = self
            .said_channel_of(plane)
            .and_then(|channel| self.effect(&mut gathered, read, channel))
            .and_then(|own| Ok((own, self.effect(&mut gathered, read, other_channel)?)));
        let (own, across) = match effects {
            Ok(effects) => effects,
            Err(why) => return self.impossible(&spot, spec, why),
        };
        let own_worth = self.worth(recorder, &mut gathered, plane);
        let other_worth = self.worth(recorder, &mut gathered, other);
        let here = (origin(&spot, spec), Unit::PERCENT);
        gathered.work_out_one(here, recorder.explained(&by::PROOF_RATIO), |numbers| {
            let shown =
                |effect: &Effect, worth: WorthAt| Indication::showing(worth.unbalance(numbers, effect.of(numbers)));
            interference_ratio(shown(&across, other_worth), shown(&own, own_worth))
        })
    }

    fn own_error(
        &self,
        recorder: &mut Recorder<'b>,
        block: &EffectiveBlock<'b>,
        read: &[ReadingResults<'b>],
        plane: &str,
    ) -> Option<Val<Ratio>> {
        let (spot, spec) = (self.spot(block, &[separation::MASS.any()]), &result::OWN_READING_ERROR);
        let mut gathered = Gathered::new();
        let own = self.said_channel_of(plane).and_then(|channel| self.effect(&mut gathered, read, channel));
        let own = match own {
            Ok(own) => own,
            Err(why) => {
                recorder.not_asked(&spot, &[spec], WhyNot::Says(why.into()));
                return None;
            }
        };
        let worth = self.worth(recorder, &mut gathered, plane);
        let put_on = gathered.value(&self.put_on(recorder, block));
        let here = (origin(&spot, spec), Unit::PERCENT);
        let error = gathered.work_out_one(here, recorder.explained(&by::OWN_ERROR), |numbers| {
            departure_from_put_on(worth.unbalance(numbers, own.of(numbers)), numbers.value(put_on))
        });
        recorder.keep(&spot, spec, &error);
        Some(error)
    }

    /// The heavy spot as it is shown for the mass, against where the mass stands.
    fn own_angle(
        &self,
        recorder: &mut Recorder<'b>,
        block: &EffectiveBlock<'b>,
        read: &[ReadingResults<'b>],
        plane: &str,
    ) -> Option<Val<Angle>> {
        let (spot, spec) = (self.spot(block, &[separation::ANGLE.any()]), &result::OWN_ANGLE_ERROR);
        let given = self.said_channel_of(plane).map_err(|why| WhyNot::Says(why.into())).and_then(|channel| {
            let reading = read.iter().find(|reading| reading.channel == channel);
            let reading = reading.ok_or_else(|| WhyNot::Says(format!("`reading {channel}` is missing").into()))?;
            let vector = reading.vector().ok_or("the reading has no angle")?;
            block.field(separation::ANGLE).ok_or_else(|| WhyNot::LeftOut(separation::ANGLE.any()))?;
            Ok((channel, vector))
        });
        let (channel, reading) = match given {
            Ok(given) => given,
            Err(why) => {
                recorder.not_asked(&spot, &[spec], why);
                return None;
            }
        };
        let mut gathered = Gathered::new();
        let with_mass = gathered.vector(&reading);
        let start = self.start(channel).and_then(ReadingResults::vector).map(|start| gathered.vector(&start));
        let stands: Val<Angle> = recorder.facts.quantity(block, separation::ANGLE);
        let stands = gathered.value(&stands);
        let turn = gathered.value(&self.sheet.turn(recorder, &spot, plane));
        let here = (origin(&spot, spec), Unit::DEGREE);
        let off = |numbers: &Numbers| {
            let start = start.map_or_else(Vector::zero, |at| numbers.vector::<Indication>(at));
            let shown = numbers.vector::<Indication>(with_mass) - start;
            within_half_a_turn(shown.angle() + numbers.value(turn) - numbers.value(stands))
        };
        // Half a turn off is as near to one side as to the other; what it is known to counts from where it is.
        let as_read = gathered.numbers().map_or(Angle::ZERO, |numbers| off(&numbers));
        let error = gathered.work_out_one(here, recorder.explained(&by::OWN_ANGLE), |numbers| {
            Ok(as_read + within_half_a_turn(off(numbers) - as_read))
        });
        recorder.keep(&spot, spec, &error);
        Some(error)
    }

    /// Against the separation of the same plane, whose mass is another.
    fn linearity(&self, recorder: &mut Recorder<'b>, block: &EffectiveBlock<'b>) -> LinearityResults<'b> {
        let plane = block.name_text();
        let departure = self.departure(recorder, block, plane);
        LinearityResults { plane, block: block.clone(), departure }
    }

    fn departure(&self, recorder: &mut Recorder<'b>, block: &EffectiveBlock<'b>, plane: &str) -> Option<Val<Ratio>> {
        let (spot, spec) = (self.spot(block, &[separation::MASS.any()]), &result::DEPARTURE_FROM_LINE);
        let first = self.block.inner(Kind::Separation).find(|other| other.name_text() == plane);
        let first = first.ok_or_else(|| format!("`separation {plane}`, with which it is compared, is missing"));
        let given = first.and_then(|first| Ok((first, self.said_channel_of(plane)?)));
        let (first, channel) = match given {
            Ok(given) => given,
            Err(why) => {
                recorder.not_asked(&spot, &[spec], WhyNot::Says(why.into()));
                return None;
            }
        };
        let mut gathered = Gathered::new();
        let mut side = |block: &EffectiveBlock<'b>| {
            let read = reading::readings(recorder, &self.sheet.angles(), block, separation::READING);
            let effect = self.effect(&mut gathered, &read, channel)?;
            Ok((effect, gathered.value(&self.put_on(recorder, block))))
        };
        let sides: Result<_, String> = side(first).and_then(|one| Ok((one, side(block)?)));
        let value = match sides {
            Ok((one, two)) => {
                let here = (origin(&spot, spec), Unit::PERCENT);
                gathered.work_out_one(here, recorder.explained(&by::OFF_THE_LINE), |numbers| {
                    let side = |(effect, put): &(Effect, usize)| (numbers.value(*put), effect.of(numbers));
                    departure_from_line(side(&one), side(&two))
                })
            }
            Err(why) => self.impossible(&spot, spec, why),
        };
        recorder.keep(&spot, spec, &value);
        Some(value)
    }
}
