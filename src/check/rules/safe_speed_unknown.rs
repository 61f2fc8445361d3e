use crate::check::{ItemContext, Sink};
use crate::vocabulary::setup;

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(setup) = context.setup().filter(|setup| setup.is_released()) else { return };
    let (Some(rotor), Some(field)) = (&setup.rotor, setup.block.field(setup::ROTOR)) else { return };
    if !rotor.safe_speed.is_left_out() || !crate::book::is_read_whole(context.book(), rotor.id) {
        return;
    }
    let name = rotor.block.name_text();
    sink.report(
        context
            .beside(field, format!("the sheet is released, but rotor \"{name}\" states no highest safe speed"))
            .help("write `highest safe speed: … rpm` into the rotor, from its drawing or its maker")
            .offer_in(context.book(), rotor.block.place(), &["highest safe speed: ?"])
            .related(rotor.id.file, rotor.block.written.heading, "the rotor"),
    );
}
