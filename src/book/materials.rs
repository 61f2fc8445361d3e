//! Common metals that every book knows without stating them.

use crate::units::Density;

/// A material of the program's own.
#[derive(Clone, Copy, Debug)]
pub struct BuiltIn {
    pub name: &'static str,
    /// kg/m³
    pub density: f64,
    /// Half the width within which published values lie, kg/m³.
    pub spread: f64,
    pub source: &'static str,
}

const HANDBOOK: &str = "handbook value, from memory";

/// Densities at room temperature. The spread is that of the published ranges; a cast iron is better weighed.
pub const BUILT_IN: [BuiltIn; 12] = [
    BuiltIn { name: "carbon steel", density: 7850.0, spread: 30.0, source: HANDBOOK },
    BuiltIn { name: "stainless steel", density: 7740.0, spread: 260.0, source: HANDBOOK },
    BuiltIn { name: "cast iron", density: 7300.0, spread: 500.0, source: HANDBOOK },
    BuiltIn { name: "aluminium", density: 2712.0, spread: 12.0, source: HANDBOOK },
    BuiltIn { name: "cast aluminium", density: 2700.0, spread: 100.0, source: HANDBOOK },
    BuiltIn { name: "magnesium", density: 1738.0, spread: 20.0, source: HANDBOOK },
    BuiltIn { name: "titanium", density: 4500.0, spread: 20.0, source: HANDBOOK },
    BuiltIn { name: "zinc", density: 7135.0, spread: 20.0, source: HANDBOOK },
    BuiltIn { name: "brass", density: 8550.0, spread: 150.0, source: HANDBOOK },
    BuiltIn { name: "bronze", density: 8150.0, spread: 750.0, source: HANDBOOK },
    BuiltIn { name: "copper", density: 8935.0, spread: 5.0, source: HANDBOOK },
    BuiltIn { name: "lead", density: 11340.0, spread: 20.0, source: HANDBOOK },
];

impl BuiltIn {
    pub fn named(name: &str) -> Option<&'static BuiltIn> {
        BUILT_IN.iter().find(|material| material.name == name)
    }

    pub fn value(&self) -> Density {
        Density::kilograms_per_cubic_metre(self.density)
    }
}
