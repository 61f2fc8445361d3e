//! Quantities of the trade that are taken for each other, and the relation that leads from one to the other.

use crate::units::Dimension as D;
use crate::units::Unit;
use crate::vocabulary::QuantityKind;

/// How a quantity of the dimension found becomes one of the dimension wanted; `None` when the two have no such relation.
/// `quantity` is what the fact wants, where its dimension does not say; `written` the value as it is in the sheet.
pub fn advice(quantity: Option<QuantityKind>, wanted: D, found: D, written: &str) -> Option<String> {
    let product = if written.contains(' ') && written.split_whitespace().count() > 2 {
        format!("({written})")
    } else {
        written.to_owned()
    };
    Some(match (wanted, found) {
        (D::UNBALANCE, D::MASS) => format!(
            "an unbalance is a mass times its radius, so g is not g·mm: at a radius of 120 mm write `{product} * 120 mm`"
        ),
        (D::MASS, D::UNBALANCE) => format!(
            "a mass is an unbalance divided by its radius, so g·mm is not g: at a radius of 120 mm write \
             `{product} / 120 mm`"
        ),
        (D::UNBALANCE, D::LENGTH) if is_specific(written) => format!(
            "a specific unbalance, or eccentricity, becomes an unbalance by the mass of the rotor: for 4.82 kg write \
             `{product} * 4.82 kg`"
        ),
        (D::UNBALANCE, D::LENGTH) => "an unbalance is a mass times its radius, such as `3.00 g * 134.2 mm`".to_owned(),
        (D::LENGTH, D::UNBALANCE) => {
            "an unbalance divided by the mass of the rotor is a specific unbalance, in µm or g·mm/kg; divided by the \
             mass put on, it is a radius"
                .to_owned()
        }
        (D::COUPLE, _) if quantity == Some(QuantityKind::MomentOfInertia) => {
            "a moment of inertia is a mass times the square of a length, such as `0.012 kg·m²`".to_owned()
        }
        (D::COUPLE, D::UNBALANCE) => format!(
            "a couple is an unbalance times the distance between its two planes: for planes 87 mm apart write \
             `{product} * 87 mm`"
        ),
        (D::UNBALANCE, D::COUPLE) => {
            "a couple divided by the distance between the planes is the unbalance in each of them".to_owned()
        }
        (D::MASS, D::FORCE) => {
            "a scale that shows kgf or lbf shows the mass in kg or lb by the same number; newtons divide by 9.81 m/s²"
                .to_owned()
        }
        (D::FORCE, D::MASS) => "the weight of a mass of 1 kg is 1 kgf, or 9.81 N".to_owned(),
        (D::SPEED, D::VELOCITY) => {
            "a speed of rotation is in rpm: divide a belt or rim speed by π times the diameter it runs on".to_owned()
        }
        (D::VELOCITY, D::SPEED) => {
            "a velocity is in mm/s or m/s: π times the diameter times the speed of rotation".to_owned()
        }
        (D::ANGLE, D::LENGTH) => {
            "a length along the rim becomes an angle as length ÷ radius × 57.3 deg; write the angle in deg".to_owned()
        }
        (D::LENGTH, D::ANGLE) => {
            "a place along the axis and a radius are lengths; an angle says where something lies around the rotor"
                .to_owned()
        }
        (D::DIVISION, D::MARK) => {
            "`div` is a true division of the readout, `mark` what is printed on one scale of a dial: state the \
             divisions that the mark means"
                .to_owned()
        }
        (D::MARK, D::DIVISION) => {
            "`mark` is what is printed on one scale of a dial, `div` a true division of the readout: state the marks \
             as printed"
                .to_owned()
        }
        (D::DIVISION, _) => {
            "state it in divisions, such as `1 div`; a readout that shows a unit of its own needs no such line"
                .to_owned()
        }
        (D::DENSITY, D::MASS) => "a density is a mass divided by a volume, such as `2.7 g/cm³`".to_owned(),
        (D::NONE, _) => "state it as a share of the value, such as `5 %`".to_owned(),
        (_, D::NONE) => "a share of something is not enough here: state the amount itself".to_owned(),
        _ => return None,
    })
}

/// Whether a length is written as people write a specific unbalance: in µm, mil or g·mm/kg, not in mm.
fn is_specific(written: &str) -> bool {
    const SMALL: f64 = 1e-4;
    let unit = written.rsplit(' ').next().and_then(|unit| Unit::parse(unit).ok());
    unit.is_some_and(|unit| unit.dimension() == D::LENGTH && unit.factor() < SMALL)
}
