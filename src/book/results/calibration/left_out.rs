//! Mass, radius and reading of a calibration: any one of them follows from the other two.

use super::one::One;
use crate::book::derive::Val;
use crate::book::effective::EffectiveBlock;
use crate::book::results::bench::mode::{Reads, SHOWS_NO_UNBALANCE};
use crate::book::results::values::entry::Recorder;
use crate::book::results::values::not_computed::WhyNot;
use crate::units::{Indication, Length, Mass, Unit};
use crate::vocabulary::{calibrate, result};

/// What a calibration leaves out of mass, radius and reading.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum LeftOut {
    Nothing,
    Mass,
    Radius,
    /// The reading follows from these two.
    Reading,
    /// Neither follows from the reading alone.
    MassAndRadius,
}

impl LeftOut {
    pub fn of(block: &EffectiveBlock<'_>) -> Self {
        let reading = block.field(calibrate::READING).is_some();
        let mass = block.field(calibrate::MASS).is_some();
        let radius = block.field(calibrate::RADIUS).is_some() || block.field(calibrate::DIAMETER).is_some();
        match (reading, mass, radius) {
            (false, _, _) => Self::Reading,
            (true, true, true) => Self::Nothing,
            (true, false, true) => Self::Mass,
            (true, true, false) => Self::Radius,
            (true, false, false) => Self::MassAndRadius,
        }
    }
}

impl LeftOut {
    /// `None` where the mass is what follows.
    fn why_no_mass(self, block: &EffectiveBlock<'_>) -> Option<WhyNot> {
        Some(match self {
            LeftOut::Mass => return None,
            LeftOut::Reading if block.field(calibrate::MASS).is_none() => WhyNot::LeftOut(calibrate::READING.any()),
            LeftOut::Nothing | LeftOut::Radius | LeftOut::Reading => WhyNot::Given(calibrate::MASS.any()),
            LeftOut::MassAndRadius => WhyNot::LeftOut(calibrate::RADIUS.any()),
        })
    }

    /// `None` where the radius is what follows.
    fn why_no_radius(self, block: &EffectiveBlock<'_>) -> Option<WhyNot> {
        let stated = block.field(calibrate::RADIUS).or_else(|| block.field(calibrate::DIAMETER)).is_some();
        Some(match self {
            LeftOut::Radius => return None,
            LeftOut::Reading if !stated => WhyNot::LeftOut(calibrate::READING.any()),
            LeftOut::Nothing | LeftOut::Mass | LeftOut::Reading => WhyNot::Given(calibrate::RADIUS.any()),
            LeftOut::MassAndRadius => WhyNot::LeftOut(calibrate::MASS.any()),
        })
    }
}

/// Mass and radius as stated; the one that is left out from the reading, where the readout shows unbalance.
pub(in crate::book::results) fn mass_and_radius<'b>(
    one: &One<'_, 'b>,
    recorder: &mut Recorder<'b>,
    reading: Option<&Val<Indication>>,
    reads: Option<&Reads<'_>>,
) -> (Val<Mass>, Val<Length>) {
    let Some(block) = one.block else {
        return (
            one.absent(recorder, calibrate::MASS.any(), Unit::GRAM),
            one.absent(recorder, calibrate::RADIUS.any(), Unit::MILLIMETRE),
        );
    };
    let mass: Val<Mass> = recorder.facts.quantity(block, calibrate::MASS);
    let radius: Val<Length> = recorder.facts.radius(block, calibrate::RADIUS, calibrate::DIAMETER);
    let spot = one.beside(&[calibrate::READING.any()]);
    let left_out = LeftOut::of(block);
    if let Some(why) = left_out.why_no_mass(block) {
        recorder.not_asked(&spot, &[&result::CALIBRATION_MASS], why);
    }
    if let Some(why) = left_out.why_no_radius(block) {
        recorder.not_asked(&spot, &[&result::CALIBRATION_RADIUS], why);
    }
    let (Some(reading), Some(reads)) = (reading, reads) else {
        match left_out {
            LeftOut::Mass => recorder.not_asked(&spot, &[&result::CALIBRATION_MASS], SHOWS_NO_UNBALANCE),
            LeftOut::Radius => recorder.not_asked(&spot, &[&result::CALIBRATION_RADIUS], SHOWS_NO_UNBALANCE),
            LeftOut::Nothing | LeftOut::Reading | LeftOut::MassAndRadius => {}
        }
        return (mass, radius);
    };
    match left_out {
        LeftOut::Mass => (reads.mass_for(recorder, &spot, reading, &radius), radius),
        LeftOut::Radius => {
            let plane = one.plane.filter(|plane| plane.radius.is_known());
            let unit = plane.map_or(Unit::MILLIMETRE, |plane| plane.radius.unit);
            let radius = reads.radius_for(recorder, &spot, unit, reading, &mass);
            (mass, radius)
        }
        LeftOut::Nothing | LeftOut::Reading | LeftOut::MassAndRadius => (mass, radius),
    }
}
