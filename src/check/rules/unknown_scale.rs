use crate::check::{ItemContext, Sink, names};
use crate::sheet::{Block, FieldValue, NameAt};
use crate::syntax::Kind;

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(owner) = names::owner(context, Kind::Machine) else { return };
    let machine = context.book().item(owner);
    let Some(readout) = machine.inner(Kind::Readout).next() else { return };
    let scales: Option<Vec<&str>> = readout.inner(Kind::Scale).map(|scale| Some(&*scale.name.as_ref()?.text)).collect();
    let Some(scales) = scales.filter(|_| names::readable(context.book(), owner)) else { return };
    let called = names::called(machine);
    for name in scales_read(context.block) {
        if scales.contains(&&*name.text) {
            continue;
        }
        let message = match scales.is_empty() {
            true => format!("the readout of {called} has no scales, and a reading is taken on `{}`", name.text),
            false => format!("the readout of {called} has no scale `{}`", name.text),
        };
        let draft =
            context.draft(name.span, message).related(owner.file, readout.heading, "the readout is described here");
        sink.report(names::did_you_mean(draft, name, &scales.iter().copied().collect(), |all| format!("it has {all}")));
    }
}

/// The scales on which the readings of a block and of the blocks in it are taken.
fn scales_read(block: &Block) -> Vec<&NameAt> {
    let mut found = Vec::new();
    for field in &block.fields {
        match &field.value {
            FieldValue::Reading(reading) => found.extend(&reading.scale),
            FieldValue::OfDay(checked) => found.extend(&checked.reading.scale),
            FieldValue::Readings(readings) => {
                found.extend(readings.iter().filter_map(|reading| reading.scale.as_ref()))
            }
            _ => {}
        }
    }
    found.extend(block.blocks.iter().flat_map(scales_read));
    found
}
