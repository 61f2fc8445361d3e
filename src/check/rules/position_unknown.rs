use crate::check::pin_text::words;
use crate::check::settings::{self, Setting};
use crate::check::wording::or_list;
use crate::check::{Draft, ItemContext, Sink};
use crate::sheet::{FieldValue, SettingValue, nearest};
use crate::text::Edit;
use crate::vocabulary::control;

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    for setting in settings::all(context) {
        sink.drafts.extend(judge_one(context, &setting));
    }
}

fn judge_one<'b>(context: &ItemContext<'b, '_>, setting: &Setting<'b>) -> Option<Draft> {
    let positions = settings::control_of(context, setting)?.field(control::POSITIONS)?;
    let FieldValue::Names(names) = &positions.field.value else { return None };
    let names: Vec<&str> = names.iter().map(|name| &*name.text).collect();
    let written = match setting.value()? {
        SettingValue::AsFound => return None,
        SettingValue::Position(position) => position,
        SettingValue::Number(_) | SettingValue::Quantity(_) => context.written(setting.field),
    };
    if names.contains(&written) {
        return None;
    }
    let message = format!("\"{}\" is set to {written}, but its positions are {}", setting.name.text, or_list(&names));
    let draft = context.beside(setting.field, message).about(positions, "the positions");
    Some(match nearest(written, names.iter().copied()) {
        Some(name) if setting.field.item == context.id => draft
            .help(format!("did you mean {name}?"))
            .fix(format!("Write {name}"), Edit::replace(setting.field.field.value_span, words(name, false))),
        _ => draft.help("take one of them, or `as found`"),
    })
}
