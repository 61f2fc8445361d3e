//! What the angles of a sheet mean: in which direction they count, and what a strobe shows of the rotor.

use std::sync::Arc;

use super::machine::{MachineFacts, ReadoutFacts};
use crate::book::derive::Val;
use crate::book::effective::{EffectiveBlock, EffectiveField};
use crate::book::origin::{Missing, Origin, Reason};
use crate::book::readers::{Facts, source};
use crate::book::results::rotor::seen::Seen;
use crate::mechanics::strobe::{Round, angle_at_place, clock_direction};
use crate::sheet::{FieldValue, Stated};
use crate::units::{Angle, Contributions, Part, Typed, Unit};
use crate::vocabulary::readout::{AngleDisplay, StrobeShows};
use crate::vocabulary::{AnyFact, Sense, readout, rotor, setup};

/// A clock place is read to the nearest half hour where the readout says nothing finer: 15 degrees from one to the
/// next. Source: common practice, no source.
const CLOCK_STEP: f64 = 15.0;

/// The facts that give an angle its meaning.
#[derive(Clone, Copy)]
pub(in crate::book::results) struct Angles<'a, 'b> {
    pub setup: &'a EffectiveBlock<'b>,
    pub rotor: Option<&'a EffectiveBlock<'b>>,
    pub machine: Option<&'a MachineFacts<'b>>,
}

impl<'a, 'b> Angles<'a, 'b> {
    pub fn readout(&self) -> Option<&'a ReadoutFacts<'b>> {
        self.machine.and_then(|machine| machine.readout.as_ref())
    }

    fn rotor(&self, facts: &Facts<'b>) -> Result<&'a EffectiveBlock<'b>, Arc<Missing>> {
        self.rotor.ok_or_else(|| self.lacking(facts, setup::ROTOR.any(), Reason::NoSuchItem))
    }

    fn stated_readout(&self, facts: &Facts<'b>) -> Result<&'a ReadoutFacts<'b>, Arc<Missing>> {
        self.readout().ok_or_else(|| self.lacking(facts, setup::MACHINE.any(), Reason::NoSuchItem))
    }

    fn lacking(&self, facts: &Facts<'b>, fact: AnyFact, reason: Reason) -> Arc<Missing> {
        Arc::new(Missing { origin: facts.origin(self.setup, fact, self.setup.field(fact)), reason })
    }

    /// The direction in which the rotor's angles count.
    pub fn sense(&self, facts: &Facts<'b>) -> Result<Sense, Arc<Missing>> {
        self.rotor(facts)?.stated_choice(rotor::ANGLES_COUNT)
    }

    /// How what the readout shows for an angle stands to the angles of the rotor.
    pub fn read_as(&self, facts: &Facts<'b>) -> Result<AngleRead, Arc<Missing>> {
        let Some(readout) = self.readout().map(|readout| &readout.block) else { return Ok(AngleRead::Place) };
        Ok(match readout.choice(readout::ANGLES) {
            Some(AngleDisplay::Measured) if readout.stated_choice(readout::ANGLES_COUNT)? == self.sense(facts)? => {
                AngleRead::OfRotor
            }
            Some(AngleDisplay::Measured) => AngleRead::CountedBack,
            Some(AngleDisplay::NotShown) => AngleRead::Place,
            Some(AngleDisplay::ByStrobe) | None => match readout.choice(readout::STROBE_SHOWS) {
                Some(StrobeShows::NumberAtPointer) => AngleRead::OfRotor,
                Some(StrobeShows::ClockPlaceOfMark) | None => AngleRead::Place,
            },
        })
    }

    /// Which way round the dial the rotor's angles grow, seen from where the readout is looked at.
    fn angles_grow(&self, facts: &Facts<'b>) -> Result<Round, Arc<Missing>> {
        let seen = Seen::of(self.rotor(facts)?)?;
        Ok(seen.from_end(self.stated_readout(facts)?.block.stated_choice(readout::POINTER_SEEN_FROM)?).grows)
    }

    /// The least difference of angle that can be read; `None` where the readout does not say.
    pub fn step(&self, facts: &Facts<'b>) -> Option<Angle> {
        let readout = &self.readout()?.block;
        let step: Val<Angle> = facts.quantity(readout, readout::ANGLE_STEP);
        let clock = readout.choice(readout::STROBE_SHOWS) == Some(StrobeShows::ClockPlaceOfMark);
        step.get().or(clock.then_some(Angle::degrees(CLOCK_STEP)))
    }

    /// The rotor's angle that is at the readout's zero: at twelve of the clock under a strobe that shows where the
    /// mark is. The same for all readings of the machine, but for what [`Angles::at_pointer`] adds.
    pub fn shown(&self, facts: &Facts<'b>, field: EffectiveField<'b>, value: Shown<'_>, origin: Origin) -> Val<Angle> {
        match self.shown_or_why(facts, field, value, &origin) {
            Ok(angle) => angle,
            Err(missing) => lacking(origin, missing),
        }
    }

