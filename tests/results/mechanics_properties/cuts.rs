//! Drilled holes, ground arcs and milled flats against sums over thin slices, and depths that come back.

use super::close;
use proptest::prelude::*;
use rotorbook::mechanics::correction::Piece;
use rotorbook::mechanics::correction::arc::{Arc, ground_arc, ground_arc_depth};
use rotorbook::mechanics::correction::drilling::{Drill, axial_hole, axial_hole_depth, radial_hole, radial_hole_depth};
use rotorbook::mechanics::correction::flat::{milled_flat, milled_flat_depth};
use rotorbook::mechanics::correction::sliding::{sliding_weights, spread_for};
use rotorbook::motion::{Cut, Shape};
use rotorbook::units::{Angle, Density, Length, Mass};
use std::f64::consts::PI;

/// Mass in g and unbalance in g·mm of slices, each an area in mm² at a radius in mm, `thickness` mm thick.
fn sum_of_slices(count: u32, length: f64, slice: impl Fn(f64) -> (f64, f64), density: f64) -> (f64, f64) {
    let thickness = length / f64::from(count);
    (0..count).map(|n| slice((f64::from(n) + 0.5) * thickness)).fold((0.0, 0.0), |(mass, unbalance), (area, radius)| {
        let more = area * thickness * density;
        (mass + more, unbalance + more * radius)
    })
}

fn agrees(piece: Piece, (mass, unbalance): (f64, f64), share: f64) -> bool {
    close(piece.mass.in_grams(), mass, share)
        && close(piece.unbalance.in_gram_millimetres(), unbalance, share)
        && close((piece.mass * piece.radius / piece.unbalance).value(), 1.0, 1e-12)
}

fn density(grams_per_cubic_millimetre: f64) -> Density {
    Density::grams_per_cubic_centimetre(grams_per_cubic_millimetre * 1000.0)
}

const STEEL: f64 = 0.00785;

fn drill(diameter: f64, tip: f64) -> Drill {
    Drill { diameter: Length::millimetres(diameter), point_angle: Angle::degrees(tip) }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(60))]

    /// Volume by slicing: planes across the hole, each a row of columns from the bottom that the drill leaves to the round
    /// surface. Another way than the discs about its own axis that the formula sums up.
    #[test]
    fn a_radial_hole_in_a_round_surface_is_the_sum_of_its_columns(
        surface in 12.0..400.0_f64, diameter in 2.0..20.0_f64, depth in 0.0..6.0_f64, tip in 90.0..170.0_f64,
    ) {
        let rim = diameter / 2.0;
        let height = rim * (PI / 2.0 - f64::to_radians(tip) / 2.0).tan();
        prop_assume!(depth + height < surface);
        let steps = 400;
        let step = diameter / f64::from(steps);
        let at = |n: u32| (f64::from(n) + 0.5) * step - rim;
        let (mut mass, mut unbalance) = (0.0, 0.0);
        for (x, y) in (0..steps).flat_map(|n| (0..steps).map(move |other| (at(n), at(other)))) {
            let out = x.hypot(y);
            let top = (surface * surface - x * x).max(0.0).sqrt();
            let bottom = surface - depth - height * (1.0 - out / rim);
            if out <= rim && bottom < top {
                mass += (top - bottom) * step * step * STEEL;
                unbalance += (top * top - bottom * bottom) / 2.0 * step * step * STEEL;
            }
        }
        let shape = Shape::RadialHole { diameter: diameter / 1e3, point: tip.to_radians() };
        let cut = Cut { shape, surface: surface / 1e3, density: STEEL * 1e6 };
        let simulated = cut.unbalance(depth / 1e3) * 1e6;
        let [depth, surface] = [depth, surface].map(Length::millimetres);
        let hole = radial_hole(drill(diameter, tip), depth, surface, density(STEEL)).unwrap();
        prop_assert!(agrees(hole, (mass, unbalance), 2e-3), "{hole:?} {mass} {unbalance}");
        prop_assert!(close(simulated, unbalance, 2e-3), "{simulated} {unbalance}");
    }

    #[test]
    fn an_axial_hole_is_the_sum_of_its_discs(
        pitch in 20.0..400.0_f64, diameter in 2.0..20.0_f64, depth in 0.0..20.0_f64, tip in 60.0..180.0_f64,
    ) {
        let height = diameter / 2.0 * (PI / 2.0 - f64::to_radians(tip) / 2.0).tan();
        let disc = |from_surface: f64| {
            let left = ((depth + height - from_surface) / height).clamp(0.0, 1.0);
            let radius = if from_surface <= depth { diameter / 2.0 } else { diameter / 2.0 * left };
            (PI * radius * radius, pitch)
        };
        let slices = sum_of_slices(40_000, depth + height, disc, STEEL);
        let [depth, pitch] = [depth, pitch].map(Length::millimetres);
        let hole = axial_hole(drill(diameter, tip), depth, pitch, density(STEEL)).unwrap();
        prop_assert!(agrees(hole, slices, 2e-4), "{hole:?} {slices:?}");
    }

    #[test]
    fn a_ground_arc_is_the_sum_of_its_cells(
        surface in 20.0..400.0, depth in 0.1..10.0, width in 1.0..60.0, arc in 1.0..360.0,
    ) {
        // Rings of the layer, each summed over the angle by its component towards the middle.
        let half = f64::to_radians(arc) / 2.0;
        let steps = 400;
        let step = 2.0 * half / f64::from(steps);
        let component: f64 = (0..steps).map(|n| (-half + (f64::from(n) + 0.5) * step).cos() * step).sum();
        let ring = |from_surface: f64| {
            let radius = surface - from_surface;
            (width * radius * 2.0 * half, radius * component / (2.0 * half))
        };
        let (mass, unbalance) = sum_of_slices(4000, depth, ring, STEEL);
        let arc = Arc {
            surface_radius: Length::millimetres(surface),
            width: Length::millimetres(width),
            full_angle: Angle::degrees(arc),
        };
        let ground = ground_arc(arc, Length::millimetres(depth), density(STEEL)).unwrap();
        prop_assert!(close(ground.mass.in_grams(), mass, 1e-6));
        // A whole ring sums to nothing: compare with what it would have on one side.
        let whole = mass * surface;
        prop_assert!((ground.unbalance.in_gram_millimetres() - unbalance).abs() <= 1e-5 * whole);
    }

    #[test]
    fn a_milled_flat_is_the_sum_of_its_strips(surface in 20.0..400.0_f64, share in 0.001..1.0_f64, width in 1.0..60.0_f64) {
        let depth = surface * share;
        let strip = |from_surface: f64| {
            let radius = surface - from_surface;
            (2.0 * (surface * surface - radius * radius).sqrt() * width, radius)
        };
        let slices = sum_of_slices(40_000, depth, strip, STEEL);
        let [surface, width, depth] = [surface, width, depth].map(Length::millimetres);
        let flat = milled_flat(surface, width, depth, density(STEEL)).unwrap();
        prop_assert!(agrees(flat, slices, 1e-5), "{flat:?} {slices:?}");
    }
}

