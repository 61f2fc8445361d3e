use crate::check::machine_limits::machine_name;
use crate::check::settings;
use crate::check::{ItemContext, Sink};

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let (Some(setup), Some(controls)) = (context.setup(), settings::controls(context)) else { return };
    let place = |name: &str| controls.iter().position(|control| control.name_text() == name);
    let own = settings::all(context).into_iter().filter(|setting| setting.field.item == context.id);
    let placed: Vec<_> = own.filter_map(|setting| place(&setting.name.text).map(|at| (at, setting))).collect();
    let Some(pair) = placed.windows(2).find(|pair| pair[0].0 > pair[1].0) else { return };
    let (before, after) = (&pair[0].1, &pair[1].1);
    let message = format!(
        "\"{}\" stands below \"{}\", but comes before it on the panel of machine \"{}\"",
        after.name.text,
        before.name.text,
        machine_name(setup)
    );
    let draft = context.draft(after.name.span, message).about(before.field, "stands above it");
    sink.report(draft.help("put the lines in the order in which a hand goes over the panel"));
}
