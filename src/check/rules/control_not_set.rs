use crate::check::machine_limits::machine_name;
use crate::check::settings;
use crate::check::wording::and_list;
use crate::check::{ItemContext, Severity, Sink};
use crate::sheet::nearest;
use crate::vocabulary::setup;

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let (Some(setup), Some(controls)) = (context.setup(), settings::controls(context)) else { return };
    let block = settings::block(context);
    let set = settings::all(context);
    let names = || controls.iter().map(|control| control.name_text());
    // What is worked out for a control must be pinned on a sheet that is released.
    let worked_out = |name: &str| {
        settings::pinned(context).iter().any(|pin| *pin.name == *name)
            || !setup.is_released() && settings::worked_out(context, name).is_some()
    };
    // A control whose name is misspelt is reported as unknown, with the name that was meant.
    let meant = |name: &str| {
        set.iter().any(|setting| {
            *setting.name.text == *name
                || settings::control_of(context, setting).is_none()
                    && nearest(&setting.name.text, names()) == Some(name)
        })
    };
    let missing: Vec<String> =
        names().filter(|name| !meant(name) && !worked_out(name)).map(|name| format!("\"{name}\"")).collect();
    if missing.is_empty() || !context.is_read_whole() {
        return;
    }
    let are = if missing.len() > 1 { "are" } else { "is" };
    let message =
        format!("nothing says what {} of machine \"{}\" {are} set to", and_list(&missing), machine_name(setup));
    let draft = match block {
        Some(block) => context.on_heading(block, message),
        None => context.beside_first(&setup.block, &[setup::MACHINE.any()], message),
    };
    let draft = draft.help(
        "add a line for each in panel order; write `as found` for a control that is left alone, and pin a computed setting with `=>`",
    );
    sink.report(if setup.is_released() { draft } else { draft.weighing(Severity::Note) });
}
