//! The limits of today, as a proof or a record keeps them.

use super::SetupResults;
use crate::book::derive::Val;
use crate::book::effective::EffectiveBlock;
use crate::book::results::plane::PlaneResults;
use crate::book::results::rotor::results::RotorResults;
use crate::sheet::{FieldValue, NameAt};
use crate::units::{Amount, Unit};
use crate::vocabulary::{AnyFact, Fact, OneQuantity, proven_with, tolerance};

/// One limit that the rotor is judged by.
#[derive(Clone, PartialEq, Debug)]
pub struct KeptLimit<'b> {
    /// The fact that keeps it.
    pub fact: AnyFact,
    /// The plane that it is of.
    pub of: Option<&'b NameAt>,
    /// In base units.
    pub base: f64,
    pub unit: Unit,
    /// Its standard uncertainty.
    pub standard: f64,
}

impl KeptLimit<'_> {
    /// As its line begins: `limit at bearing a`, `limit in hub`.
    pub fn head(&self) -> String {
        super::void::head(self.fact.words(), self.of)
    }
}

impl<'b> SetupResults<'b> {
    /// The limits that are known: at the bearings, static and couple where stated, in the planes read, on channels.
    pub fn limits(&self) -> Vec<KeptLimit<'b>> {
        let Some(rotor) = &self.rotor else { return Vec::new() };
        let bearings = [proven_with::LIMIT_AT_BEARING_A, proven_with::LIMIT_AT_BEARING_B];
        let at_bearings =
            bearings.iter().zip(&rotor.at_bearings).filter_map(|(fact, at)| of_value(fact.any(), None, at));
        let planes = self.calibrations.iter().filter_map(|one| rotor.plane(one.plane)).filter_map(of_plane);
        let channels = self
            .vibration_limits
            .iter()
            .filter_map(|one| of_value(proven_with::LIMIT_ON.any(), Some(one.channel), &one.limit));
        at_bearings.chain(stated(rotor)).chain(planes).chain(channels).collect()
    }
}

fn of_value<'b, T: Amount>(fact: AnyFact, of: Option<&'b NameAt>, value: &Val<T>) -> Option<KeptLimit<'b>> {
    let base = value.get()?.raw();
    Some(KeptLimit { fact, of, base, unit: value.unit, standard: value.standard_uncertainty() })
}

fn of_plane<'b>(plane: &PlaneResults<'b>) -> Option<KeptLimit<'b>> {
    of_value(proven_with::LIMIT_IN.any(), plane.block.name, &plane.tolerance)
}

/// Static and couple limits.
fn stated<'b>(rotor: &RotorResults<'b>) -> Vec<KeptLimit<'b>> {
    let Some(block) = rotor.tolerance_block() else { return Vec::new() };
    let both = [
        of_fact(block, tolerance::STATIC, proven_with::LIMIT_STATIC.any()),
        of_fact(block, tolerance::COUPLE, proven_with::LIMIT_COUPLE.any()),
    ];
    both.into_iter().flatten().collect()
}

fn of_fact<'b, F: OneQuantity>(block: &EffectiveBlock<'b>, fact: Fact<F>, kept_as: AnyFact) -> Option<KeptLimit<'b>> {
    let FieldValue::Quantity(stated) = &block.field(fact)?.field.value else { return None };
    let standard = stated.stated_uncertainty().unwrap_or(0.0);
    Some(KeptLimit { fact: kept_as, of: None, base: stated.base, unit: stated.unit, standard })
}
