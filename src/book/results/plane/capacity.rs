//! The radius of a plane's corrections, and the most that can be corrected in it.

use super::cutting::USUAL_SPACING;
use super::places::Places;
use super::removal::{Cut, Geometry, filler};
use crate::book::derive::Val;
use crate::book::effective::EffectiveBlock;
use crate::book::files::ItemId;
use crate::book::formulas as by;
use crate::book::origin::{Origin, Reason};
use crate::book::results::values::entry::{Recorder, Spot};
use crate::book::results::values::not_computed::WhyNot;
use crate::mechanics::Computed;
use crate::mechanics::correction::Piece;
use crate::mechanics::correction::arc::{Arc, ground_arc};
use crate::mechanics::correction::drilling::{Drill, axial_hole, radial_hole};
use crate::mechanics::correction::flat::milled_flat;
use crate::mechanics::correction::holes::{most_together, spacing_angle, up_to_whole_degree};
use crate::mechanics::correction::places::Capacity;
use crate::mechanics::correction::sliding::{most_of_weights, sliding_weights};
use crate::sheet::FieldValue;
use crate::units::{Angle, Length, Mass, Ratio, Typed, Unbalance, Unit};
use crate::vocabulary::plane::Method;
use crate::vocabulary::{plane, result};

/// The radius as stated, or that of the deepest hole, flat or arc.
pub(in crate::book::results) fn correction_radius<'b>(
    recorder: &mut Recorder<'b>,
    block: &EffectiveBlock<'b>,
    id: ItemId,
    method: Option<Method>,
    geometry: &Geometry,
) -> Val<Length> {
    let stated: Val<Length> = recorder.facts.radius(block, plane::RADIUS, plane::DIAMETER);
    let spec = &result::CORRECTION_RADIUS;
    if !stated.is_left_out() {
        recorder.not_asked(&Spot::heading(block, id), &[spec], WhyNot::Given(plane::RADIUS.any()));
        return stated;
    }
    let spot =
        Spot::beside(block, id, block.field(plane::SURFACE_DIAMETER).or_else(|| block.field(plane::SURFACE_RADIUS)));
    let unit = geometry.length_unit();
    let g = geometry;
    // Where the centre of mass lies does not depend on the density, nor on how well it is known.
    let density =
        recorder.default(block, plane::MATERIAL, crate::units::Density::kilograms_per_cubic_metre(1.0), Unit::ONE);
    match method.and_then(|method| g.cut(method)) {
        Some(Cut::AxialHole) => {
            recorder.work_out(&spot, spec, unit, &by::RADIUS_AS_GIVEN, (&g.pitch_radius,), |(r,)| Ok(r))
        }
        Some(Cut::RadialHole) => {
            let inputs = (&g.surface, &g.hole_diameter, &g.depth, &g.point_angle, &density);
            recorder.work_out(
                &spot,
                spec,
                unit,
                &by::RADIUS_OF_DEEPEST_HOLE,
                inputs,
                |(r, d, depth, point, density)| {
                    radial_hole(Drill { diameter: d, point_angle: point }, depth, r, density).map(|hole| hole.radius)
                },
            )
        }
        Some(Cut::Flat) => {
            let inputs = (&g.surface, &g.depth, &g.width, &density);
            recorder.work_out(&spot, spec, unit, &by::RADIUS_OF_FLAT, inputs, |(r, depth, width, density)| {
                milled_flat(r, width, depth, density).map(|flat| flat.radius)
            })
        }
        Some(Cut::Arc) => {
            let inputs = (&g.surface, &g.depth, &g.width, &g.full_arc, &density);
            recorder.work_out(&spot, spec, unit, &by::RADIUS_OF_ARC, inputs, |(r, depth, width, full, density)| {
                let arc = Arc { surface_radius: r, width, full_angle: full };
                ground_arc(arc, depth, density).map(|arc| arc.radius)
            })
        }
        None => {
            recorder.not_asked(&spot, &[spec], WhyNot::LeftOut(plane::RADIUS.any()));
            stated
        }
    }
}

