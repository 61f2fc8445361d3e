use crate::book::Method;
use crate::check::{ItemContext, Sink, rotors};
use crate::vocabulary::plane;

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(rotor) = context.rotor() else { return };
    for plane in rotor.planes.iter().filter(|plane| plane.method == Some(Method::Drilling)) {
        let Some(pitch) = plane.block.field(plane::PITCH_DIAMETER) else { continue };
        if plane.block.field(plane::DIRECTION).is_some() || !rotors::is_read_whole(context) {
            continue;
        }
        let message = format!(
            "{} states a pitch diameter, which belongs to axial holes, but no direction: its holes count as radial",
            rotors::heading(context, &plane.block)
        );
        let draft = context
            .draft(pitch.field.head, message)
            .help("write `direction: axial` for holes in an end face; radial holes need `surface diameter`");
        sink.report(match plane.block.own {
            Some(own) => draft.offer_in(context.book(), (context.id.file, own), &["direction: axial"]),
            None => draft,
        });
    }
}
