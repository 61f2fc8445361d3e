//! What a tolerance rests on, the rules that may state it, and what is found by them.

use crate::book::derive::Val;
use crate::book::effective::{EffectiveBlock, EffectiveField};
use crate::units::{Length, Mass, SpecificUnbalance, Speed, Unbalance};
use crate::vocabulary::rotor::BearingArrangement;
use crate::vocabulary::tolerance::WeightOverSpeedRule;
use crate::vocabulary::{Choice, rotor, tolerance};

/// The ways in which a sheet may state a tolerance.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub enum ToleranceRule {
    Grade,
    Total,
    Bearings,
    Planes,
    Static,
    JournalLoad,
    WholeWeight,
    ScaledFrom,
    SimilarPart,
}

impl ToleranceRule {
    /// The words by which the sheet states it.
    pub fn words(self) -> &'static str {
        match self {
            ToleranceRule::Grade => tolerance::GRADE.words(),
            ToleranceRule::Total => tolerance::TOTAL.words(),
            ToleranceRule::Bearings => "at bearing a and b",
            ToleranceRule::Planes => "tolerances of the planes",
            ToleranceRule::Static => tolerance::STATIC.words(),
            ToleranceRule::JournalLoad => WeightOverSpeedRule::ByJournalLoad.words(),
            ToleranceRule::WholeWeight => WeightOverSpeedRule::ByWholeWeight.words(),
            ToleranceRule::ScaledFrom => tolerance::SCALED_FROM.words(),
            ToleranceRule::SimilarPart => "similar part",
        }
    }

    /// The fact that states it; `None` for a similar part, which is a block.
    pub fn field<'b>(self, block: &EffectiveBlock<'b>) -> Option<EffectiveField<'b>> {
        match self {
            ToleranceRule::Grade => block.field(tolerance::GRADE),
            ToleranceRule::Total => block.field(tolerance::TOTAL),
            ToleranceRule::Bearings => {
                block.field(tolerance::AT_BEARING_B).or_else(|| block.field(tolerance::AT_BEARING_A))
            }
            ToleranceRule::Planes => block.named(tolerance::PLANE).last().map(|(_, field)| field),
            ToleranceRule::Static => block.field(tolerance::STATIC),
            ToleranceRule::JournalLoad | ToleranceRule::WholeWeight => block.field(tolerance::RULE),
            ToleranceRule::ScaledFrom => block.field(tolerance::SCALED_FROM),
            ToleranceRule::SimilarPart => None,
        }
    }
}

/// What a tolerance rests on.
pub(in crate::book::results) struct Base<'v> {
    pub mass: &'v Val<Mass>,
    pub mass_centre: &'v Val<Length>,
    pub bearings: &'v [Val<Length>; 2],
    pub journal_loads: &'v [Val<Mass>; 2],
    pub service_speed: &'v Val<Speed>,
}

impl Base<'_> {
    /// Whether the mass centre lies outside the bearings, or the sheet says so where the places do not.
    pub fn is_overhung(&self, rotor: &EffectiveBlock<'_>) -> bool {
        let outside = || {
            let (centre, a, b) = (self.mass_centre.get()?, self.bearings[0].get()?, self.bearings[1].get()?);
            Some(centre < a.min(b) || centre > a.max(b))
        };
        outside().unwrap_or_else(|| rotor.choice(rotor::BEARING_ARRANGEMENT) == Some(BearingArrangement::Overhung))
    }
}

pub(in crate::book::results) struct Found {
    pub rules: Vec<(ToleranceRule, Val<Unbalance>)>,
    pub governing: Option<ToleranceRule>,
    pub permissible: Val<Unbalance>,
    pub specific: Val<SpecificUnbalance>,
    pub at_bearings: [Val<Unbalance>; 2],
    /// As the governing rule shares it, whatever is stated at the bearings.
    pub shared_at_bearings: [Val<Unbalance>; 2],
}
