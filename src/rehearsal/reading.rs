//! What a readout shows of an amount at an angle, and what a sheet says was read: scales, steps, ways to show an angle.

use num_complex::Complex64;

use crate::book::EffectiveBlock;
use crate::book::{ReadoutFacts, Seen, SetupResults, indication, scale_that_shows};
use crate::check::name_as_written;
use crate::mechanics::strobe::Round;
use crate::motion::Chance;
use crate::sheet::{FieldValue, StatedReading};
use crate::units::{Angle, Indication, Typed, Unit};
use crate::vocabulary::Fact;
use crate::vocabulary::proof::shows_beside;
use crate::vocabulary::readout::{self, AngleDisplay, StrobeShows};
use crate::vocabulary::{Reading, Sense, rotor, run};

/// How a readout shows an angle.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
enum Shows {
    /// As the rotor's angles count, or the other way.
    Angle { reversed: bool },
    /// Where the rotor's zero mark is seen, clockwise from twelve; the rotor's angles grow clockwise or not.
    Clock { clockwise: bool },
}

/// One scale: its name, what one mark is, how many there are, the least part of a mark.
#[derive(Clone, Debug)]
struct Scale {
    name: String,
    mark: f64,
    end: f64,
    step: f64,
}

#[derive(Clone, Debug)]
pub struct Readout {
    unit: Unit,
    scales: Vec<Scale>,
    /// In base units of what it shows.
    step: f64,
    end: f64,
    shows: Shows,
    /// rad
    angle_step: f64,
    /// Standard deviation of each component, where the machine states it.
    pub scatter: Option<f64>,
}

/// A clock is read to the half hour where nothing finer is said. Source: common practice, no source.
const HALF_AN_HOUR: f64 = 15.0;

/// An angle is read to this step where the readout says none, in degrees.
const USUAL_ANGLE_STEP: f64 = 5.0;

/// One reading as it is written down.
pub struct Written {
    pub lines: Vec<String>,
    /// What they say: an amount at its angle from the readout's zero, in the sense of the rotor's angles.
    pub says: Complex64,
    /// What lies beyond the end of what the readout shows, which is not read: nothing, or against what was seen.
    pub beyond: Complex64,
}

impl Readout {
    /// `step` where it states none, in base units.
    pub fn of(setup: &SetupResults<'_>, step: f64) -> Result<Self, String> {
        let readout = setup.machine.as_ref().and_then(|machine| machine.readout.as_ref());
        let readout = readout.ok_or("the machine has no readout")?;
        let rotor = setup.rotor.as_deref().ok_or("the setup names no rotor")?;
        let block = &readout.block;
        let counts = rotor.block.choice(rotor::ANGLES_COUNT);
        let shows = match (block.choice(readout::ANGLES), block.choice(readout::STROBE_SHOWS)) {
            (Some(AngleDisplay::Measured), _) => {
                let own: Option<Sense> = block.choice(readout::ANGLES_COUNT);
                Shows::Angle { reversed: own != counts }
            }
            (Some(AngleDisplay::ByStrobe), Some(StrobeShows::NumberAtPointer)) => Shows::Angle { reversed: false },
            (Some(AngleDisplay::ByStrobe), Some(StrobeShows::ClockPlaceOfMark)) => {
                let from = block.choice(readout::POINTER_SEEN_FROM);
                let seen = Seen::of(&rotor.block).ok().zip(from).map(|(seen, from)| seen.from_end(from));
                let seen = seen.ok_or("it is not known from which end the strobe is looked at")?;
                Shows::Clock { clockwise: seen.grows == Round::Clockwise }
            }
            (Some(AngleDisplay::ByStrobe), None) => {
                return Err(format!("what the strobe shows is not said: `{}` is missing", readout::STROBE_SHOWS));
            }
            _ => return Err("the readout shows no angles: amounts alone cannot be rehearsed".to_owned()),
        };
        let usual = if matches!(shows, Shows::Clock { .. }) { HALF_AN_HOUR } else { USUAL_ANGLE_STEP };
        let angle_step = match block.field(readout::ANGLE_STEP).map(|field| &field.field.value) {
            Some(FieldValue::Quantity(stated)) => stated.base,
            _ => usual.to_radians(),
        };
        let scatter = match block.field(readout::SCATTER).map(|field| &field.field.value) {
            Some(FieldValue::Quantity(stated)) => Some(stated.base / 2.0),
            _ => None,
        };
        let scales: Vec<Scale> = readout
            .scales
            .iter()
            .filter_map(|scale| {
                let (mark, end) = (scale.one_mark?, scale.end()?);
                let step = mark * scale.smallest_step.unwrap_or(0.2);
                Some(Scale { name: scale.name.to_owned(), mark, end, step })
            })
            .collect();
        let finest = scales.iter().map(|scale| scale.step).reduce(f64::min);
        Ok(Self {
            unit: readout.unit,
            step: finest.or(readout.smallest_step.get().map(Indication::value)).unwrap_or(step),
            end: readout.end().unwrap_or(f64::INFINITY),
            scales,
            shows,
            angle_step,
            scatter,
        })
    }

    pub fn step(&self) -> f64 {
        self.step
    }

    /// The scale on which an amount is read; the widest where it is beyond all.
    fn scale(&self, amount: f64) -> Option<&Scale> {
        let room = scale_that_shows(&self.scales, amount, |scale| Some((scale.step, scale.end)));
        room.or_else(|| self.scales.iter().max_by(|a, b| a.end.total_cmp(&b.end)))
    }

