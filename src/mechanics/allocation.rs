//! The tolerance at each bearing.

use super::domain::{Computed, Input, Requirement, demand, finite, positive, settled};
use crate::units::{Length, Unbalance};

/// Where the mass centre is meant to lie.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Support {
    /// Between the bearings, or at one of them.
    Inboard,
    Overhung,
}

impl Support {
    /// The smallest and the largest share of the whole that a bearing may be given.
    ///
    /// Source: ISO 21940-11:2016, clause 7 (limits from memory).
    pub const fn share_limits(self) -> (f64, f64) {
        match self {
            Support::Inboard => (0.3, 0.7),
            Support::Overhung => (0.3, 1.3),
        }
    }
}

/// By which rule the bearings got their shares.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Allocation {
    ByMassCentre,
    /// By the mass centre, but a share lay outside its limits and was put at the limit.
    ByMassCentreWithinLimits,
    HalfEach,
}

/// Permissible residual unbalance in the tolerance planes, which are those of the bearings.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct BearingTolerances {
    pub at_a: Unbalance,
    pub at_b: Unbalance,
    pub allocation: Allocation,
}

/// Shares by the place of the mass centre: `U_A = U_per · L_B / L`, `U_B = U_per · L_A / L`, each share kept
/// within 0.3 and 0.7 of `U_per` for an inboard rotor, 0.3 and 1.3 for an overhung one, whichever the sheet calls it.
///
/// L is the distance of the bearings, L_A and L_B the distance of the mass centre from each, both counted
/// as amounts: an unbalance at the mass centre of an overhung rotor loads the far bearing with `L_A / L` of it
/// whatever its sign. `total` is above zero and the bearings do not coincide.
/// Source: ISO 21940-11:2016, clause 7 (from memory).
pub fn by_mass_centre(
    total: Unbalance,
    bearing_a: Length,
    bearing_b: Length,
    mass_centre: Length,
    support: Support,
) -> Computed<BearingTolerances> {
    let total = positive(total, Input::Tolerance)?;
    let centre = finite(mass_centre, Input::MassCentre)?;
    let span = finite(bearing_b - bearing_a, Input::BearingSpan)?;
    demand(span != Length::ZERO, Input::BearingSpan, Requirement::NotCoincide)?;
    let (share_a, share_b) = (((bearing_b - centre) / span).value(), ((centre - bearing_a) / span).value());
    let (least, most) = support.share_limits();
    let within = |share: f64| share.abs().clamp(least, most);
    let moved = within(share_a) != share_a.abs() || within(share_b) != share_b.abs();
    Ok(BearingTolerances {
        at_a: settled(total * within(share_a))?,
        at_b: settled(total * within(share_b))?,
        allocation: if moved { Allocation::ByMassCentreWithinLimits } else { Allocation::ByMassCentre },
    })
}

/// Half each, for an inboard rotor whose mass centre is not known. An overhung rotor has no such default.
///
/// `total` is above zero. Source: common practice; the symmetric case of ISO 21940-11:2016, clause 7.
pub fn half_each(total: Unbalance) -> Computed<BearingTolerances> {
    let half = positive(total, Input::Tolerance)? * 0.5;
    Ok(BearingTolerances { at_a: half, at_b: half, allocation: Allocation::HalfEach })
}
