//! Which way a rotor turns and its angles grow, as seen from an end.

use std::sync::Arc;

use crate::book::effective::EffectiveBlock;
use crate::book::origin::Missing;
use crate::mechanics::strobe::Round;
use crate::vocabulary::{End, Sense, rotor};

/// How a rotor looks from an end.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Seen {
    pub from: End,
    /// The way it turns.
    pub turns: Round,
    /// The way its angles grow.
    pub grows: Round,
}

impl Seen {
    /// From the end that the rotor's sheet names; else the fact that is missing.
    pub fn of(rotor: &EffectiveBlock<'_>) -> Result<Self, Arc<Missing>> {
        let rotation = rotor.stated_choice(rotor::ROTATION)?;
        let turns = if rotation.is_clockwise() { Round::Clockwise } else { Round::Anticlockwise };
        let from = rotation.seen_from();
        let grows = match rotor.stated_choice(rotor::ANGLES_COUNT)? {
            Sense::WithRotation => turns,
            Sense::AgainstRotation => turns.from_the_other_end(),
        };
        Ok(Self { from, turns, grows })
    }

    /// The same rotor from an end.
    pub fn from_end(self, from: End) -> Self {
        if from == self.from {
            return self;
        }
        Self { from, turns: self.turns.from_the_other_end(), grows: self.grows.from_the_other_end() }
    }
}
