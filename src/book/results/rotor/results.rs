//! What is computed of a rotor and of its parts, which are rotors themselves.

use std::sync::Arc;

use super::base::ToleranceRule;
use super::keyway::KeywayResults;
use super::limits::Limit;
use crate::book::derive::Val;
use crate::book::effective::EffectiveBlock;
use crate::book::files::ItemId;
use crate::book::results::plane::PlaneResults;
use crate::book::results::values::entry::Entry;
use crate::book::results::values::not_computed::NotComputed;
use crate::book::vectors::VectorVal;
use crate::mechanics::verdict::Verdict;
use crate::syntax::Kind;
use crate::units::{Angle, Couple, Length, Mass, SpecificUnbalance, Speed, Unbalance};
use crate::vocabulary;
use crate::vocabulary::made_of::PartBalanced;
use crate::vocabulary::tolerance::PlanesBalanced;

/// What is computed of a rotor, typed for what builds on it and as entries for people.
#[derive(Debug)]
pub struct RotorResults<'b> {
    pub id: ItemId,
    pub block: EffectiveBlock<'b>,
    pub mass: Val<Mass>,
    pub mass_centre: Val<Length>,
    /// Mass and mass centre by weighing at two places, whatever is stated beside it.
    pub by_weighing: Option<(Val<Mass>, Val<Length>)>,
    /// Mass and mass centre by the parts, whatever is stated beside them.
    pub by_parts: Option<(Val<Mass>, Val<Length>)>,
    pub bearings: [Val<Length>; 2],
    /// The sheet says that its mass centre is meant to lie outside the bearings, which may then have more between them
    /// than the rotor has.
    pub is_overhung: bool,
    #[cfg_attr(not(feature = "internals"), expect(dead_code, reason = "tests read it"))]
    pub journal_loads: [Val<Mass>; 2],
    pub service_speed: Val<Speed>,
    pub safe_speed: Val<Speed>,
    /// Every rule that the tolerance states, with what it gives.
    pub rules: Vec<(ToleranceRule, Val<Unbalance>)>,
    pub governing: Option<ToleranceRule>,
    pub permissible: Val<Unbalance>,
    pub permissible_specific: Val<SpecificUnbalance>,
    pub at_bearings: [Val<Unbalance>; 2],
    /// As the governing rule shares it, whatever is stated at the bearings.
    pub shared_at_bearings: [Val<Unbalance>; 2],
    /// Every limit that stands.
    pub limits: Vec<Limit>,
    /// In the order in which they are written.
    pub planes: Vec<PlaneResults<'b>>,
    pub parts: Vec<PartResults<'b>>,
    pub keyways: Vec<KeywayResults<'b>>,
    /// What is left for correcting the assembly, by root of squares.
    pub left_for_assembly: Option<Val<Unbalance>>,
    /// `None` when the unbalance of no part is known.
    pub clocking: Option<ClockingResults<'b>>,
    pub entries: Vec<Entry>,
    /// Results that were left out, each with its reason.
    pub not_computed: Vec<NotComputed>,
}

impl<'b> RotorResults<'b> {
    pub fn plane(&self, name: &str) -> Option<&PlaneResults<'b>> {
        self.planes.iter().find(|plane| plane.name == name)
    }

    /// Whether one plane has the whole tolerance: the only one that shares it, or because the sheet says so.
    pub fn is_balanced_in_one_plane(&self) -> bool {
        let said = self.tolerance_block().and_then(|block| block.choice(vocabulary::tolerance::PLANES));
        said == Some(PlanesBalanced::One) || self.planes.iter().filter(|plane| plane.shares_tolerance).count() == 1
    }

    pub fn tolerance_block(&self) -> Option<&EffectiveBlock<'b>> {
        self.block.inner(Kind::Tolerance).next()
    }
}

/// One `made of` line of an assembly.
#[derive(Clone, Debug)]
pub struct PartResults<'b> {
    pub name: &'b str,
    pub block: EffectiveBlock<'b>,
    /// `None` when the book has no such rotor, or it is made of this assembly itself.
    pub rotor: Option<Arc<RotorResults<'b>>>,
    pub quantity: u32,
    pub balanced: Option<PartBalanced>,
    /// What it may put in by moving in its fit; `None` when no clearance is stated.
    pub fit: Option<Val<Unbalance>>,
    /// What it puts in by sitting askew; `None` when no face runout is stated.
    pub runout: Option<Val<Couple>>,
}

/// What is known of the unbalances of an assembly's parts.
#[derive(Debug)]
pub struct ClockingResults<'b> {
    /// The parts of which something is known, by their number.
    pub parts: Vec<usize>,
    /// The verdict of each of these parts' records; `None` where the assembly states the unbalances itself.
    pub verdicts: Vec<Option<Verdict>>,
    /// The correction planes of the assembly.
    #[cfg_attr(not(feature = "internals"), expect(dead_code, reason = "tests read it"))]
    pub planes: Vec<&'b str>,
    /// What the parts amount to in each plane as they are fitted, where it is in excess.
    pub in_planes: Vec<VectorVal<Unbalance>>,
    /// The mass that corrects it.
    #[cfg_attr(not(feature = "internals"), expect(dead_code, reason = "tests read it"))]
    pub corrections: Vec<VectorVal<Mass>>,
    /// `None` when no part can be turned, or something that the search needs is not known.
    #[cfg_attr(not(feature = "internals"), expect(dead_code, reason = "tests read it"))]
    pub clocked: Option<ClockedParts>,
}

/// The positions in which the parts leave least.
#[derive(Debug)]
pub struct ClockedParts {
    /// Number of the part, and the angle of its zero mark in the assembly.
    #[cfg_attr(not(feature = "internals"), expect(dead_code, reason = "tests read it"))]
    pub fitted_at: Vec<(usize, Angle)>,
    #[cfg_attr(not(feature = "internals"), expect(dead_code, reason = "tests read it"))]
    pub in_planes: Vec<VectorVal<Unbalance>>,
    #[cfg_attr(not(feature = "internals"), expect(dead_code, reason = "tests read it"))]
    pub tried_all: bool,
}
