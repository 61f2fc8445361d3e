//! Made-up sheets in any number: half of them rotors, half setups of those rotors, all alike in size.

use std::fmt::Write as _;

/// The files of a book of `count` sheets, beside those that all of them share.
pub fn book(count: usize) -> Vec<(String, String)> {
    let mut files = vec![("book.rotor".to_owned(), SHOP.to_owned())];
    for n in 0..count / 2 {
        files.push((format!("rotors/fan-wheel-{n}.rotor"), rotor(n)));
        files.push((format!("setups/fan-wheel-{n}.rotor"), setup(n)));
    }
    files
}

/// Numbers that differ from sheet to sheet, so that nothing can be worked out once for all.
fn varied(n: usize, from: f64, step: f64, decimals: usize) -> String {
    format!("{:.decimals$}", from + step * (n % 97) as f64)
}

const SHOP: &str = r#"shop "Tern Quay Rotor Shop" {
  format: 1
  show in: g·mm
  calibration unbalance: 5 to 20
  instrument "fine scale" {
    measures: mass
    range: up to 200 g
    resolution: 0.01 g
  }
  instrument "long callipers" {
    measures: length
    range: up to 600 mm
    resolution: 0.05 mm
  }
}

material "wheel alloy" {
  density: 2.68 g/cm³ ± 0.04 g/cm³
  source: "weighed sample"
}

masses "brass set" {
  values: 0.50 g, 1.00 g, 2.00 g, 3.00 g, 5.00 g, 10.00 g
  uncertainty: 0.01 g
}

machine "soft bench" {
  supports: soft
  works: above resonance
  drive: belt
  rotor mass: 0.5 kg to 500 kg
  swing: 1200 mm
  balancing speed: 400 rpm to 2000 rpm
  motor speed: 300 rpm to 3000 rpm
  pulley: 80 mm
  channels: left, right
  minimum achievable residual unbalance: 2 g·mm
  readout {
    shows: div
    angles: by strobe
    full scale: 60 div
  }
  control "left strength" {
    range: 0 to 99
  }
  control "right strength" {
    range: 0 to 99
  }
}
"#;

pub fn rotor(n: usize) -> String {
    let mut text = String::new();
    let (left, right) = (varied(n, 2.73, 0.02, 2), varied(n, 2.09, 0.01, 2));
    let surface = varied(n, 268.4, 0.3, 1);
    let rim = varied(n, 141.0, 0.5, 1);
    let _ = write!(
        text,
        r#"# Fan wheel {n}, ship ventilation
rotor "fan wheel {n}" {{
  drawing: "TQ-{n:05} rev B"
  weighed: {left} kg at 0 mm, {right} kg at 164 mm
  datum: "shoulder of the drive-end bearing"
  bearings: 0 mm, 164 mm
  highest service speed: 3550 rpm
  highest safe speed: 4200 rpm
  zero angle: "keyway"
  angles count: with rotation
  rotation: clockwise seen from drive end
  largest diameter: 400 mm
  note: "as delivered, two bearings pressed on"

  plane hub {{
    at: 34 mm
    correct: remove
    method: drilling
    surface diameter: {surface} mm
    hole diameter: 8 mm
    depth: up to 12 mm
    direction: radial
    material: "wheel alloy"
    holes at most: 3
    hole spacing at least: 14 mm
    wall: 22 mm
    wall at least: 5 mm
    barred: 350 deg to 10 deg
  }}

  # the clamps go on the back plate
  plane rim {{
    at: 121 mm
    radius: {rim} mm
    correct: add
    method: clamping
    places: 8 from 0 deg
    places numbered: with rotation
    most per place: 12.0 g
  }}

  keyway "drive end" {{
    at: 12 mm
    key: half key
    width: 8 mm
    height: 7 mm
    length: 30 mm
    radius: 14.5 mm
    mark: "H"
  }}

  tolerance {{
    grade: G 6.3
    edition: "ISO 21940-11:2016"
    source: "drawing note 7"
  }}
}}
"#
    );
    text
}

pub fn setup(n: usize) -> String {
    let mut text = String::new();
    let radius = varied(n, 134.2, 0.15, 1);
    let rim = varied(n, 141.0, 0.5, 1);
    let (near, far) = (1 + n % 97, 1 + n % 89);
    let _ = write!(
        text,
        r#"# Fan wheel {n} on the soft bench
setup "fan wheel {n} on the soft bench" {{
  rotor: "fan wheel {n}"
  machine: "soft bench"
  masses: "brass set"
  status: draft
  revision: "A"
  by: "bench two"
  date: 2026-11-12
  balancing speed: 1150 rpm
  same speed within: 2 %
  speed found by: tachometer
  resonance found at: 310 rpm
  belt runs on: 60 mm
  supports at: 0 mm, 164 mm
  channel left: hub
  channel right: rim
  indicates: heavy spot
  tolerance reads: 1 div
  pre-balance to: 20 div
  caution: "hold the wheel while the belt is put on"

  settings {{
    "left strength": {near}
    "right strength": {far}
  }}

  # three grams in the hub, both ways round
  calibrate hub {{
    mass: 3.00 g
    radius: {radius} mm
    angle: 0 deg
    residual at calibration: 0.6 div
    taken as: mean of two opposite positions
  }}

  calibrate rim {{
    radius: {rim} mm
    angle: 90 deg
    reading: 10 div
    taken as: vector difference
  }}

  trial "as found" {{
    speed: 1150 rpm
    reading left: 14.2 div @ 310 deg
    reading right: 8.6 div @ 45 deg
  }}

  trial "mass in hub" {{
    mass in: hub
    mass: 5.00 g
    radius: {radius} mm
    angle: 0 deg
    trial mass: taken off
    speed: 1152 rpm
    reading left: 10.1 div @ 355 deg
    reading right: 8.4 div @ 47 deg
  }}

  check mass {{
    plane: hub
    mass: 3.00 g
    radius: {radius} mm
    within: 10 %
  }}
}}
"#
    );
    text
}
