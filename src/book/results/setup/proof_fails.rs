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
    // Trials account for what one plane shows of the other, and for what a unit of the readout means.
    if measuring.resting_on().is_none() {
        for separation in &proof.separations {
            let plane = separation.plane;
            let interference = separation.interference.as_ref().and_then(Val::get);
            if let Some(ratio) = interference.filter(|ratio| *ratio > shop.interference) {
                found.push(format!("{} of the mass in plane {plane} shows in the other plane", percent(ratio)));
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
        self.amount_misread(shop).or_else(|| {
            let plane = self.plane;
            self.turned_beyond(MAY_TURN)
                .map(|off| format!("the mass in plane {plane} is shown {} from where it is", degrees(off)))
        })
    }

    /// The same of its amount alone.
    pub fn amount_misread(&self, shop: &ShopRules) -> Option<String> {
        let plane = self.plane;
        let own = self.own_error.as_ref()?;
        let (off, known_to) = (own.get()?.value(), own.expanded_uncertainty());
        (off.abs() - known_to > shop.calibration_uncertainty.value()).then(|| {
            let side = if off < 0.0 { "too little" } else { "too much" };
            format!("the mass in plane {plane} reads {} {side}", percent(Ratio::new(off.abs())))
        })
    }

    /// Whether the mass is shown nearer to the light spot than to the heavy spot of the sheet.
    pub fn shows_the_other_spot(&self) -> bool {
        self.turned_beyond(90.0).is_some()
    }

    /// How far from the mass its heavy spot is shown, where that is more than so many degrees and than it is known to.
    fn turned_beyond(&self, most: f64) -> Option<Angle> {
        let angle = self.own_angle.as_ref()?;
        let off = Angle::radians(angle.get()?.in_radians().abs());
        (off.in_degrees() - Angle::from_base(angle.expanded_uncertainty()).in_degrees() > most).then_some(off)
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
            (proof::BACK_AT_START.any(), "the reading with the calibration masses off again"),
            (proof::REMOUNTED.any(), "readings after remounting"),
        ] {
            let read = |channel: &str| self.block.named(key).any(|(name, _)| &*name.text == channel);
            if let Some((channel, _)) = channels.iter().find(|(channel, _)| !read(channel)) {
                lacks.push(format!("`{key} {channel}`, {what}"));
            }
        }
        lacks
    }
}

fn degrees(angle: Angle) -> String {
    display_value(angle.in_radians(), Unit::DEGREE, 0.0)
}

fn percent(ratio: Ratio) -> String {
    display_value(ratio.value().abs(), Unit::PERCENT, 0.0)
}