/// The most unbalance that the plane's method can correct, towards whichever angle it is needed.
pub(in crate::book::results) fn greatest<'b>(
    recorder: &mut Recorder<'b>,
    (block, id): (&EffectiveBlock<'b>, ItemId),
    places: Option<&Places>,
    method: Option<Method>,
    geometry: &Geometry,
    radius: &Val<Length>,
) -> Option<Val<Unbalance>> {
    let spot = Spot::beside(block, id, block.field(plane::METHOD).or_else(|| block.field(plane::MOST_CORRECTION)));
    let stated: Val<Unbalance> = recorder.facts.quantity(block, plane::MOST_CORRECTION);
    let by_method = method.and_then(|method| by_method(recorder, (block, places), &spot, method, geometry, radius));
    let value = match by_method {
        Some(value) if !stated.is_known() || value.get() <= stated.get() && value.is_known() => value,
        _ if stated.is_known() => {
            let (spec, unit) = (&result::GREATEST_CORRECTION, stated.unit);
            recorder.on_the_way(&spot, spec, unit, &by::MOST_AS_GIVEN, (&stated,), |(most,)| Ok(most))
        }
        Some(by_method) => by_method,
        None => {
            let why = match method {
                Some(_) => WhyNot::BothLeftOut(plane::MOST_PER_PLACE.any(), plane::MASS_EACH.any()),
                None => WhyNot::BothLeftOut(plane::METHOD.any(), plane::MOST_CORRECTION.any()),
            };
            recorder.not_asked(&spot, &[&result::GREATEST_CORRECTION], why);
            return None;
        }
    };
    recorder.keep(&spot, &result::GREATEST_CORRECTION, &value);
    Some(Val { origin: crate::book::results::values::entry::origin(&spot, &result::GREATEST_CORRECTION), ..value })
}

fn by_method<'b>(
    recorder: &Recorder<'b>,
    (block, places): (&EffectiveBlock<'b>, Option<&Places>),
    spot: &Spot,
    method: Method,
    geometry: &Geometry,
    radius: &Val<Length>,
) -> Option<Val<Unbalance>> {
    let spec = &result::GREATEST_CORRECTION;
    let unit = recorder.facts.shop.unbalance_unit;
    let g = geometry;
    Some(match method {
        Method::Drilling if block.field(plane::PLACES).is_some() => {
            drilled_at_places(recorder, (block, places), spot, g, unit)
        }
        Method::Drilling => drilled(recorder, block, spot, g, unit),
        Method::Milling => {
            let inputs = (&g.surface, &g.depth, &g.width, &g.density);
            recorder.on_the_way(spot, spec, unit, &by::MOST_BY_MILLING, inputs, |(r, depth, width, density)| {
                milled_flat(r, width, depth, density).map(|flat| flat.unbalance)
            })
        }
        Method::Grinding => {
            let inputs = (&g.surface, &g.depth, &g.width, &g.full_arc, &g.density);
            recorder.on_the_way(spot, spec, unit, &by::MOST_BY_GRINDING, inputs, |(r, depth, width, full, density)| {
                let arc = Arc { surface_radius: r, width, full_angle: full };
                ground_arc(arc, depth, density).map(|arc| arc.unbalance)
            })
        }
        Method::SlidingWeights => {
            let weights = recorder
                .facts
                .number(block, plane::WEIGHTS)
                .or(|| recorder.default(block, plane::WEIGHTS, Ratio::new(2.0), Unit::ONE));
            let length: Val<Length> = recorder.facts.quantity(block, plane::WEIGHT_LENGTH);
            let side_by_side = match weights.get().map(Ratio::value) {
                Some(2.0) => Some((2, &by::MOST_OF_TWO_SIDE_BY_SIDE)),
                Some(3.0) => Some((3, &by::MOST_OF_THREE_SIDE_BY_SIDE)),
                _ => None,
            };
            // No two stand in one place.
            if let Some((number, formula)) = side_by_side.filter(|_| !length.is_left_out()) {
                let inputs = (&g.mass_each, radius, &length);
                let most = |(mass, radius, length): (Mass, Length, Length)| {
                    most_of_weights(number, mass * radius, Angle::radians((length / radius).value()))
                };
                return Some(recorder.on_the_way(spot, spec, unit, formula, inputs, most));
            }
            let inputs = (&g.mass_each, radius, &weights);
            recorder.on_the_way(
                spot,
                spec,
                unit,
                &by::MOST_BY_SLIDING,
                inputs,
                |(mass, radius, weights): (Mass, _, _)| {
                    sliding_weights(mass, radius, Angle::ZERO).map(|pair| pair * (weights.value() / 2.0))
                },
            )
        }
        Method::SlotFiller => {
            at_places(recorder, (block, places), spot, &filler(recorder, block, spot, g), radius, unit)
        }
        Method::Welding | Method::Clamping | Method::SetScrews | Method::Washers | Method::Putty => {
            let each: Val<Mass> = recorder.facts.quantity(block, plane::MOST_PER_PLACE);
            let each = each.or(|| g.mass_each.clone());
            if each.is_left_out() {
                return None;
            }
            at_places(recorder, (block, places), spot, &each, radius, unit)
        }
    })
}

