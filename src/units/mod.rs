//! Dimensions, the unit table, quantities, and the only printer of numbers for people.
//! Sees nothing else of the program.

mod atom;
mod dimension;
mod measured;
mod parse;
mod print;
mod products;
mod quantity;
mod spelling;
mod typed;
mod unit;
mod vector;
mod words;

#[cfg(test)]
mod reference;

#[cfg(feature = "internals")]
pub use atom::{Atom, atoms};
pub use dimension::Dimension;
pub use measured::{Contributions, Part, Place, Source, sensitivity};
pub use parse::{UnitError, respell};
pub use print::{Bound, Printed, decimals, number, plainly, printed, quantity, rounded_to, with_decimals};
pub use quantity::{Quantity, is_same};
pub use typed::{
    ARM, Amount, Angle, Area, Couple, Density, Force, Indication, Inertia, Length, Mass, Pressure, Ratio, Sensitivity,
    SpecificUnbalance, Speed, Stiffness, Time, Typed, Unbalance, Velocity, Volume,
};
pub use unit::Unit;
pub use vector::Vector;
pub use words::{in_base_units, same_amounts};
