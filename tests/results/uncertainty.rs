//! Uncertainties that the program prints, against drawing the inputs at random (JCGM 101: Monte Carlo, from memory).

use crate::support::books::{amount, book};

/// A small generator of numbers that look random; the same at every run.
struct Draw(u64);

impl Draw {
    fn next(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        ((z ^ (z >> 31)) >> 11) as f64 / (1u64 << 53) as f64
    }

    /// Anywhere within `value ± half` with equal chance.
    fn within(&mut self, value: f64, half: f64) -> f64 {
        value + half * (2.0 * self.next() - 1.0)
    }
}

const DRAWS: usize = 200_000;

/// Twice the standard deviation of a quantity drawn many times.
fn spread(mut draw: impl FnMut(&mut Draw) -> f64) -> f64 {
    let mut source = Draw(20_261_125);
    let values: Vec<f64> = (0..DRAWS).map(|_| draw(&mut source)).collect();
    let mean = values.iter().sum::<f64>() / DRAWS as f64;
    2.0 * (values.iter().map(|value| (value - mean).powi(2)).sum::<f64>() / (DRAWS - 1) as f64).sqrt()
}

#[track_caller]
fn assert_near(program: f64, drawn: f64) {
    assert!((program - drawn).abs() < 0.01 * drawn, "the program says ± {program}, drawing says ± {drawn}");
}

const SHEET: &str = r#"
machine "bench" {
  supports: soft
  readout {
    shows: div
    angles: none
  }
}
rotor "disc" {
  weighed: 2.73 kg at 0 mm, 2.09 kg at 164 mm
  bearings: 10 mm, 150 mm
  plane rim {
    at: 80 mm
    radius: 60 mm
    method: drilling
    surface diameter: 120 mm
    hole diameter: 5 mm
    depth: up to 20 mm
    material: "grey iron"
  }
  tolerance {
    rim: 30 g·mm
  }
}
material "grey iron" {
  density: 7.10 g/cm³ ± 0.25 g/cm³
}
setup "disc" {
  rotor: "disc"
  machine: "bench"
  balancing speed: 900 rpm
  tolerance reads: 2 div
  calibrate rim {
    mass: 2.00 g
    radius: 60.0 mm ± 0.05 mm
  }
}
"#;

#[test]
fn mass_times_radius() {
    let book = book(SHEET);
    let (unbalance, expanded) = amount(&book, "setup disc / calibrate rim / calibration unbalance", "g·mm");
    assert!((unbalance - 120.0).abs() < 1e-9);
    assert_near(expanded, spread(|draw| draw.within(2.0, 0.005) * draw.within(60.0, 0.05)));
}

#[test]
fn the_reading_to_set() {
    let book = book(SHEET);
    let (reading, expanded) = amount(&book, "setup disc / calibrate rim / reading", "div");
    assert!((reading - 8.0).abs() < 1e-9);
    assert_near(expanded, spread(|draw| draw.within(2.0, 0.005) * draw.within(60.0, 0.05) / 30.0 * 2.0));
}

/// Mass, mass centre and journal loads rest on the same two weighings: their errors hang together.
#[test]
fn journal_loads_from_two_weighings() {
    let book = book(SHEET);
    let load = |draw: &mut Draw| {
        let (first, second) = (draw.within(2.73, 0.005), draw.within(2.09, 0.005));
        let mass = first + second;
        let centre = second * 164.0 / mass;
        mass * (150.0 - centre) / 140.0
    };
    let (_, expanded) = amount(&book, "rotor disc / journal load a", "kg");
    assert_near(expanded, spread(load));
    let (_, expanded) = amount(&book, "rotor disc / mass centre", "mm");
    assert_near(
        expanded,
        spread(|draw| {
            let (first, second) = (draw.within(2.73, 0.005), draw.within(2.09, 0.005));
            second * 164.0 / (first + second)
        }),
    );
}

/// The depth of a hole for one division, with a density that spreads: solved for each draw by halving the interval; the gap
/// between a flat and the round surface takes π·r⁴ ÷ 8 off the moment. Plain geometry.
#[test]
fn the_depth_of_a_hole() {
    let book = book(SHEET);
    let (depth, expanded) = amount(&book, "setup disc / calibrate rim / one division as depth", "mm");
    let tip = 2.5 / (59f64.to_radians()).tan();
    let area = std::f64::consts::PI * 6.25;
    let taken = |depth: f64, density: f64| {
        let gap = std::f64::consts::PI * 2.5_f64.powi(4) / 8.0;
        density * (area * depth * (60.0 - depth / 2.0) + area * tip / 3.0 * (60.0 - depth - tip / 4.0) - gap)
    };
    let solve = |density: f64| {
        let (mut low, mut high) = (0.0, 20.0);
        for _ in 0..60 {
            let middle = (low + high) / 2.0;
            if taken(middle, density) < 15.0 { low = middle } else { high = middle }
        }
        low
    };
    assert!((depth - solve(0.00710)).abs() < 1e-6, "{depth} against {}", solve(0.00710));
    let mut source = Draw(7);
    let mut values: Vec<f64> = (0..20_000).map(|_| solve(source.within(0.00710, 0.00025))).collect();
    values.sort_by(f64::total_cmp);
    let mean = values.iter().sum::<f64>() / 20_000.0;
    let deviation = (values.iter().map(|value| (value - mean).powi(2)).sum::<f64>() / 19_999.0).sqrt();
    assert!((expanded - 2.0 * deviation).abs() < 0.02 * expanded, "± {expanded} against ± {}", 2.0 * deviation);
}
