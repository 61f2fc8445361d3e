//! The mass of the shop's set that suits a plane.

use super::one::One;
use crate::book::derive::Val;
use crate::book::formulas as by;
use crate::book::results::bench::machine::ReadoutFacts;
use crate::book::results::values::entry::Recorder;
use crate::book::results::values::not_computed::WhyNot;
use crate::units::{Contributions, Length, Mass, Typed, Unbalance, Unit};
use crate::vocabulary::{calibrate, result, setup};

impl<'b> One<'_, 'b> {
    /// The mass of the set that comes nearest to ten times the tolerance, within the shop's range and the readout.
    pub(in crate::book::results) fn suggested_mass(
        &self,
        recorder: &mut Recorder<'b>,
        radius: &Val<Length>,
        tolerance: &Val<Unbalance>,
    ) -> Option<Val<Mass>> {
        self.block?;
        let (spec, spot) = (
            &result::SUGGESTED_MASS,
            self.beside(&[calibrate::MASS.any(), calibrate::RADIUS.any(), calibrate::DIAMETER.any()]),
        );
        let Some(set) = recorder.facts.masses else {
            recorder.not_asked(&spot, &[spec], WhyNot::LeftOut(setup::MASSES.any()));
            return None;
        };
        let radius = match self.plane {
            Some(plane) if radius.is_left_out() => plane.radius.clone(),
            _ => radius.clone(),
        };
        let (low, high) = recorder.facts.shop.calibration_unbalance;
        let limit = self.bench.readout().and_then(ReadoutFacts::end).zip(self.bench.reading_at_tolerance.get());
        let values: Vec<Mass> = set.values.iter().map(|value| Mass::from_base(value.base)).collect();
        let unit = set.values.first().map_or(Unit::GRAM, |value| value.unit);
        let pick = move |(tolerance, radius): (Unbalance, Length)| {
            let times = |mass: &Mass| ((*mass * radius) / tolerance).value();
            let fits = |mass: &&Mass| {
                let times = times(mass);
                (low.value()..=high.value()).contains(&times) && limit.is_none_or(|(end, at)| times * at.value() <= end)
            };
            let nearest = values.iter().filter(fits).min_by(|a, b| {
                let away = |mass: &Mass| (times(mass) / 10.0).ln().abs();
                away(a).total_cmp(&away(b))
            });
            nearest.copied().ok_or(crate::mechanics::DomainError {
                what: crate::mechanics::Input::CalibrationMass,
                must: crate::mechanics::Requirement::BeWithinRange,
            })
        };
        let value = recorder.on_the_way(&spot, spec, unit, &by::SET_MASS, (tolerance, &radius), pick);
        let value = Val { contributions: Contributions::none(), ..value };
        match &value.known {
            Ok(_) => recorder.keep(&spot, spec, &value),
            Err(_) if tolerance.is_known() && radius.is_known() => {
                recorder.not_asked(&spot, &[spec], "no mass of the set suits this plane");
            }
            Err(missing) => recorder.not_asked(&spot, &[spec], WhyNot::Lacks(missing.clone())),
        }
        Some(value)
    }
}
