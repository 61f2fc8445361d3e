//! One plane of a setup on its way to what its calibration tells.

use crate::book::derive::Val;
use crate::book::effective::EffectiveBlock;
use crate::book::origin::{Reason, Step};
use crate::book::results::bench::Bench;
use crate::book::results::plane::PlaneResults;
use crate::book::results::values::entry::{Recorder, Spot};
use crate::sheet::FieldValue;
use crate::syntax::Kind;
use crate::units::Unit;
use crate::vocabulary::{AnyFact, setup};

/// One plane on its way to its results.
pub(in crate::book::results) struct One<'a, 'b> {
    pub bench: &'a Bench<'a, 'b>,
    pub name: &'b str,
    pub block: Option<&'a EffectiveBlock<'b>>,
    pub plane: Option<&'a PlaneResults<'b>>,
    pub spot: Spot,
}

impl<'a, 'b> One<'a, 'b> {
    pub fn new(bench: &'a Bench<'a, 'b>, name: &'b str) -> Self {
        let block = bench.setup.inner(Kind::Calibrate).find(|block| block.name_text() == name);
        let plane = bench.rotor.and_then(|rotor| rotor.plane(name));
        let spot = match block {
            Some(block) => Spot::heading(block, bench.id),
            None => {
                let field = bench
                    .setup
                    .named(setup::CHANNEL)
                    .map(|(_, field)| field)
                    .find(|field| matches!(&field.field.value, FieldValue::Name(plane) if *plane.text == *name));
                let spot = Spot::beside(bench.setup, bench.id, field);
                Spot { path: bench.setup.path.then(Step::named(Kind::Calibrate, name)), ..spot }
            }
        };
        Self { bench, name, block, plane, spot }
    }

    pub fn beside(&self, keys: &[AnyFact]) -> Spot {
        let field = self.block.and_then(|block| keys.iter().find_map(|key| block.field(*key)));
        match (self.block, field) {
            (Some(block), Some(field)) => Spot::beside(block, self.bench.id, Some(field)),
            _ => self.spot.clone(),
        }
    }

    pub fn absent<T: crate::units::Amount>(&self, recorder: &Recorder<'b>, fact: AnyFact, unit: Unit) -> Val<T> {
        let origin = match self.block {
            Some(block) => recorder.facts.origin(block, fact, None),
            None => crate::book::origin::Origin {
                item: self.bench.id,
                path: self.spot.path.clone(),
                name: fact.words().into(),
                place: None,
            },
        };
        Val::missing(origin, Reason::NotGiven, unit)
    }
}
