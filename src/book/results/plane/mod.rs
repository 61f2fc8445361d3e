//! A correction plane: its share of the tolerance, its radius, and what can be corrected in it.

pub(in crate::book::results) mod allowed;
pub(in crate::book::results) mod called_for;
pub(in crate::book::results) mod capacity;
pub(in crate::book::results) mod carried;
pub(in crate::book::results) mod cutting;
pub(in crate::book::results) mod extra;
pub(in crate::book::results) mod made;
pub(in crate::book::results) mod making;
pub(in crate::book::results) mod moves;
pub(in crate::book::results) mod near;
pub(in crate::book::results) mod places;
pub(in crate::book::results) mod removal;
pub(in crate::book::results) mod ring;
pub(in crate::book::results) mod unturned;

use crate::book::derive::Val;
use crate::book::effective::EffectiveBlock;
use crate::book::results::values::not_computed::WhyNot;
use crate::units::{Length, Unbalance};
use crate::vocabulary::plane::{self, CorrectBy, Method};
use places::Places;
use removal::{Cut, Geometry};

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
    /// `None` when it has no places, or they could not be read.
    pub places: Option<Places>,
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

    /// Whether it has a numbered place of this name.
    pub fn has_place(&self, name: &str) -> bool {
        let count = self.places.as_ref().map_or(0, |places| places.angles.len());
        Places::nth(name).is_some_and(|place| place < count)
    }

    /// Whether its places have numbers.
    pub fn has_numbers(&self) -> bool {
        self.places.as_ref().is_some_and(|places| places.numbered)
    }

    /// Whether a depth says what is taken off: it is drilled, milled or ground, and all of the cut is known.
    pub fn is_cut(&self) -> bool {
        self.method.is_some_and(|method| self.geometry.piece(method, Length::millimetres(1.0)).is_some())
    }

    /// Why no depth takes off a known unbalance.
    pub(in crate::book::results) fn why_no_depth(&self) -> WhyNot {
        let geometry = &self.geometry;
        let Some(method) = self.method else { return WhyNot::LeftOut(plane::METHOD.any()) };
        let Some(cut) = geometry.cut(method) else { return "the plane is not drilled, milled or ground".into() };
        let radius = if cut == Cut::AxialHole { &geometry.pitch_radius } else { &geometry.surface };
        let drilled = matches!(cut, Cut::AxialHole | Cut::RadialHole);
        let size = if drilled { &geometry.hole_diameter } else { &geometry.width };
        let lengths = [radius, size].into_iter();
        if let Some(missing) = lengths.filter_map(|length| length.known.as_ref().err()).next() {
            return WhyNot::Lacks(missing.clone());
        }
        let full_arc = (cut == Cut::Arc).then_some(&geometry.full_arc);
        if let Some(Err(missing)) = full_arc.map(|arc| &arc.known) {
            return WhyNot::Lacks(missing.clone());
        }
        if let Err(missing) = &geometry.density.known {
            return WhyNot::Lacks(missing.clone());
        }
        "no depth that the plane allows takes off so much".into()
    }
}
