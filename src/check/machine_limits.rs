//! What rules on the limits of a machine share.

use super::context::ItemContext;
use crate::book::{EffectiveField, SetupResults};
use crate::vocabulary::Fact;

/// The setup with a fact of its machine; `None` when there is no such machine or it does not state the fact.
pub fn machine_fact<'b, 'c, F>(
    context: &ItemContext<'b, 'c>,
    fact: Fact<F>,
) -> Option<(&'c SetupResults<'b>, EffectiveField<'b>)> {
    let setup = context.setup()?;
    let field = setup.machine.as_ref()?.block.field(fact)?;
    Some((setup, field))
}

/// The name of the setup's machine.
pub fn machine_name<'b>(setup: &SetupResults<'b>) -> &'b str {
    setup.machine.as_ref().map_or("", |machine| machine.block.name_text())
}

/// The name of the setup's rotor.
pub fn rotor_name<'b>(setup: &SetupResults<'b>) -> &'b str {
    setup.rotor.as_ref().map_or("", |rotor| rotor.block.name_text())
}

/// Begins a sentence on the mass on the machine: what it is the mass of.
pub fn carried(setup: &SetupResults<'_>) -> String {
    match &setup.arbor {
        Some(arbor) => format!("rotor and arbor \"{}\" together weigh", arbor.name_text()),
        None => format!("rotor \"{}\" weighs", rotor_name(setup)),
    }
}
