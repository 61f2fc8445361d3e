//! What the channels read in a run, as amounts of the readout and angles of the rotor.

use crate::book::derive::Val;
use crate::book::effective::{EffectiveBlock, EffectiveField};
use crate::book::files::FileId;
use crate::book::origin::{Origin, Reason};
use crate::book::readers::Facts;
use crate::book::results::bench::angles::{Angles, Shown};
use crate::book::results::bench::machine::{ReadoutFacts, suits_readout};
use crate::book::results::values::entry::Recorder;
use crate::book::vectors::VectorVal;
use crate::sheet::{FieldValue, StatedReading};
use crate::text::Span;
use crate::units::{Angle, Dimension, Indication, Unit};
use crate::units::{Contributions, Part, Source};
use crate::vocabulary::proof::shows_beside;
use crate::vocabulary::{ClockOrAngle, Fact, Reading};

/// What one channel read.
#[derive(Clone, Debug)]
pub struct ReadingResults<'b> {
    pub channel: &'b str,
    /// In readout units.
    pub amount: Val<Indication>,
    /// From the readout's zero, in the sense of the rotor's angles. `None` when no angle was read.
    pub angle: Option<Val<Angle>>,
    /// The value of the fact.
    pub place: (FileId, Span),
}

impl ReadingResults<'_> {
    /// The amount, as what a mass alone reads: what stood there before it came on, at an angle that nobody read, may add
    /// to it or take off it whole. That is a limit, and its angle unknown: rectangular (GUM 4.3.7, from memory).
    pub fn without_start(&self, start: Indication) -> Val<Indication> {
        let (file, span) = self.place;
        let source = Source::Written { at: file.place(span), nth: 0, part: Part::Start };
        let mut amount = self.amount.clone();
        amount.contributions.add(&Contributions::of(source, start.value() / 3f64.sqrt()), 1.0);
        amount
    }

    /// Amount and angle together; `None` when no angle was read.
    pub fn vector(&self) -> Option<VectorVal<Indication>> {
        self.angle.as_ref().map(|angle| VectorVal::from_polar(&self.amount, angle))
    }
}

/// The readings of a block, one a channel, in the order in which they are written.
pub(in crate::book::results) fn readings<'b>(
    recorder: &Recorder<'b>,
    angles: &Angles<'_, 'b>,
    block: &EffectiveBlock<'b>,
    fact: Fact<Reading>,
) -> Vec<ReadingResults<'b>> {
    let facts = &recorder.facts;
    block
        .named(fact)
        .map(|(channel, field)| {
            let origin =
                Origin { name: format!("{fact} {}", channel.text).into(), ..facts.origin(block, fact, Some(field)) };
            let place = (field.item.file, field.field.value_span);
            let FieldValue::Reading(reading) = &field.field.value else {
                let amount = Val::missing(origin, Reason::Unreadable, Unit::ONE);
                return ReadingResults { channel: &channel.text, amount, angle: None, place };
            };
            let amount = amount_on(facts, angles.readout(), field, (0, reading), origin.clone());
            let angle = match &reading.angle {
                Some(stated) => Some(angles.shown(facts, field, Shown::Angle(stated, 0), origin)),
                None => shown_beside(facts, angles, block, (shows_beside(fact), &channel.text)),
            };
            ReadingResults { channel: &channel.text, amount, angle, place }
        })
        .collect()
}

/// Several readings of one channel that are in one fact.
pub(in crate::book::results) fn several<'b>(
    recorder: &Recorder<'b>,
    angles: &Angles<'_, 'b>,
    block: &EffectiveBlock<'b>,
    channel: &'b str,
    field: EffectiveField<'b>,
) -> Vec<ReadingResults<'b>> {
    let facts = &recorder.facts;
    let place = (field.item.file, field.field.value_span);
    let origin = Origin { name: format!("{} {channel}", field.field.key.name).into(), ..facts.origin_of(block, field) };
    let FieldValue::Readings(readings) = &field.field.value else {
        let amount = Val::missing(origin, Reason::Unreadable, Unit::ONE);
        return vec![ReadingResults { channel, amount, angle: None, place }];
    };
    readings
        .iter()
        .enumerate()
        .map(|(nth, reading)| {
            let amount = amount_on(facts, angles.readout(), field, (nth, reading), origin.clone());
            let shown = reading.angle.as_ref().map(|stated| Shown::Angle(stated, nth));
            let angle = shown.map(|shown| angles.shown(facts, field, shown, origin.clone()));
            ReadingResults { channel, amount, angle, place }
        })
        .collect()
}

