use crate::check::{ItemContext, Sink, names};
use crate::sheet::FieldValue;
use crate::syntax::Kind;
use crate::vocabulary::run;

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(setup) = context.record().and_then(|record| record.setup.as_ref()) else { return };
    let Some(rotor) = &setup.rotor else { return };
    let blocks = rotor.block.inner(Kind::ExtraMass).chain(setup.block.inner(Kind::ExtraMass));
    let there: Vec<&str> = blocks.map(|block| block.name_text()).collect();
    for run in context.block.inner(Kind::Run) {
        let Some(FieldValue::Names(named)) = run.field(run::WITHOUT).map(|field| &field.value) else { continue };
        for name in named.iter().filter(|name| !there.contains(&&*name.text)) {
            let owner = names::called(context.book().item(rotor.id));
            let message = format!("neither {owner} nor its setup has an extra mass \"{}\"", name.text);
            let help = match there.is_empty() {
                true => "describe it in the rotor: `extra mass \"…\" { … }`".to_owned(),
                false => format!("they have {}", crate::check::wording::and_list(&quoted(&there))),
            };
            sink.report(context.draft(name.span, message).help(help));
        }
    }
}

fn quoted(names: &[&str]) -> Vec<String> {
    names.iter().map(|name| format!("\"{name}\"")).collect()
}
