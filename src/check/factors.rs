//! Factors by which a number is off when it was taken from the wrong place.

/// A factor that slips make, with the slip.
#[derive(Clone, Copy, Debug)]
pub struct Factor {
    pub value: f64,
    /// The factor as people write it.
    pub written: &'static str,
    /// What was mixed up; reads on after "as with".
    pub slip: &'static str,
}

const fn factor(value: f64, written: &'static str, slip: &'static str) -> Factor {
    Factor { value, written, slip }
}

/// Exact by definition of the units.
const INCHES: Factor = factor(25.4, "25.4", "inches mistaken for millimetres");
const OUNCES: Factor = factor(28.349_523_125, "28.35", "ounces mistaken for grams");
const OUNCE_INCHES: Factor = factor(720.077_887_375, "720.08", "oz·in mistaken for g·mm");

/// A slipped decimal point looks alike.
const CENTIMETRES: Factor = factor(10.0, "10", "centimetres mistaken for millimetres, or a decimal point misplaced");

/// Common practice, no source; the unit factors are exact by definition.
const FACTORS: [Factor; 9] = [
    factor(2.0, "2", "the whole rotor's share confused with that of one plane or bearing, or a diameter with a radius"),
    INCHES,
    OUNCE_INCHES,
    OUNCES,
    factor(2.204_622_621_8, "2.205", "pounds mistaken for kilograms"),
    factor(9.806_65, "9.81", "a weight in newtons mistaken for a mass in kilograms"),
    factor(60.0, "60", "turns a second mistaken for turns a minute"),
    factor(std::f64::consts::TAU, "2π", "turns mistaken for radians"),
    factor(60.0 / std::f64::consts::TAU, "60 ÷ 2π", "rad/s mistaken for r/min"),
];

/// The same between a mass, a radius and a reading that should agree.
const OF_CALIBRATIONS: [Factor; 9] = [
    factor(2.0, "2", "a diameter mistaken for a radius, or a whole tolerance for one plane's share"),
    factor(4.0, "4", "a diameter mistaken for a radius twice"),
    CENTIMETRES,
    INCHES,
    OUNCES,
    factor(100.0, "100", "a decimal point misplaced by two places"),
    factor(453.592_37, "453.6", "pounds mistaken for grams"),
    OUNCE_INCHES,
    factor(1000.0, "1000", "grams mistaken for kilograms, or millimetres for metres"),
];

/// The same between two lengths along the axis, and between two radii. A slipped decimal point is among them.
const OF_LENGTHS: [Factor; 3] = [CENTIMETRES, INCHES, factor(1000.0, "1000", "metres mistaken for millimetres")];
static DIAMETER: Factor = factor(2.0, "2", "a diameter mistaken for a radius");

/// What a ratio of two lengths that should agree looks like.
pub fn of_a_length(ratio: f64, radius: bool) -> Option<&'static Factor> {
    if ratio <= 0.0 {
        return None;
    }
    let ratio = ratio.max(1.0 / ratio);
    let diameter = radius.then_some(&DIAMETER);
    diameter.into_iter().chain(&OF_LENGTHS).find(|factor| near(ratio / factor.value, NEAR))
}

/// What a ratio of two numbers that should agree looks like.
pub fn of_a_calibration(ratio: f64) -> Option<&'static Factor> {
    if ratio <= 0.0 {
        return None;
    }
    let ratio = ratio.max(1.0 / ratio);
    OF_CALIBRATIONS.iter().find(|factor| near(ratio / factor.value, NEAR))
}

/// How near a ratio must come to a factor.
const NEAR: f64 = 0.005;
/// A number so coarse that it is not known to this says nothing about factors.
const COARSE: f64 = 0.02;

/// Whether two numbers are the same, with the share to which the first is known.
pub fn near(ratio: f64, coarseness: f64) -> bool {
    (ratio - 1.0).abs() <= NEAR.max(coarseness)
}

/// The factor by which a stated number differs from the one it should be; `coarseness` is half its last step, as a
/// share of it.
pub fn familiar(stated: f64, expected: f64, coarseness: f64) -> Option<&'static Factor> {
    if stated <= 0.0 || expected <= 0.0 || coarseness > COARSE {
        return None;
    }
    let ratio = if stated > expected { stated / expected } else { expected / stated };
    FACTORS.iter().find(|factor| near(ratio / factor.value, coarseness))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn factors_lie_farther_apart_than_a_ratio_may_stray() {
        for (n, one) in FACTORS.iter().enumerate() {
            for other in &FACTORS[n + 1..] {
                assert!(!near(one.value / other.value, COARSE), "{} and {}", one.written, other.written);
            }
        }
    }

    // Inch and ounce are exact by definition: 25.4 mm, 28.349523125 g (NIST SP 811, appendix B; from memory).
    #[test]
    fn a_factor_is_found_either_way() {
        assert_eq!(familiar(81.7 * 25.4, 81.7, 0.001).map(|factor| factor.written), Some("25.4"));
        assert_eq!(familiar(81.7 / 720.08, 81.7, 0.001).map(|factor| factor.written), Some("720.08"));
        assert!(familiar(81.7, 81.7, 0.001).is_none());
        assert!(familiar(3.0, 1.5, 0.17).is_none());
    }
}
