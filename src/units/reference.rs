//! The table against an independent one: the general-purpose units library `uom`.

use super::*;

fn factor(text: &str) -> f64 {
    Unit::parse(text).unwrap_or_else(|error| panic!("{text}: {error}")).factor()
}

/// `uom` holds the customary units with seven digits. Their exact definitions are rows of
/// `tests/data/mechanics.csv`.
const SEVEN_DIGITS: f64 = 5e-7;
const ALL_DIGITS: f64 = 1e-12;

/// One row: our spelling, and `uom`'s value of one such unit in its coherent SI unit.
macro_rules! check {
    ($tolerance:ident: $($text:literal = $quantity:ident :: $unit:ident),* $(,)?) => {$(
        let theirs = uom::si::f64::$quantity::new::<units::$unit>(1.0).value;
        let ours = factor($text);
        assert!((ours / theirs - 1.0).abs() < $tolerance, "{}: {ours}, not {theirs}", $text);
    )*};
}

mod units {
    pub use uom::si::angle::{degree, radian, revolution};
    pub use uom::si::angular_velocity::{radian_per_second, revolution_per_minute, revolution_per_second};
    pub use uom::si::area::{square_inch, square_millimeter};
    pub use uom::si::force::{gram_force, kilogram_force, newton, pound_force};
    pub use uom::si::length::{centimeter, inch, meter, micrometer, mil, millimeter};
    pub use uom::si::mass::{gram, kilogram, milligram, ounce, pound};
    pub use uom::si::mass_density::{gram_per_cubic_centimeter, kilogram_per_cubic_meter, pound_per_cubic_inch};
    pub use uom::si::moment_of_inertia::kilogram_square_meter;
    pub use uom::si::pressure::{megapascal, pascal, psi};
    pub use uom::si::ratio::percent;
    pub use uom::si::time::{day, hour, minute, second};
    pub use uom::si::velocity::{inch_per_second, meter_per_second, millimeter_per_second};
    pub use uom::si::volume::{cubic_inch, cubic_millimeter};
}

#[test]
fn factors_agree() {
    check!(ALL_DIGITS:
        "kg" = Mass::kilogram,
        "g" = Mass::gram,
        "mg" = Mass::milligram,
        "m" = Length::meter,
        "cm" = Length::centimeter,
        "mm" = Length::millimeter,
        "µm" = Length::micrometer,
        "N" = Force::newton,
        "Pa" = Pressure::pascal,
        "MPa" = Pressure::megapascal,
        "N/mm²" = Pressure::megapascal,
        "s" = Time::second,
        "min" = Time::minute,
        "h" = Time::hour,
        "d" = Time::day,
        "r" = Angle::revolution,
        "deg" = Angle::degree,
        "°" = Angle::degree,
        "rad" = Angle::radian,
        "rpm" = AngularVelocity::revolution_per_minute,
        "r/min" = AngularVelocity::revolution_per_minute,
        "Hz" = AngularVelocity::revolution_per_second,
        "rad/s" = AngularVelocity::radian_per_second,
        "mm/s" = Velocity::millimeter_per_second,
        "m/s" = Velocity::meter_per_second,
        "g/cm³" = MassDensity::gram_per_cubic_centimeter,
        "kg/m³" = MassDensity::kilogram_per_cubic_meter,
        "kg·m²" = MomentOfInertia::kilogram_square_meter,
        "mm²" = Area::square_millimeter,
        "mm³" = Volume::cubic_millimeter,
        "%" = Ratio::percent,
    );
    check!(SEVEN_DIGITS:
        "oz" = Mass::ounce,
        "lb" = Mass::pound,
        "in" = Length::inch,
        "mil" = Length::mil,
        "thou" = Length::mil,
        "lbf" = Force::pound_force,
        "gf" = Force::gram_force,
        "kgf" = Force::kilogram_force,
        "psi" = Pressure::psi,
        "lbf/in²" = Pressure::psi,
        "in/s" = Velocity::inch_per_second,
        "lb/in³" = MassDensity::pound_per_cubic_inch,
        "in²" = Area::square_inch,
        "in³" = Volume::cubic_inch,
    );
}

#[test]
fn unbalance_units_agree() {
    let product = |mass: uom::si::f64::Mass, length: uom::si::f64::Length| (mass * length).value;
    let mass = uom::si::f64::Mass::new::<units::ounce>;
    let length = uom::si::f64::Length::new::<units::inch>;
    assert!((factor("oz·in") / product(mass(1.0), length(1.0)) - 1.0).abs() < SEVEN_DIGITS);
    let mass = uom::si::f64::Mass::new::<units::pound>;
    assert!((factor("lb·in") / product(mass(1.0), length(1.0)) - 1.0).abs() < SEVEN_DIGITS);
    let mass = uom::si::f64::Mass::new::<units::gram>;
    assert!((factor("g·in") / product(mass(1.0), length(1.0)) - 1.0).abs() < SEVEN_DIGITS);
}

#[test]
fn temperatures_agree() {
    use uom::si::f64::ThermodynamicTemperature;
    use uom::si::thermodynamic_temperature::{degree_celsius, kelvin};
    let theirs = ThermodynamicTemperature::new::<degree_celsius>(21.5).get::<kelvin>();
    assert!((Unit::DEGREE_CELSIUS.to_base(21.5) - theirs).abs() < 1e-9);
    assert!((Unit::DEGREE_CELSIUS.from_base(theirs) - 21.5).abs() < 1e-9);
}
