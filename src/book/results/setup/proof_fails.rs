//! What a proof shows against its setup, and what it lacks.

use super::proof::ProofResults;
use crate::book::derive::Val;
use crate::book::results::measuring::Measuring;
use crate::book::results::values::render::display_value;
use crate::book::shop::ShopRules;
use crate::mechanics::proof::{MAY_MOVE, MAY_TURN};
use crate::syntax::Kind;
use crate::units::{Angle, Ratio, Typed, Unit};
use crate::vocabulary::proof;

/// What of a proof is not as it must be, in words, for a verdict that would rest on it.
pub(in crate::book::results) fn failures(
    proof: &ProofResults<'_>,
    measuring: &Measuring<'_, '_>,
    shop: &ShopRules,
) -> Vec<String> {
    let mut found = Vec::new();
    // Trials account for what one plane shows of the other, and for what a unit of the readout stands for.
    if measuring.resting_on().is_none() {
        for separation in &proof.separations {
            let plane = separation.plane;
            let interference = separation.interference.as_ref().and_then(Val::get);
            if let Some(ratio) = interference.filter(|ratio| *ratio > shop.interference) {
                found.push(format!("the mass in plane {plane} shows {} of itself in the other plane", percent(ratio)));
            }
            found.extend(separation.misread(shop));
        }
    }
    for linearity in &proof.linearities {
        let departure = linearity.departure.as_ref().and_then(Val::get);
        let accepted = shop.calibration_uncertainty.value();
        if let Some(off) = departure.filter(|off| off.value().abs() > accepted) {
            found.push(format!("the second mass in plane {} departs {} from the line", linearity.plane, percent(off)));
        }
    }
    for (channel, moved) in &proof.returns {
        if let Some(moved) = moved.get().filter(|moved| moved.value() > MAY_MOVE) {
            found.push(format!("channel {channel} came back {} of the tolerance off its start", percent(moved)));
        }
    }
    for (channel, moved) in &proof.repeatability {
        if let Some(moved) = moved.get().filter(|moved| moved.value() > MAY_MOVE) {
            found.push(format!("remounting moves channel {channel} by {} of the tolerance", percent(moved)));
        }
    }
    found
}

impl super::proof::SeparationResults<'_> {
    /// How the mass is read wrongly in its own plane: its amount beyond what the shop accepts, or its angle; each beyond
    /// what it is known to.
    pub fn misread(&self, shop: &ShopRules) -> Option<String> {
        let plane = self.plane;
        let own = self.own_error.as_ref();
        let amount = own.and_then(|error| Some((error.get()?.value(), error.expanded_uncertainty())));
        if let Some((off, known_to)) = amount
            && off.abs() - known_to > shop.calibration_uncertainty.value()
        {
            let side = if off < 0.0 { "too little" } else { "too much" };
            return Some(format!("the mass in plane {plane} reads {} {side}", percent(Ratio::new(off.abs()))));
        }
        let angle = self.own_angle.as_ref()?;
        let off = angle.get()?;
        let beyond = off.in_degrees().abs() - Angle::from_base(angle.expanded_uncertainty()).in_degrees();
        (beyond > MAY_TURN).then(|| {
            let off = display_value(off.in_radians().abs(), Unit::DEGREE, 0.0);
            format!("the mass in plane {plane} is shown {off} from where it stands")
        })
    }
}

impl ProofResults<'_> {
    /// What a proof must hold before its sheet may be used, and does not, in words.
    pub fn lacks(&self, channels: &[(&str, &str)]) -> Vec<String> {
        let mut lacks = Vec::new();
        for (_, plane) in channels {
            if !self.separations.iter().any(|separation| separation.plane == *plane) {
                lacks.push(format!("`separation {plane}`, a mass in this plane alone"));
            }
        }
        if self.linearities.is_empty() && self.block.inner(Kind::Linearity).next().is_none() {
            lacks.push("`linearity`, another mass in one of the planes".to_owned());
        }
        for (key, what) in [
            (proof::BACK_AT_START.any(), "the reading with all masses off again"),
            (proof::REMOUNTED.any(), "readings after laying in anew"),
        ] {
            let read = |channel: &str| self.block.named(key).any(|(name, _)| &*name.text == channel);
            if let Some((channel, _)) = channels.iter().find(|(channel, _)| !read(channel)) {
                lacks.push(format!("`{key} {channel}`, {what}"));
            }
        }
        lacks
    }
}

fn percent(ratio: Ratio) -> String {
    display_value(ratio.value().abs(), Unit::PERCENT, 0.0)
}
