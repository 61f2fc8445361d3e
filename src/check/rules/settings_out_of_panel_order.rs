use crate::check::machine_limits::machine_name;
use crate::check::settings;
use crate::check::{ItemContext, Sink};

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let (Some(setup), Some(controls)) = (context.setup(), settings::controls(context)) else { return };
    let place = |name: &str| controls.iter().position(|control| control.name_text() == name);
    let stated = settings::all(context).into_iter().filter(|setting| setting.field.item == context.id);
    let stated = stated.map(|setting| (&*setting.name.text, setting.name.span));
    let pinned = settings::pinned(context).iter().map(|pin| (&*pin.name, pin.head));
    let mut placed: Vec<_> = stated.chain(pinned).filter_map(|(name, span)| Some((span, name, place(name)?))).collect();
    placed.sort_by_key(|(span, ..)| *span);
    let Some(pair) = placed.windows(2).find(|pair| pair[0].2 > pair[1].2) else { return };
    let [(above, before, _), (below, after, _)] = [pair[0], pair[1]];
    let message = format!(
        "\"{after}\" is below \"{before}\", but comes before it on the panel of machine \"{}\"",
        machine_name(setup)
    );
    let draft = context.draft(below, message).related(context.id.file, above, "is above it");
    sink.report(draft.help("put the lines in the order of the panel"));
}