proptest! {
    #[test]
    fn depths_come_back(
        surface in 40.0..400.0, diameter in 2.0..20.0, depth in 1e-3..20.0, tip in 60.0..=180.0,
        width in 1.0..60.0, arc in 1.0..359.0,
    ) {
        let [depth, surface, width] = [depth, surface, width].map(Length::millimetres);
        let (drill, steel) = (drill(diameter, tip), density(STEEL));
        let same = |back: Length| (back - depth).abs() <= Length::millimetres(1e-9);

        let hole = radial_hole(drill, depth, surface, steel).unwrap();
        prop_assert!(same(radial_hole_depth(drill, hole.unbalance, surface, steel).unwrap()));
        let hole = axial_hole(drill, depth, surface, steel).unwrap();
        prop_assert!(same(axial_hole_depth(drill, hole.unbalance, surface, steel).unwrap()));
        let flat = milled_flat(surface, width, depth, steel).unwrap();
        prop_assert!(same(milled_flat_depth(surface, width, flat.unbalance, steel).unwrap()));
        let arc = Arc { surface_radius: surface, width, full_angle: Angle::degrees(arc) };
        let ground = ground_arc(arc, depth, steel).unwrap();
        prop_assert!(same(ground_arc_depth(arc, ground.unbalance, steel).unwrap()));
    }

    #[test]
    fn the_spread_of_sliding_weights_comes_back(mass in 0.1..500.0, radius in 5.0..500.0, spread in 0.1..180.0) {
        let (mass, radius) = (Mass::grams(mass), Length::millimetres(radius));
        let unbalance = sliding_weights(mass, radius, Angle::degrees(spread)).unwrap();
        let back = spread_for(unbalance, mass, radius).unwrap().in_degrees();
        prop_assert!((back - spread).abs() < 1e-6);
    }

    #[test]
    fn less_than_the_tip_and_more_than_the_rotor_are_refused(surface in 40.0..400.0, diameter in 2.0..20.0) {
        let (drill, surface, steel) = (drill(diameter, 118.0), Length::millimetres(surface), density(STEEL));
        let least = radial_hole(drill, Length::ZERO, surface, steel).unwrap().unbalance;
        prop_assert!(radial_hole_depth(drill, least * 0.99, surface, steel).is_err());
        let deepest = surface - drill.tip_height().unwrap();
        let most = radial_hole(drill, deepest * (1.0 - 1e-9), surface, steel).unwrap().unbalance;
        prop_assert!(radial_hole_depth(drill, most * 1.01, surface, steel).is_err());
    }
}
