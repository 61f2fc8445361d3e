//! What a tolerance rests on, the rules that may state it, and what is found by them.

use crate::book::derive::Val;
use crate::book::effective::{EffectiveBlock, EffectiveField};
use crate::mechanics::allocation::Support;
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

    /// Whether it gives the whole rotor a tolerance, which binds its bearings.
    pub fn binds_bearings(self) -> bool {
        !matches!(self, ToleranceRule::Bearings | ToleranceRule::Planes | ToleranceRule::Static)
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
    /// Whether the sheet says that the mass centre is meant to lie outside the bearings.
    pub fn is_overhung(&self, rotor: &EffectiveBlock<'_>) -> bool {
        rotor.choice(rotor::BEARING_ARRANGEMENT) == Some(BearingArrangement::Overhung)
    }

    pub fn support(&self, rotor: &EffectiveBlock<'_>) -> Support {
        if self.is_overhung(rotor) { Support::Overhung } else { Support::Inboard }
    }
}

pub(in crate::book::results) struct Found {
    pub rules: Vec<(ToleranceRule, Val<Unbalance>)>,
    pub governing: Option<ToleranceRule>,
    pub permissible: Val<Unbalance>,
    pub specific: Val<SpecificUnbalance>,
    /// The lowest of the rules that bind the bearings, whatever is stated of planes, sum and couple.
    pub binding: Option<(ToleranceRule, Val<Unbalance>)>,
    pub at_bearings: [Val<Unbalance>; 2],
    /// Whether what is stated at a bearing is the lower.
    pub bearing_is_stated: [bool; 2],
    /// As the governing rule shares it, whatever is stated at the bearings.
    pub shared_at_bearings: [Val<Unbalance>; 2],
}
