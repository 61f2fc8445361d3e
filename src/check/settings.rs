//! What rules on settings share: the controls that are set, and those that the machine declares.

use super::context::ItemContext;
use crate::book::{EffectiveBlock, EffectiveField, Entry};
use crate::sheet::{FieldValue, NameAt, Pin, SettingValue};
use crate::syntax::Kind;
use crate::vocabulary::control::{self, Taken};
use crate::vocabulary::{Of, result, settings};

/// One line of `settings`.
#[derive(Clone, Copy)]
pub struct Setting<'b> {
    pub name: &'b NameAt,
    pub field: EffectiveField<'b>,
}

impl<'b> Setting<'b> {
    /// `None` when the line could not be read.
    pub fn value(&self) -> Option<&'b SettingValue> {
        match &self.field.field.value {
            FieldValue::Setting(value) => Some(value),
            _ => None,
        }
    }
}

/// The `settings` of a setup, taken over ones included.
pub fn block<'b, 'c>(context: &ItemContext<'b, 'c>) -> Option<&'c EffectiveBlock<'b>> {
    context.setup()?.block.inner(Kind::Settings).next()
}

/// Every control that is set, in the order of the sheet.
pub fn all<'b>(context: &ItemContext<'b, '_>) -> Vec<Setting<'b>> {
    let lines = block(context).into_iter().flat_map(|block| block.named(settings::CONTROL));
    lines.map(|(name, field)| Setting { name, field }).collect()
}

/// The controls that the machine declares, in panel order; `None` when there is no such machine.
pub fn controls<'b, 'c>(context: &ItemContext<'b, 'c>) -> Option<&'c [EffectiveBlock<'b>]> {
    Some(&context.setup()?.machine.as_ref()?.controls)
}

/// The control of a setting.
pub fn control_of<'b, 'c>(context: &ItemContext<'b, 'c>, setting: &Setting<'b>) -> Option<&'c EffectiveBlock<'b>> {
    controls(context)?.iter().find(|control| *control.name_text() == *setting.name.text)
}

/// The settings that are pinned: worked out, and taken over by no other sheet.
pub fn pinned<'b>(context: &ItemContext<'b, '_>) -> &'b [Pin] {
    block(context).and_then(|block| block.own).map_or(&[], |own| &own.pins)
}

/// What is worked out for a control that takes something.
pub fn worked_out<'c>(context: &ItemContext<'_, 'c>, control: &str) -> Option<&'c Entry> {
    let of = |entry: &&Entry| matches!(&entry.of, Some(Of::Control(name)) if **name == *control);
    context.setup()?.entries.iter().filter(|entry| entry.is(&result::SET_TO)).find(of)
}

/// What a control takes.
pub fn taken(control: &EffectiveBlock<'_>) -> Option<Taken> {
    control.choice(control::TAKES)
}

/// The names of a control's positions.
pub fn positions<'b>(control: &EffectiveBlock<'b>) -> Vec<&'b str> {
    match control.field(control::POSITIONS).map(|field| &field.field.value) {
        Some(FieldValue::Names(names)) => names.iter().map(|name| &*name.text).collect(),
        _ => control.named(control::POSITION).map(|(name, _)| &*name.text).collect(),
    }
}
