//! What a plane's method takes off or puts on: geometry as stated, and the depth that takes a given unbalance.

use std::sync::Arc as Shared;

use crate::book::derive::Val;
use crate::book::effective::EffectiveBlock;
use crate::book::formulas as by;
use crate::book::origin::Missing;
use crate::book::results::values::entry::{Recorder, Spot};
use crate::mechanics::correction::Piece;
use crate::mechanics::correction::arc::{Arc, ground_arc, ground_arc_depth};
use crate::mechanics::correction::drilling::{Drill, axial_hole, axial_hole_depth, radial_hole, radial_hole_depth};
use crate::mechanics::correction::flat::{milled_flat, milled_flat_depth};
use crate::mechanics::correction::slot::slot_filler;
use crate::units::{Angle, Area, Density, Length, Mass, Unbalance, Unit};
use crate::vocabulary::plane::{HoleDirection, Method};
use crate::vocabulary::{ResultSpec, plane, result};

/// The facts of a plane that its method needs.
#[derive(Clone, Debug)]
pub struct Geometry {
    pub surface: Val<Length>,
    pub pitch_radius: Val<Length>,
    pub hole_diameter: Val<Length>,
    pub point_angle: Val<Angle>,
    pub depth: Val<Length>,
    pub width: Val<Length>,
    pub full_arc: Val<Angle>,
    pub density: Val<Density>,
    pub mass_each: Val<Mass>,
    pub axial: bool,
}

/// The shape that material is taken off in.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Cut {
    AxialHole,
    RadialHole,
    Flat,
    Arc,
}

