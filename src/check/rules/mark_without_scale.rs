use crate::check::machine_limits::machine_name;
use crate::check::readings::{self, all, readout};
use crate::check::wording::or_list;
use crate::check::{ItemContext, Sink};
use crate::units::Dimension;

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let (Some(setup), Some(readout)) = (readings::setup(context), readout(context)) else { return };
    let names: Vec<&str> = readout.scales.iter().map(|scale| scale.name).collect();
    // On a dial with one scale there is nothing to choose.
    if names.len() == 1 || !crate::book::is_read_whole(context.book(), readout.block.item) {
        return;
    }
    for (field, reading) in all(context) {
        if reading.amount.dimension() != Dimension::MARK || reading.scale.is_some() {
            continue;
        }
        let (written, name) = (context.written(field), machine_name(setup));
        sink.report(match names.first() {
            None => context
                .beside(
                    field,
                    format!("{written} is a reading in marks, but the readout of machine \"{name}\" has no scale"),
                )
                .help(format!("write it in {}", readout.unit)),
            Some(first) => context
                .beside(
                    field,
                    format!("{written} does not say on which scale of machine \"{name}\": {}", or_list(&names)),
                )
                .help(format!("name the scale after the marks, such as `on {first}`")),
        });
    }
}