    /// As it is shown and written down: the lines of one channel. `seen` is the amount at its angle from the readout's zero,
    /// in the sense of the rotor's angles.
    pub fn written(&self, channel: &str, seen: Complex64, chance: &mut Chance) -> Written {
        let channel = name_as_written(channel);
        let amount = seen.norm().min(self.end);
        let beyond = Complex64::from_polar(amount - seen.norm(), seen.arg());
        let (written, amount) = match self.scale(amount) {
            Some(scale) => {
                let amount = (amount / scale.step).round() * scale.step;
                let decimals = decimals(scale.step / scale.mark);
                let marks = amount / scale.mark;
                (format!("{marks:.decimals$} {} on {}", Unit::MARK, name_as_written(&scale.name)), amount)
            }
            None => {
                let amount = (amount / self.step).round() * self.step;
                let decimals = decimals(self.unit.from_base(self.step));
                (format!("{:.decimals$} {}", self.unit.from_base(amount), self.unit), amount)
            }
        };
        let angle = seen.arg() + chance.between(-0.25, 0.25) * self.angle_step;
        let step = |angle: f64| (angle / self.angle_step).round() * self.angle_step;
        let lines = match self.shows {
            Shows::Angle { reversed } => {
                let shown = step(if reversed { -angle } else { angle }).to_degrees().rem_euclid(360.0);
                let decimals = decimals(self.angle_step.to_degrees());
                vec![format!("{} {channel}: {written} @ {shown:.decimals$} {}", run::READING, Unit::DEGREE)]
            }
            Shows::Clock { clockwise } => {
                let place = step(if clockwise { -angle } else { angle }).to_degrees().rem_euclid(360.0);
                let minutes = (place * 2.0).round() as u32 % 720;
                let hour = if minutes < 60 { 12 } else { minutes / 60 };
                let shows = format!("{} {channel}: {hour}:{:02}", run::SHOWS, minutes % 60);
                vec![format!("{} {channel}: {written}", run::READING), shows]
            }
        };
        Written { lines, says: Complex64::from_polar(amount, step(angle)), beyond }
    }

    /// What a sheet says was read, as [`Self::written`] takes it; `None` without an angle.
    pub fn read(
        &self,
        block: &EffectiveBlock<'_>,
        fact: Fact<Reading>,
        channel: &str,
        facts: Option<&ReadoutFacts<'_>>,
    ) -> Option<Complex64> {
        let (_, field) = block.named(fact).find(|(name, _)| *name.text == *channel)?;
        let FieldValue::Reading(reading) = &field.field.value else { return None };
        if reading.angle.is_some() {
            return self.vector(reading, facts);
        }
        let (amount, _) = indication(reading, facts)?;
        let (_, shows) = block.named(shows_beside(fact)).find(|(name, _)| *name.text == *channel)?;
        let angle = self.angle(&shows.field.value)?;
        Some(Complex64::from_polar(amount.value(), angle))
    }

    pub fn vector(&self, reading: &StatedReading, facts: Option<&ReadoutFacts<'_>>) -> Option<Complex64> {
        let (amount, _) = indication(reading, facts)?;
        let shown = reading.angle.as_ref()?.base;
        let Shows::Angle { reversed } = self.shows else { return None };
        Some(Complex64::from_polar(amount.value(), if reversed { -shown } else { shown }))
    }

    /// An angle from the readout's zero as strobe or pointer shows it.
    pub fn angle(&self, shown: &FieldValue) -> Option<f64> {
        match (self.shows, shown) {
            (Shows::Angle { reversed }, FieldValue::Quantity(stated)) => {
                Some(if reversed { -stated.base } else { stated.base })
            }
            (Shows::Clock { clockwise }, FieldValue::Clock { hour, minute }) => {
                let place = clock(*hour, *minute);
                Some(if clockwise { -place } else { place })
            }
            _ => None,
        }
    }

    /// Where the machine points, as an angle from the readout's zero.
    pub fn pointer(&self, facts: &ReadoutFacts<'_>) -> Option<f64> {
        let Shows::Clock { clockwise } = self.shows else { return Some(0.0) };
        let FieldValue::Clock { hour, minute } = facts.block.field(readout::POINTER_AT)?.field.value else {
            return None;
        };
        let place = clock(hour, minute);
        Some(if clockwise { place } else { -place })
    }

    /// How far a reading of this amount may be off: half a step, and half a step of its angle.
    pub fn off(&self, amount: f64) -> f64 {
        self.amount_off(amount).hypot(amount * self.angle_step / 2.0)
    }

    /// The same of its amount alone.
    pub fn amount_off(&self, amount: f64) -> f64 {
        self.scale(amount).map_or(self.step, |scale| scale.step) / 2.0
    }

    /// How far a dial is off that was set to an amount, as a share of it.
    pub fn set_off(&self, amount: f64) -> f64 {
        let step = self.scale(amount).map_or(self.step, |scale| scale.step);
        step / 2.0 / amount
    }
}

/// The direction of a place of the clock, clockwise from twelve.
fn clock(hour: u8, minute: u8) -> f64 {
    Angle::degrees(f64::from(hour % 12) * 30.0 + f64::from(minute) / 2.0).base()
}

/// As many as a step has.
fn decimals(step: f64) -> usize {
    (0..6).find(|n| (step * 10f64.powi(*n) - (step * 10f64.powi(*n)).round()).abs() < 1e-6).unwrap_or(6) as usize
}
