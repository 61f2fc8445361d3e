//! A correction plane: its share of the tolerance, its radius, and what can be corrected in it.

pub(in crate::book::results) mod allowed;
pub(in crate::book::results) mod called_for;
pub(in crate::book::results) mod capacity;
pub(in crate::book::results) mod making;
pub(in crate::book::results) mod removal;

use crate::book::derive::Val;
use crate::book::effective::EffectiveBlock;
use crate::units::{Length, Unbalance};
use crate::vocabulary::plane::{self, CorrectBy, Method};
use removal::Geometry;

/// What is computed of one plane.
#[derive(Clone, Debug)]
pub struct PlaneResults<'b> {
    pub name: &'b str,
    pub block: EffectiveBlock<'b>,
    pub at: Val<Length>,
    pub tolerance: Val<Unbalance>,
    /// As the sheet states it for this plane.
    pub stated_tolerance: Option<Val<Unbalance>>,
    /// As the rotor's tolerance is shared; `None` when only tolerances of planes are stated.
    pub shared_tolerance: Option<Val<Unbalance>>,
    /// To the centre of mass of the correction.
    pub radius: Val<Length>,
    pub method: Option<Method>,
    pub geometry: Geometry,
    /// The most that can be corrected; `None` when the plane does not say how it is corrected.
    pub greatest: Option<Val<Unbalance>>,
    /// Whether it is one of the planes that the rotor's tolerance is shared by.
    pub shares_tolerance: bool,
}

impl PlaneResults<'_> {
    /// What the plane does.
    pub fn correct(&self) -> Option<CorrectBy> {
        self.block.choice(plane::CORRECT)
    }
}
