//! Keyways: the half key, and what a wrong convention would put in.

use crate::book::derive::Val;
use crate::book::effective::EffectiveBlock;
use crate::book::files::ItemId;
use crate::book::formulas as by;
use crate::book::results::values::entry::{Recorder, Spot};
use crate::book::results::values::not_computed::WhyNot;
use crate::mechanics::keyway;
use crate::syntax::Kind;
use crate::units::{Density, Length, Mass, Unbalance, Unit};
use crate::vocabulary::keyway::KeyFitted;
use crate::vocabulary::{self, result};

#[derive(Clone, Debug)]
pub struct KeywayResults<'b> {
    /// The end of the rotor that it is named after.
    pub name: &'b str,
    pub block: EffectiveBlock<'b>,
    /// The convention stated.
    pub convention: Option<KeyFitted>,
    pub half_key: Val<Mass>,
    /// To the centre of mass of the half key.
    pub radius: Val<Length>,
    pub wrong: Val<Unbalance>,
}

pub(in crate::book::results) fn of<'b>(
    recorder: &mut Recorder<'b>,
    rotor: &EffectiveBlock<'b>,
    id: ItemId,
) -> Vec<KeywayResults<'b>> {
    rotor.inner(Kind::Keyway).map(|block| one(recorder, block, id)).collect()
}

fn one<'b>(recorder: &mut Recorder<'b>, block: &EffectiveBlock<'b>, id: ItemId) -> KeywayResults<'b> {
    let spot = Spot::beside(block, id, block.field(vocabulary::keyway::LENGTH));
    let density: Val<Density> = recorder.facts.density(block, vocabulary::keyway::MATERIAL).or(|| {
        let origin = recorder.facts.origin(block, vocabulary::keyway::MATERIAL, None);
        recorder.facts.material("carbon steel", origin)
    });
    let [width, height, length] = [vocabulary::keyway::WIDTH, vocabulary::keyway::HEIGHT, vocabulary::keyway::LENGTH]
        .map(|fact| recorder.facts.quantity(block, fact));
    let sizes_given = width.is_known() || height.is_known() || length.is_known();
    let inputs = (&density, &width, &height, &length);
    let half = |(density, b, h, l): (Density, Length, Length, Length)| keyway::half_key_mass(b, h, l, density);
    let half_key = if sizes_given {
        recorder.work_out(
            &spot,
            &result::HALF_KEY_MASS,
            recorder.facts.shop.shown(Unit::GRAM),
            &by::HALF_KEY,
            inputs,
            half,
        )
    } else {
        let why = "`width`, `height` and `length` are missing";
        recorder.not_asked(&spot, &[&result::HALF_KEY_MASS], why);
        recorder.on_the_way(
            &spot,
            &result::HALF_KEY_MASS,
            recorder.facts.shop.shown(Unit::GRAM),
            &by::HALF_KEY,
            inputs,
            half,
        )
    };
    let spot = Spot::beside(block, id, block.field(vocabulary::keyway::RADIUS));
    let radius: Val<Length> = recorder.facts.quantity(block, vocabulary::keyway::RADIUS);
    let unit = recorder.facts.shop.unbalance_unit;
    let f = |(mass, radius): (Mass, Length)| Ok(mass * radius);
    let wrong = if sizes_given && radius.is_known() {
        recorder.work_out(&spot, &result::WRONG_KEY_UNBALANCE, unit, &by::WRONG_KEY, (&half_key, &radius), f)
    } else {
        let why = match &radius.known {
            Err(missing) => WhyNot::Lacks(missing.clone()),
            Ok(_) => "`width`, `height` and `length` are missing".into(),
        };
        recorder.not_asked(&spot, &[&result::WRONG_KEY_UNBALANCE], why);
        recorder.on_the_way(&spot, &result::WRONG_KEY_UNBALANCE, unit, &by::WRONG_KEY, (&half_key, &radius), f)
    };
    KeywayResults {
        name: block.name_text(),
        convention: block.choice(vocabulary::keyway::KEY),
        radius,
        half_key,
        wrong,
        block: block.clone(),
    }
}
