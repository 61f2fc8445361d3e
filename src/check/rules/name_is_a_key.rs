use crate::check::{ItemContext, Sink, names, wording};
use crate::sheet::Block;
use crate::syntax::Kind;
use crate::text::Edit;

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let planes = || names::of_blocks(context, Kind::Rotor, Kind::Plane);
    let controls = || names::of_blocks(context, Kind::Machine, Kind::Control);
    for block in &context.block.blocks {
        let known = match block.kind {
            Kind::Tolerance => planes(),
            Kind::Settings => controls(),
            _ => None,
        };
        if let Some(known) = known {
            report(context, sink, block, &known);
        }
    }
}

fn report(context: &ItemContext<'_, '_>, sink: &mut Sink, block: &Block, known: &names::Known<'_>) {
    let noun = if block.kind == Kind::Tolerance { Kind::Plane } else { Kind::Control };
    let owner = names::called(context.book().item(known.owner));
    for field in block.fields.iter().filter(|field| field.name.is_none()) {
        let key = field.key.name;
        if !known.names.contains(&key) {
            continue;
        }
        let message = format!("`{key}` is read as a fact of the {}, and {owner} has a {noun} of that name", block.kind);
        let quoted = wording::quoted(key);
        sink.report(
            context
                .draft(field.head, message)
                .help(format!("if the {noun} is meant, write `{quoted}: …`: in quotes it is always the name"))
                .fix(format!("Name the {noun} `{quoted}`"), Edit::replace(field.head, quoted)),
        );
    }
}
