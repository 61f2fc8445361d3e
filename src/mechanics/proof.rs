//! What shows that a setup may be trusted.

use super::domain::{Computed, Input, Requirement, demand, positive, settled};
use crate::units::{Amount, Indication, Ratio, Unbalance, Vector};

/// What moves by chance or by itself may take this share of the reading at tolerance. Source: common practice, no source.
pub const MAY_MOVE: f64 = 0.25;

/// A mass may be shown this far from where it is, in degrees: at the wrong angle a right amount leaves 17 % of it.
/// Source: common practice, no source; the share from Machinery Component Maintenance and Repair, table 6-3.
pub const MAY_TURN: f64 = 10.0;

/// How far a reading departs from the one in proportion: `(A₂ / U₂) / (A₁ / U₁) − 1`, for two unbalances in one plane and
/// what each reads. All above zero; below zero when the larger unbalance reads too little.
///
/// Source: a readout in proportion to unbalance; common practice, no source.
pub fn departure_from_line(first: (Unbalance, Indication), second: (Unbalance, Indication)) -> Computed<Ratio> {
    let slope = |(unbalance, reading): (Unbalance, Indication)| -> Computed<f64> {
        Ok(positive(reading, Input::Reading)?.value() / positive(unbalance, Input::CalibrationUnbalance)?.raw())
    };
    settled(Ratio::new(slope(second)? / slope(first)? - 1.0))
}

/// How far what is shown departs from what was put on: `U_shown / U − 1`. Both above zero. Source: definition.
pub fn departure_from_put_on(shown: Unbalance, put_on: Unbalance) -> Computed<Ratio> {
    let shown = positive(shown, Input::Reading)?;
    settled(Ratio::new((shown / positive(put_on, Input::CalibrationUnbalance)?).value() - 1.0))
}

/// The largest distance of several readings from their mean; at least two.
///
/// Source: ISO 21940-14:2012, experimental assessment of errors (from memory).
pub fn scatter<T: Amount>(readings: &[Vector<T>]) -> Computed<T> {
    demand(readings.len() >= 2, Input::Readings, Requirement::BeGiven)?;
    let mean = readings.iter().copied().sum::<Vector<T>>() / readings.len() as f64;
    let farthest = readings.iter().map(|reading| (*reading - mean).amount().raw()).fold(0.0, f64::max);
    settled(T::from_raw(farthest))
}

/// The same of amounts without angles.
pub fn scatter_of_amounts<T: Amount>(amounts: &[T]) -> Computed<T> {
    let along = |amount: &T| Vector { x: *amount, y: T::from_raw(0.0) };
    scatter(&amounts.iter().map(along).collect::<Vec<_>>())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::Angle;

    #[test]
    fn twice_the_mass_that_reads_a_tenth_too_little_departs_by_a_tenth() {
        let unbalance = Unbalance::gram_millimetres;
        let found =
            departure_from_line((unbalance(100.0), Indication::new(5.0)), (unbalance(200.0), Indication::new(9.0)));
        assert!((found.unwrap().value() + 0.1).abs() < 1e-12);
    }

    #[test]
    fn scatter_is_the_farthest_from_the_mean() {
        let at = |degrees| Vector::from_polar(Indication::new(2.0), Angle::degrees(degrees));
        // Three corners of a triangle about the zero: each two from their mean.
        let spread = scatter(&[at(0.0), at(120.0), at(240.0)]).unwrap();
        assert!((spread.value() - 2.0).abs() < 1e-12);
        assert!(scatter_of_amounts(&[Indication::new(1.0)]).is_err());
    }
}
