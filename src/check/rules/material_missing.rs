use crate::book::Method;
use crate::check::{ItemContext, Sink, rotors};
use crate::syntax::Kind;
use crate::vocabulary::{AnyFact, plane};

/// Materials offered at a time.
const MOST_OFFERED: usize = 6;

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(rotor) = context.rotor() else { return };
    if !rotors::is_read_whole(context) {
        return;
    }
    for plane in &rotor.planes {
        // Whoever states the size of a cut wants to know what it takes.
        let (work, sizes): (_, &[AnyFact]) = match plane.method {
            Some(Method::Drilling) => ("holes are drilled in", &[plane::HOLE_DIAMETER.any(), plane::DEPTH.any()]),
            Some(Method::Milling) => ("flats are milled on", &[plane::DEPTH.any(), plane::WIDTH.any()]),
            Some(Method::Grinding) => {
                ("arcs are ground on", &[plane::DEPTH.any(), plane::WIDTH.any(), plane::FULL_ARC.any()])
            }
            Some(Method::SlotFiller) => (
                "slots are filled in",
                &[plane::ROOM_PER_PLACE.any(), plane::SLOT_WIDTH.any(), plane::SLOT_LENGTH.any()],
            ),
            _ => continue,
        };
        let Some(size) = sizes.iter().find_map(|fact| plane.block.field(*fact)) else { continue };
        let weighed = plane.block.field(plane::MOST_PER_PLACE).is_some();
        if !plane.geometry.density.is_left_out() || weighed {
            continue;
        }
        let message = format!("{work} {}, but no material is named", rotors::heading(context, &plane.block));
        let draft = context
            .draft(size.field.head, message)
            .help("add `material: \"carbon steel\"`, or a material of the book with its density");
        let names = context.book().names_alike(Kind::Material).all().iter();
        sink.report(names.take(MOST_OFFERED).fold(draft, |draft, name| {
            let line = format!("{}: \"{name}\"", plane::MATERIAL);
            draft.offer_in(context.book(), plane.block.place(), &[&line])
        }));
    }
}
