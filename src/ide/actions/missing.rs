//! Lines for the facts that a block cannot do without.

use super::{Action, ActionKind, Asked};
use crate::check;
use crate::ide::{known, lines};
use crate::sheet::schema::Need;

pub(super) fn at(asked: &Asked<'_, '_>) -> Option<Action> {
    let blocks = asked.place.blocks()?;
    let block = blocks.innermost();
    let holds = known::find(asked.computed()?.effective(), block)?;
    let given = |key: &str| holds.fields.iter().any(|field| field.field.key.name == key);
    let must = block.spec().keys.iter().filter(|key| key.need == Need::Must && key.head_name.is_none());
    let missing: Vec<&str> = must.map(|key| key.name).filter(|key| !given(key)).collect();
    if missing.is_empty() {
        return None;
    }
    let named: Vec<String> = missing.iter().map(|key| format!("`{key}`")).collect();
    // What stands behind the colon is reported as missing until it is filled in.
    let new: Vec<String> = missing.iter().map(|key| format!("{key}: ?")).collect();
    let edit = lines::into_block(asked.place.source, block, &new);
    Some(asked.action(ActionKind::Insert, format!("Insert {}", check::and_list(&named)), vec![edit]))
}