/// Holes side by side, as many as one correction may take.
fn drilled<'b>(
    recorder: &Recorder<'b>,
    block: &EffectiveBlock<'b>,
    spot: &Spot,
    g: &Geometry,
    unit: Unit,
) -> Val<Unbalance> {
    let spec = &result::GREATEST_CORRECTION;
    let holes: Val<Ratio> = recorder.facts.number(block, plane::HOLES_AT_MOST);
    let holes = holes.or(|| recorder.default(block, plane::HOLES_AT_MOST, Ratio::new(1.0), Unit::ONE));
    let spacing: Val<Length> = recorder.facts.quantity(block, plane::HOLE_SPACING_AT_LEAST);
    let spacing = spacing.or(|| match g.hole_diameter.get() {
        Some(diameter) => {
            recorder.default(block, plane::HOLE_SPACING_AT_LEAST, diameter * USUAL_SPACING, g.hole_diameter.unit)
        }
        None => recorder.default(block, plane::HOLE_SPACING_AT_LEAST, Length::millimetres(1.0), Unit::MILLIMETRE),
    });
    let tail = (&g.hole_diameter, &g.depth, &g.point_angle, &g.density, &holes, &spacing);
    let (d, depth, point, density, holes, spacing) = tail;
    if g.axial {
        let inputs = (&g.pitch_radius, d, depth, point, density, holes, spacing);
        return recorder.on_the_way(
            spot,
            spec,
            unit,
            &by::MOST_BY_DRILLING_AXIALLY,
            inputs,
            |(r, d, l, point, density, n, s)| {
                let hole = |l| axial_hole(Drill { diameter: d, point_angle: point }, l, r, density);
                side_by_side((n, s), l, hole, |_| r)
            },
        );
    }
    let inputs = (&g.surface, d, depth, point, density, holes, spacing);
    recorder.on_the_way(spot, spec, unit, &by::MOST_BY_DRILLING_RADIALLY, inputs, |(r, d, l, point, density, n, s)| {
        let hole = |l| radial_hole(Drill { diameter: d, point_angle: point }, l, r, density);
        side_by_side((n, s), l, hole, |l| r - l)
    })
}

