use crate::check::{ItemContext, Sink, names};
use crate::syntax::Kind;
use crate::vocabulary::NameOf;

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(controls) = names::of_blocks(context, Kind::Machine, Kind::Control) else { return };
    let settings = context.block.inner(Kind::Settings).next();
    match settings.filter(|settings| settings.named_fields().next().is_some()) {
        // One remark for all settings, where the machine's panel has not been described yet.
        Some(settings) if controls.names.is_empty() => {
            let machine = context.book().item(controls.owner);
            let message = format!("{} declares no controls, so no setting can be checked", names::called(machine));
            sink.report(
                context
                    .draft(settings.heading, message)
                    .help("declare each dial and switch in the machine, in panel order: a `control` with its `range` or `positions`")
                    .related(controls.owner.file, machine.heading, "the machine is described here"),
            );
        }
        _ => names::report_unknown(context, sink, NameOf::Control, &controls),
    }
}
