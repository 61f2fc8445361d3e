//! A small book for the tests of a session: a shop with its machine, a rotor, and a setup of it.

use super::Folder;

pub const SHOP: &str = "shop \"Tern Quay Rotor Shop\" {
  format: 1
}

masses \"brass set\" {
  values: 1.00 g, 2.00 g, 3.00 g
  uncertainty: 0.01 g
}

machine \"soft bench\" {
  supports: soft
  works: above resonance
  drive: belt
  rotor mass: 0.5 kg to 50 kg
  swing: 1200 mm
  balancing speed: 400 rpm to 2000 rpm
  channels: left, right
  readout {
    shows: div
    angles: by strobe
    full scale: 60 div
  }
  control dial {
    range: 0 to 100
  }
}
";

pub const ROTOR: &str = "# Fan wheel, ship ventilation – µ and 𝄞 take more than one unit
rotor \"fan wheel\" {
  drawing: \"TQ-315\"
  weighed: 2.73 kg at 0 mm, 2.09 kg at 164 mm
  datum: \"shoulder of the drive-end bearing\"
  bearings: 0 mm, 164 mm
  highest service speed: 3550 rpm
  highest safe speed: 4200 rpm
  zero angle: \"keyway\"
  angles count: with rotation
  rotation: clockwise seen from drive end
  largest diameter: 330 mm
  plane hub {
    at: 34 mm
    radius: 134 mm
    correct: add
  }
  plane rim {
    at: 121 mm
    radius: 141 mm
    correct: add
  }
  tolerance {
    grade: G 6.3
    source: \"drawing note 7\"
  }
}
";

pub const SETUP: &str = "setup \"fan wheel on the soft bench\" {
  rotor: \"fan wheel\"
  machine: \"soft bench\"
  masses: \"brass set\"
  balancing speed: 1150 rpm
  supports at: 0 mm, 164 mm
  channel left: hub
  channel right: rim
  indicates: heavy spot
  calibrate hub {
    mass: 3.00 g
    radius: 134.0 mm
    angle: 0 deg
  }
}
";

pub fn book() -> Folder {
    Folder::of([("book.rotor", SHOP), ("rotors/fan.rotor", ROTOR), ("setups/fan.rotor", SETUP)])
}

/// Line and column of the first place of a piece of a text, in UTF-16, `within` its first characters.
pub fn place_of(text: &str, piece: &str, within: usize) -> (u32, u32) {
    let at = text.find(piece).unwrap_or_else(|| panic!("{piece:?} is in the text")) + within;
    let before = &text[..at];
    let line = before.matches('\n').count() as u32;
    let start = before.rfind('\n').map_or(0, |at| at + 1);
    (line, before[start..].encode_utf16().count() as u32)
}