/// A hole at each place of the plane that is neither barred nor used.
fn drilled_at_places<'b>(
    recorder: &Recorder<'b>,
    (block, places): (&EffectiveBlock<'b>, Option<&Places>),
    spot: &Spot,
    g: &Geometry,
    unit: Unit,
) -> Val<Unbalance> {
    let spec = &result::GREATEST_CORRECTION;
    let places = match FreePlaces::of(recorder, block, places) {
        Ok(places) => places,
        Err(origin) => return Val::missing(origin, Reason::Unreadable, unit),
    };
    let (d, depth, point, density) = (&g.hole_diameter, &g.depth, &g.point_angle, &g.density);
    if g.axial {
        let inputs = (&g.pitch_radius, d, depth, point, density, &places.number, &places.from);
        let formula = &by::MOST_BY_DRILLING_AXIALLY_AT_PLACES;
        return recorder.on_the_way(spot, spec, unit, formula, inputs, |(r, d, l, point, density, _, _)| {
            places.most(axial_hole(Drill { diameter: d, point_angle: point }, l, r, density)?.unbalance)
        });
    }
    let inputs = (&g.surface, d, depth, point, density, &places.number, &places.from);
    let formula = &by::MOST_BY_DRILLING_RADIALLY_AT_PLACES;
    recorder.on_the_way(spot, spec, unit, formula, inputs, |(r, d, l, point, density, _, _)| {
        places.most(radial_hole(Drill { diameter: d, point_angle: point }, l, r, density)?.unbalance)
    })
}

/// Up to so many holes beside each other, as deep as together takes off most.
fn side_by_side(
    (holes, spacing): (Ratio, Length),
    deepest: Length,
    hole: impl Fn(Length) -> Computed<Piece>,
    radius_at: impl Fn(Length) -> Length,
) -> Computed<Unbalance> {
    let one = hole(deepest)?.unbalance;
    let each = |depth: Length| hole(depth).ok().map(|hole| hole.unbalance);
    let apart = |depth: Length| spacing_angle(spacing, radius_at(depth)).ok().map(up_to_whole_degree);
    Ok(most_together(holes.value() as u32, deepest, each, apart).unwrap_or(one))
}

/// Masses at the places of the plane that are neither barred nor used; at any angle when it has none.
fn at_places<'b>(
    recorder: &Recorder<'b>,
    (block, places): (&EffectiveBlock<'b>, Option<&Places>),
    spot: &Spot,
    each: &Val<Mass>,
    radius: &Val<Length>,
    unit: Unit,
) -> Val<Unbalance> {
    let spec = &result::GREATEST_CORRECTION;
    if block.field(plane::PLACES).is_none() {
        return recorder
            .on_the_way(spot, spec, unit, &by::MOST_AT_ONE_PLACE, (each, radius), |(mass, radius)| Ok(mass * radius));
    }
    let places = match FreePlaces::of(recorder, block, places) {
        Ok(places) => places,
        Err(origin) => return Val::missing(origin, Reason::Unreadable, unit),
    };
    let inputs = (each, radius, &places.number, &places.from);
    recorder
        .on_the_way(spot, spec, unit, &by::MOST_AT_PLACES, inputs, |(mass, radius, _, _)| places.most(mass * radius))
}

/// The places of a plane that are neither barred nor used, with what the sheet says of all of them.
struct FreePlaces {
    number: Val<Ratio>,
    from: Val<Angle>,
    free: Vec<Angle>,
}

impl FreePlaces {
    /// Of a plane that states `places`; else, or where they cannot be read, where they should stand.
    fn of<'b>(recorder: &Recorder<'b>, block: &EffectiveBlock<'b>, places: Option<&Places>) -> Result<Self, Origin> {
        let field = block.field(plane::PLACES);
        let origin = recorder.facts.origin(block, plane::PLACES, field);
        let Some(FieldValue::Places { count, from }) = field.map(|field| &field.field.value) else {
            return Err(origin);
        };
        let free = places.map(|places| places.free.iter().map(|place| places.angles[*place]).collect());
        Ok(Self {
            number: Val::exact(Ratio::new(f64::from(*count)), origin.clone(), Unit::ONE),
            from: Val::exact(Angle::from_base(from.base), origin, from.unit),
            free: free.unwrap_or_default(),
        })
    }

    /// The most that can be corrected towards every angle when each place takes this much.
    fn most(&self, each: Unbalance) -> Computed<Unbalance> {
        if self.free.is_empty() {
            return Ok(Unbalance::ZERO);
        }
        Capacity::new(each, &self.free)?.everywhere()
    }
}