/// What strobe or pointer showed, where the block says so in a fact of its own.
fn shown_beside<'b>(
    facts: &Facts<'b>,
    angles: &Angles<'_, 'b>,
    block: &EffectiveBlock<'b>,
    (shows, channel): (Fact<ClockOrAngle>, &str),
) -> Option<Val<Angle>> {
    let (_, field) = block.named(shows).find(|(name, _)| *name.text == *channel)?;
    let origin = Origin { name: format!("{shows} {channel}").into(), ..facts.origin(block, shows, Some(field)) };
    Some(match Shown::of(&field.field.value) {
        Some(shown) => angles.shown(facts, field, shown, origin),
        None => Val::missing(origin, Reason::Unreadable, Unit::DEGREE),
    })
}

/// The n-th amount of a field as its readout was read.
pub(in crate::book::results) fn amount_on<'b>(
    facts: &Facts<'b>,
    readout: Option<&ReadoutFacts<'b>>,
    field: EffectiveField<'b>,
    (nth, reading): (usize, &StatedReading),
    origin: Origin,
) -> Val<Indication> {
    let Some((value, unit)) = indication(reading, readout) else {
        return Val::missing(origin, Reason::Unreadable, Unit::ONE);
    };
    if readout.is_some_and(|readout| !suits_readout(reading.amount.dimension(), readout)) {
        let why = "the reading is not in what the readout shows";
        return Val::missing(origin, Reason::Impossible(why.into()), Unit::ONE);
    }
    let own: Val<Indication> = facts.read_off(field, nth, &reading.amount, step_of(readout, reading), origin);
    // Marks of a scale become what the readout shows.
    let of_one = if reading.amount.base == 0.0 {
        readout.and_then(|readout| readout.scale_of(reading)?.one_mark).unwrap_or(1.0)
    } else {
        value.value() / reading.amount.base
    };
    let mut contributions = crate::units::Contributions::none();
    contributions.add(&own.contributions, of_one);
    Val { known: Ok(value), contributions, unit, ..own }
}

/// The smallest step of the readout, or of the scale that was read, in the unit of the reading.
pub(in crate::book::results) fn step_of(readout: Option<&ReadoutFacts<'_>>, reading: &StatedReading) -> f64 {
    let Some(readout) = readout else { return 0.0 };
    if reading.amount.dimension() != Dimension::MARK {
        let of_scales = || readout.step_for(Indication::new(reading.amount.base));
        return readout.smallest_step.get().or_else(of_scales).map_or(0.0, Indication::value);
    }
    readout.scale_of(reading).and_then(|scale| scale.smallest_step).unwrap_or(0.0)
}

/// A stated reading as the readout shows it, with the unit of the readout; marks on a scale become what they stand for.
/// `None` when the readout cannot show it: another dimension, or no such scale.
pub fn indication(reading: &StatedReading, readout: Option<&ReadoutFacts<'_>>) -> Option<(Indication, Unit)> {
    let dimension = reading.amount.dimension();
    if dimension != Dimension::MARK {
        let suits = readout.is_none_or(|readout| readout.unit.dimension() == dimension);
        return suits.then_some((Indication::new(reading.amount.base), reading.amount.unit));
    }
    let readout = readout?;
    let one_mark = readout.scale_of(reading)?.one_mark?;
    Some((Indication::new(reading.amount.base * one_mark), readout.unit))
}
