use crate::check::settings;
use crate::check::{ItemContext, Sink};
use crate::sheet::FieldValue;
use crate::vocabulary::{Choice, control, control::Taken, setup};

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let (Some(setup), Some(controls)) = (context.setup(), settings::controls(context)) else { return };
    let takes_layout = |control: &&_| settings::taken(control) == Some(Taken::Layout);
    let (Some(layout), Some(control)) = (setup.layout, controls.iter().find(takes_layout)) else { return };
    let mut positions = control.named(control::POSITION);
    if control.field(control::POSITION).is_none()
        || positions.any(|(_, field)| field.field.value == FieldValue::Choice(layout.words()))
    {
        return;
    }
    let message = format!("no position of control \"{}\" means {layout}", control.name_text());
    let draft = context.beside_first(&setup.block, &[setup::LAYOUT.any(), setup::SUPPORTS_AT.any()], message);
    let help = "the machine may not be able to measure a rotor that lies so: see its own manual; where it is, write the \
                position into the control";
    let draft = match control.field(control::TAKES) {
        Some(takes) => draft.about(takes, "the control"),
        None => draft,
    };
    sink.report(draft.weighing(context.by_status()).help(help));
}
