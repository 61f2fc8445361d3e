//! What a correction did, against what it was meant to do.

use super::domain::{Computed, Input, Requirement, demand};
use crate::units::{Amount, Angle, Ratio, Typed, Unbalance, Vector};

/// How the effect of a correction may stand to what it was meant to be.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Effect {
    AsMeant,
    /// Half a turn off: heavy and light spot, or adding and removing, were taken for each other.
    Opposite,
    /// As if its angle had been counted the other way.
    Mirrored,
    /// What was meant for one plane shows in the other.
    Swapped,
    /// None of these fits.
    Unexplained,
}

/// The explanation that fits an effect best, and how far each lies from it as a share of what was put on.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Explained {
    pub effect: Effect,
    /// Of the effect as it was meant.
    pub off_as_meant: Ratio,
    /// Of the explanation named.
    pub off: Ratio,
}

/// An explanation fits when it leaves no more than this share of what was put on. Source: common practice, no source.
const FITS: f64 = 0.35;

/// An explanation other than the plain one must leave less than this share of what the plain one leaves.
const CLEARLY_BETTER: f64 = 0.5;

/// Finds which explanation fits the change that a correction made: one vector a plane of what was put on (what was
/// taken off counts half a turn away), and what the unbalance changed by. Something must have been put on.
///
/// A mass set off the wrong way round stands mirrored about the zero of the angles; readings counted the wrong way
/// round mirror what they tell about `axes`, one angle a plane: where the trial or calibration mass stood.
/// Source: plain geometry; the share that counts as a fit is common practice, no source.
pub fn explain(put_on: &[Vector<Unbalance>], changed_by: &[Vector<Unbalance>], axes: &[Angle]) -> Computed<Explained> {
    let planes = put_on.len();
    let alike = planes > 0 && changed_by.len() == planes && axes.len() == planes;
    demand(alike, Input::Readings, Requirement::BeGiven)?;
    let whole = length(put_on.iter().copied());
    demand(whole > 0.0, Input::Unbalance, Requirement::BePositive)?;
    let off = |meant: &dyn Fn(usize) -> Vector<Unbalance>| {
        length(changed_by.iter().enumerate().map(|(plane, changed)| *changed - meant(plane))) / whole
    };
    let off_as_meant = off(&|plane| put_on[plane]);
    let mut others = vec![
        (Effect::Opposite, off(&|plane| -put_on[plane])),
        (Effect::Mirrored, off(&|plane| put_on[plane].mirrored())),
        (Effect::Mirrored, off(&|plane| mirrored_about(put_on[plane], axes[plane]))),
    ];
    if put_on.len() == 2 {
        others.push((Effect::Swapped, off(&|plane| put_on[1 - plane])));
    }
    let best = others.into_iter().min_by(|a, b| a.1.total_cmp(&b.1)).unwrap_or((Effect::AsMeant, off_as_meant));
    let clearly = best.1 <= FITS && best.1 < CLEARLY_BETTER * off_as_meant;
    let (effect, off) = if clearly {
        best
    } else if off_as_meant <= FITS {
        (Effect::AsMeant, off_as_meant)
    } else {
        (Effect::Unexplained, off_as_meant)
    };
    Ok(Explained { effect, off_as_meant: Ratio::new(off_as_meant), off: Ratio::new(off) })
}

fn length(vectors: impl Iterator<Item = Vector<Unbalance>>) -> f64 {
    vectors.map(|vector| vector.amount().base()).fold(0.0, f64::hypot)
}

/// A vector mirrored about a direction: what it is when its angle, counted from there, is counted the other way.
pub fn mirrored_about<T: Amount>(vector: Vector<T>, axis: Angle) -> Vector<T> {
    vector.mirrored().rotate(axis * 2.0)
}

/// How far one vector lies from another, as a share of the other; infinite when the other has no length.
pub fn apart<T: Amount>(of: Vector<T>, from: Vector<T>) -> Ratio {
    let length = from.amount().raw();
    Ratio::new(if length == 0.0 { f64::INFINITY } else { (of - from).amount().raw() / length })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn at(amount: f64, degrees: f64) -> Vector<Unbalance> {
        Vector::from_polar(Unbalance::gram_millimetres(amount), Angle::degrees(degrees))
    }

    #[test]
    fn each_slip_is_told_from_the_others() {
        let put_on = [at(100.0, 40.0), at(60.0, 250.0)];
        let scatter = at(5.0, 77.0);
        let axes = [90.0, 0.0].map(Angle::degrees);
        let told = |changed: [Vector<Unbalance>; 2]| {
            explain(&put_on, &changed.map(|changed| changed + scatter), &axes).unwrap().effect
        };
        assert_eq!(told(put_on), Effect::AsMeant);
        assert_eq!(told(put_on.map(|put| -put)), Effect::Opposite);
        assert_eq!(told(put_on.map(Vector::mirrored)), Effect::Mirrored);
        assert_eq!(told([at(100.0, 140.0), at(60.0, 110.0)]), Effect::Mirrored);
        assert_eq!(told([put_on[1], put_on[0]]), Effect::Swapped);
        assert_eq!(told([at(30.0, 130.0), at(200.0, 10.0)]), Effect::Unexplained);
    }

    #[test]
    fn a_correction_at_zero_is_its_own_mirror_and_counts_as_meant() {
        let put_on = [at(100.0, 0.0)];
        assert_eq!(explain(&put_on, &[at(95.0, 2.0)], &[Angle::ZERO]).unwrap().effect, Effect::AsMeant);
        assert!(explain(&[Vector::zero()], &[at(1.0, 0.0)], &[Angle::ZERO]).is_err());
    }
}