impl Geometry {
    pub(in crate::book::results) fn of<'b>(recorder: &Recorder<'b>, block: &EffectiveBlock<'b>) -> Self {
        let facts = &recorder.facts;
        let point: Val<Angle> = facts.quantity(block, plane::POINT_ANGLE);
        let cured: Val<Density> = facts.quantity(block, plane::CURED_DENSITY);
        Self {
            surface: facts.radius(block, plane::SURFACE_RADIUS, plane::SURFACE_DIAMETER),
            pitch_radius: facts.radius(block, plane::RADIUS, plane::PITCH_DIAMETER),
            hole_diameter: facts.quantity(block, plane::HOLE_DIAMETER),
            point_angle: point.or(|| recorder.default(block, plane::POINT_ANGLE, Angle::degrees(118.0), Unit::DEGREE)),
            depth: facts.upper_end(block, plane::DEPTH),
            width: facts.quantity(block, plane::WIDTH),
            full_arc: facts.quantity(block, plane::FULL_ARC),
            density: cured.or(|| facts.density(block, plane::MATERIAL)),
            mass_each: facts.quantity(block, plane::MASS_EACH),
            axial: block.choice(plane::DIRECTION) == Some(HoleDirection::Axial),
        }
    }

    /// What a method cuts; `None` of one that has no depth.
    pub const fn cut(&self, method: Method) -> Option<Cut> {
        match method {
            Method::Drilling if self.axial => Some(Cut::AxialHole),
            Method::Drilling => Some(Cut::RadialHole),
            Method::Milling => Some(Cut::Flat),
            Method::Grinding => Some(Cut::Arc),
            Method::Welding
            | Method::Clamping
            | Method::SetScrews
            | Method::Washers
            | Method::SlidingWeights
            | Method::SlotFiller
            | Method::Putty => None,
        }
    }

    /// What a method needs to work out a cut and does not have.
    pub fn lacks(&self, method: Method) -> Vec<&Shared<Missing>> {
        let Some(cut) = self.cut(method) else { return Vec::new() };
        let lengths = match cut {
            Cut::AxialHole => vec![&self.pitch_radius, &self.hole_diameter],
            Cut::RadialHole => vec![&self.surface, &self.hole_diameter],
            Cut::Flat | Cut::Arc => vec![&self.surface, &self.width],
        };
        let lengths = lengths.into_iter().chain([&self.depth]).filter_map(|length| length.known.as_ref().err());
        let full_arc = self.full_arc.known.as_ref().err().filter(|_| cut == Cut::Arc);
        lengths.chain(full_arc).chain(self.density.known.as_ref().err()).collect()
    }

    pub(in crate::book::results) fn length_unit(&self) -> Unit {
        [&self.hole_diameter, &self.depth, &self.surface, &self.width]
            .into_iter()
            .find(|value| value.is_known())
            .map_or(Unit::MILLIMETRE, |value| value.unit)
    }

    /// The depth that takes this unbalance; `None` where a fact is missing, the method has no depth, or none takes it.
    pub fn depth(&self, method: Method, unbalance: Unbalance) -> Option<Length> {
        let density = self.density.get()?;
        let depth = match self.cut(method)? {
            Cut::AxialHole => axial_hole_depth(self.drill()?, unbalance, self.pitch_radius.get()?, density),
            Cut::RadialHole => radial_hole_depth(self.drill()?, unbalance, self.surface.get()?, density),
            Cut::Flat => milled_flat_depth(self.surface.get()?, self.width.get()?, unbalance, density),
            Cut::Arc => {
                let (surface_radius, width) = (self.surface.get()?, self.width.get()?);
                let arc = Arc { surface_radius, width, full_angle: self.full_arc.get()? };
                ground_arc_depth(arc, unbalance, density)
            }
        };
        depth.ok()
    }

    /// What a hole, flat or arc of this depth takes off; `None` where a fact is missing or the method has no depth.
    pub(in crate::book::results) fn piece(&self, method: Method, depth: Length) -> Option<Piece> {
        let density = self.density.get()?;
        let piece = match self.cut(method)? {
            Cut::AxialHole => axial_hole(self.drill()?, depth, self.pitch_radius.get()?, density),
            Cut::RadialHole => radial_hole(self.drill()?, depth, self.surface.get()?, density),
            Cut::Flat => milled_flat(self.surface.get()?, self.width.get()?, depth, density),
            Cut::Arc => {
                let (surface_radius, width) = (self.surface.get()?, self.width.get()?);
                ground_arc(Arc { surface_radius, width, full_angle: self.full_arc.get()? }, depth, density)
            }
        };
        piece.ok()
    }

    pub(in crate::book::results) fn drill(&self) -> Option<Drill> {
        Some(Drill { diameter: self.hole_diameter.get()?, point_angle: self.point_angle.get()? })
    }

    /// How far the point of the drill goes beyond the depth at full diameter; nothing for a flat bottom.
    pub fn point_height(&self) -> Option<Length> {
        self.drill()?.tip_height().ok()
    }

    /// How far from the axis a hole of this depth still has its full diameter.
    pub(in crate::book::results) fn radius_at(&self, method: Method, depth: Length) -> Option<Length> {
        match self.cut(method)? {
            Cut::AxialHole => self.pitch_radius.get(),
            Cut::RadialHole | Cut::Flat | Cut::Arc => Some(self.surface.get()? - depth),
        }
    }

    /// What a hole, flat or arc of this depth weighs; `None` where a fact is missing or the method has no depth.
    pub fn mass_at_depth(&self, method: Method, depth: Length) -> Option<Mass> {
        self.piece(method, depth).map(|piece| piece.mass)
    }

    /// The depth of hole, flat or arc that takes this unbalance, recorded; `None` where the method has no depth.
    pub(in crate::book::results) fn depth_for(
        &self,
        recorder: &mut Recorder<'_>,
        spot: &Spot,
        spec: &'static ResultSpec,
        method: Option<Method>,
        unbalance: &Val<Unbalance>,
    ) -> Option<Val<Length>> {
        let unit = self.length_unit();
        Some(match self.cut(method?)? {
            Cut::AxialHole => {
                let inputs = (unbalance, &self.pitch_radius, &self.hole_diameter, &self.point_angle, &self.density);
                recorder.work_out(
                    spot,
                    spec,
                    unit,
                    &by::DEPTH_BY_DRILLING_AXIALLY,
                    inputs,
                    |(u, r, d, point, density)| {
                        axial_hole_depth(Drill { diameter: d, point_angle: point }, u, r, density)
                    },
                )
            }
            Cut::RadialHole => {
                let inputs = (unbalance, &self.surface, &self.hole_diameter, &self.point_angle, &self.density);
                recorder.work_out(
                    spot,
                    spec,
                    unit,
                    &by::DEPTH_BY_DRILLING_RADIALLY,
                    inputs,
                    |(u, r, d, point, density)| {
                        radial_hole_depth(Drill { diameter: d, point_angle: point }, u, r, density)
                    },
                )
            }
            Cut::Flat => {
                let inputs = (unbalance, &self.surface, &self.width, &self.density);
                recorder.work_out(spot, spec, unit, &by::DEPTH_BY_MILLING, inputs, |(u, r, w, density)| {
                    milled_flat_depth(r, w, u, density)
                })
            }
            Cut::Arc => {
                let inputs = (unbalance, &self.surface, &self.width, &self.full_arc, &self.density);
                recorder.work_out(spot, spec, unit, &by::DEPTH_BY_GRINDING, inputs, |(u, r, width, full, density)| {
                    let arc = Arc { surface_radius: r, width, full_angle: full };
                    ground_arc_depth(arc, u, density)
                })
            }
        })
    }

    /// The mass of the hole, flat or arc that takes this unbalance, recorded; `None` where that is the unbalance divided
    /// by the radius of the plane.
    pub(in crate::book::results) fn mass_for(
        &self,
        recorder: &mut Recorder<'_>,
        spot: &Spot,
        spec: &'static ResultSpec,
        unit: Unit,
        method: Option<Method>,
        unbalance: &Val<Unbalance>,
    ) -> Option<Val<Mass>> {
        // How well the density is known moves the radius of the cut's mass centre by next to nothing.
        let density = self.density.get()?;
        Some(match self.cut(method?)? {
            Cut::RadialHole => {
                let inputs = (unbalance, &self.surface, &self.hole_diameter, &self.point_angle);
                recorder.work_out(spot, spec, unit, &by::MASS_OF_HOLE, inputs, |(u, r, d, point)| {
                    let drill = Drill { diameter: d, point_angle: point };
                    radial_hole(drill, radial_hole_depth(drill, u, r, density)?, r, density).map(|hole| hole.mass)
                })
            }
            Cut::Flat => {
                let inputs = (unbalance, &self.surface, &self.width);
                recorder.work_out(spot, spec, unit, &by::MASS_OF_FLAT, inputs, |(u, r, w)| {
                    milled_flat(r, w, milled_flat_depth(r, w, u, density)?, density).map(|flat| flat.mass)
                })
            }
            Cut::Arc => {
                let inputs = (unbalance, &self.surface, &self.width, &self.full_arc);
                recorder.work_out(spot, spec, unit, &by::MASS_OF_ARC, inputs, |(u, r, width, full)| {
                    let arc = Arc { surface_radius: r, width, full_angle: full };
                    ground_arc(arc, ground_arc_depth(arc, u, density)?, density).map(|arc| arc.mass)
                })
            }
            Cut::AxialHole => return None,
        })
    }

    /// What a hole, flat or arc of this depth takes off; `None` where the method has no depth.
    pub(in crate::book::results) fn taken_by(
        &self,
        recorder: &Recorder<'_>,
        spot: &Spot,
        spec: &'static ResultSpec,
        method: Option<Method>,
        depth: &Val<Length>,
    ) -> Option<Val<Unbalance>> {
        let unit = recorder.facts.shop.unbalance_unit;
        Some(match self.cut(method?)? {
            Cut::AxialHole => {
                let inputs = (&self.pitch_radius, depth, &self.hole_diameter, &self.point_angle, &self.density);
                let formula = &by::TAKEN_BY_AXIAL_HOLE;
                recorder.on_the_way(spot, spec, unit, formula, inputs, |(r, l, d, point, density)| {
                    axial_hole(Drill { diameter: d, point_angle: point }, l, r, density).map(|hole| hole.unbalance)
                })
            }
            Cut::RadialHole => {
                let inputs = (&self.surface, depth, &self.hole_diameter, &self.point_angle, &self.density);
                let formula = &by::TAKEN_BY_RADIAL_HOLE;
                recorder.on_the_way(spot, spec, unit, formula, inputs, |(r, l, d, point, density)| {
                    radial_hole(Drill { diameter: d, point_angle: point }, l, r, density).map(|hole| hole.unbalance)
                })
            }
            Cut::Flat => {
                let inputs = (&self.surface, depth, &self.width, &self.density);
                recorder.on_the_way(spot, spec, unit, &by::MOST_BY_MILLING, inputs, |(r, t, w, density)| {
                    milled_flat(r, w, t, density).map(|flat| flat.unbalance)
                })
            }
            Cut::Arc => {
                let inputs = (&self.surface, depth, &self.width, &self.full_arc, &self.density);
                recorder.on_the_way(spot, spec, unit, &by::MOST_BY_GRINDING, inputs, |(r, t, width, full, density)| {
                    let arc = Arc { surface_radius: r, width, full_angle: full };
                    ground_arc(arc, t, density).map(|arc| arc.unbalance)
                })
            }
        })
    }
}

/// The most mass that one slot takes once the filler has set.
pub(in crate::book::results) fn filler<'b>(
    recorder: &Recorder<'b>,
    block: &EffectiveBlock<'b>,
    spot: &Spot,
    g: &Geometry,
) -> Val<Mass> {
    let stated: Val<Mass> = recorder.facts.quantity(block, plane::MOST_PER_PLACE);
    if !stated.is_left_out() {
        return stated;
    }
    let width: Val<Length> = recorder.facts.quantity(block, plane::SLOT_WIDTH);
    let length: Val<Length> = recorder.facts.quantity(block, plane::SLOT_LENGTH);
    let room: Val<Length> = recorder.facts.quantity(block, plane::ROOM_PER_PLACE);
    let inputs = (&g.density, &width, &length, &room);
    let spec = &result::GREATEST_CORRECTION;
    recorder.on_the_way(
        spot,
        spec,
        recorder.facts.shop.shown(Unit::GRAM),
        &by::MOST_OF_FILLER,
        inputs,
        |(density, w, l, h)| {
            let section: Area = w * l;
            slot_filler(density, section, h, Length::millimetres(1.0)).map(|piece| piece.mass)
        },
    )
}
