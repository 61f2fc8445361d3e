//! Lines for the facts that a block cannot do without.

use super::{Action, ActionKind, Asked};
use crate::book::Computed;
use crate::check;
use crate::ide::{known, lines};
use crate::sheet::Block;
use crate::syntax::Kind;
use crate::vocabulary::{Need, rotor, tolerance};

pub(super) fn at(asked: &Asked<'_, '_>) -> Option<Action> {
    let blocks = asked.place.blocks()?;
    let block = blocks.innermost();
    let holds = known::find(asked.computed()?.effective(), block)?;
    let given = |key: &str| holds.fields.iter().any(|field| field.field.key.name == key);
    let must = block.spec().keys.iter().filter(|key| key.need == Need::Must && key.head_name.is_none());
    let missing: Vec<&str> = must.map(|key| key.name).filter(|key| !given(key)).collect();
    let mut named: Vec<String> = missing.iter().map(|key| format!("`{key}`")).collect();
    // What comes after the colon is reported as missing until it is filled in.
    let mut new: Vec<String> = missing.iter().map(|key| format!("{key}: ?")).collect();
    for (name, lines) in of_rotor(asked, block) {
        named.push(format!("`{name}`"));
        new.extend(lines);
    }
    if new.is_empty() {
        return None;
    }
    let edit = lines::into_block(asked.place.source, block, &new);
    Some(asked.action(ActionKind::QuickFix, format!("Insert {}", check::and_list(&named)), vec![edit]))
}

/// Nothing is worked out of a rotor without a mass, weighed or of its parts, and without a tolerance.
fn of_rotor(asked: &Asked<'_, '_>, block: &Block) -> Vec<(&'static str, Vec<String>)> {
    let Some(Computed::Rotor(computed)) = asked.computed().filter(|_| block.kind == Kind::Rotor) else {
        return Vec::new();
    };
    let has_mass = computed.mass.is_known()
        || [rotor::MASS.any(), rotor::WEIGHED.any()].iter().any(|fact| block.field(*fact).is_some())
        || block.inner(Kind::MadeOf).next().is_some();
    let has_tolerance = block.inner(Kind::Tolerance).next().is_some();
    let mut missing = Vec::new();
    if !has_mass {
        missing.push((rotor::MASS.words(), vec![format!("{}: ?", rotor::MASS)]));
    }
    if !has_tolerance {
        let kind = Kind::Tolerance.words();
        missing.push((kind, vec![format!("{kind} {{"), format!("  {}: ?", tolerance::GRADE), "}".to_owned()]));
    }
    missing
}
