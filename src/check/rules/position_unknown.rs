use crate::check::pin_text::words;
use crate::check::settings::{self, Setting};
use crate::check::wording::or_list;
use crate::check::{Draft, ItemContext, Sink};
use crate::sheet::{SettingValue, nearest};
use crate::text::Edit;
use crate::vocabulary::control;

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    for setting in settings::all(context) {
        sink.drafts.extend(judge_one(context, &setting));
    }
}

fn judge_one<'b>(context: &ItemContext<'b, '_>, setting: &Setting<'b>) -> Option<Draft> {
    let control = settings::control_of(context, setting)?;
    let positions = control.field(control::POSITIONS).or_else(|| control.field(control::POSITION))?;
    let names = settings::positions(control);
    if names.is_empty() {
        return None;
    }
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