    fn shown_or_why(
        &self,
        facts: &Facts<'b>,
        field: EffectiveField<'b>,
        value: Shown<'_>,
        origin: &Origin,
    ) -> Result<Val<Angle>, Arc<Missing>> {
        let readout = self.stated_readout(facts)?;
        let impossible = |why: &'static str| {
            Err(Arc::new(Missing { origin: origin.clone(), reason: Reason::Impossible(why.into()) }))
        };
        let step = self.step(facts);
        let read = |stated: &Stated, nth| -> Val<Angle> {
            facts.read_off(field, nth, stated, step.map_or(0.0, Angle::base), origin.clone())
        };
        let strobe = || readout.block.stated_choice(readout::STROBE_SHOWS);
        match (readout.block.stated_choice(readout::ANGLES)?, value) {
            (AngleDisplay::NotShown, _) => impossible("the readout shows no angles"),
            (AngleDisplay::ByStrobe, Shown::Angle(stated, nth)) => match strobe()? {
                StrobeShows::NumberAtPointer => Ok(read(stated, nth)),
                StrobeShows::ClockPlaceOfMark => {
                    impossible("the strobe shows a place on the face of a clock, not an angle")
                }
            },
            (AngleDisplay::ByStrobe, Shown::Clock { hour, minute }) => match strobe()? {
                StrobeShows::NumberAtPointer => {
                    impossible("the strobe shows the number at the pointer, not a place of the clock")
                }
                StrobeShows::ClockPlaceOfMark => {
                    let grow = self.angles_grow(facts)?;
                    let angle = angle_at_place(Angle::ZERO, clock_direction(hour, minute), grow);
                    let half = step.map_or(0.0, Angle::base) / 2.0;
                    let contributions = Contributions::of(source(field, 0, Part::Angle), half / 3f64.sqrt());
                    Ok(Val { contributions, ..Val::exact(angle, origin.clone(), Unit::DEGREE) })
                }
            },
            (AngleDisplay::Measured, Shown::Clock { .. }) => {
                impossible("the readout measures angles; a place of the clock says nothing of them")
            }
            (AngleDisplay::Measured, Shown::Angle(stated, nth)) => {
                let read = read(stated, nth);
                Ok(if self.read_as(facts)? == AngleRead::CountedBack { reversed(read) } else { read })
            }
        }
    }

    /// What has to be added to what [`Angles::shown`] gives for the angle that is at the pointer.
    pub fn at_pointer(&self, facts: &Facts<'b>) -> Val<Angle> {
        let zero = facts.origin(self.setup, setup::MACHINE, self.setup.field(setup::MACHINE));
        match self.pointer_or_why(facts, &zero) {
            Ok(angle) => angle,
            Err(missing) => lacking(zero, missing),
        }
    }

    fn pointer_or_why(&self, facts: &Facts<'b>, zero: &Origin) -> Result<Val<Angle>, Arc<Missing>> {
        let readout = self.stated_readout(facts)?;
        let shows_clock = readout.block.choice(readout::ANGLES) == Some(AngleDisplay::ByStrobe)
            && readout.block.stated_choice(readout::STROBE_SHOWS)? == StrobeShows::ClockPlaceOfMark;
        if !shows_clock {
            return Ok(Val::exact(Angle::ZERO, zero.clone(), Unit::DEGREE));
        }
        let field = readout.block.field(readout::POINTER_AT);
        let origin = facts.origin(&readout.block, readout::POINTER_AT, field);
        let Some(field) = field else { return Err(Arc::new(Missing { origin, reason: Reason::NotGiven })) };
        let FieldValue::Clock { hour, minute } = field.field.value else {
            return Err(Arc::new(Missing { origin, reason: Reason::Unreadable }));
        };
        let direction = clock_direction(hour, minute);
        Ok(Val::exact(angle_at_place(direction, Angle::ZERO, self.angles_grow(facts)?), origin, Unit::DEGREE))
    }
}

/// What is read for an angle, against the angles of the rotor.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum AngleRead {
    /// An angle of the rotor.
    OfRotor,
    /// An angle of the rotor that counts the other way round.
    CountedBack,
    /// A place of the machine, or nothing.
    Place,
}

impl AngleRead {
    /// What is read where the rotor has this angle; where nothing but a place is read, nothing.
    pub fn of(self, angle: Angle) -> Option<Angle> {
        match self {
            Self::OfRotor => Some(angle.within_one_turn()),
            Self::CountedBack => Some((-angle).within_one_turn()),
            Self::Place => None,
        }
    }
}

/// An angle as a sheet states it: read in degrees, or where the mark was seen.
#[derive(Clone, Copy)]
pub(in crate::book::results) enum Shown<'s> {
    /// With its number among the readings of one fact.
    Angle(&'s Stated, usize),
    Clock {
        hour: u8,
        minute: u8,
    },
}

impl<'s> Shown<'s> {
    /// What a fact of strobe or pointer says; `None` when it could not be read.
    pub fn of(value: &'s FieldValue) -> Option<Self> {
        match value {
            FieldValue::Quantity(stated) => Some(Shown::Angle(stated, 0)),
            FieldValue::Clock { hour, minute } => Some(Shown::Clock { hour: *hour, minute: *minute }),
            _ => None,
        }
    }
}

fn lacking(origin: Origin, missing: Arc<Missing>) -> Val<Angle> {
    Val { known: Err(missing), ..Val::missing(origin, Reason::NotGiven, Unit::DEGREE) }
}

/// The same angle counted the other way.
fn reversed(angle: Val<Angle>) -> Val<Angle> {
    let mut contributions = Contributions::none();
    contributions.add(&angle.contributions, -1.0);
    Val { known: angle.known.map(|angle| (-angle).within_one_turn()), contributions, ..angle }
}
