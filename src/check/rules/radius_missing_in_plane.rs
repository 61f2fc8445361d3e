use crate::book::Method;
use crate::check::{ItemContext, Sink, rotors};
use crate::vocabulary::plane;

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(rotor) = context.rotor() else { return };
    if !rotors::is_read_whole(context) {
        return;
    }
    for plane in &rotor.planes {
        let Err(missing) = &plane.radius.known else { continue };
        let lacking = &*missing.origin.name;
        let lacks_density = lacking == plane::MATERIAL.words() || lacking == plane::CURED_DENSITY.words();
        // A missing density and a direction that was not said are told by themselves.
        let direction_unsaid = plane.method == Some(Method::Drilling)
            && plane.block.field(plane::PITCH_DIAMETER).is_some()
            && plane.block.field(plane::DIRECTION).is_none();
        if !plane.radius.is_left_out() || lacks_density || direction_unsaid {
            continue;
        }
        let message =
            format!("{} has no radius, so nothing can be told as a mass there", rotors::heading(context, &plane.block));
        let (radius, diameter) = (plane::RADIUS.words(), plane::DIAMETER.words());
        let help = match lacking == radius {
            true => "add `radius: … mm` to the centre of mass of what is put on or taken off, or `diameter: \
                … mm`"
                .to_owned(),
            false => format!(
                "add `{}: … mm`, or `radius: … mm` to the centre of mass of what is taken \
                off",
                lacking.replace(radius, diameter)
            ),
        };
        let draft = context.draft(plane.block.written.heading, message).help(help);
        let line = format!("{radius}: ?");
        sink.report(draft.offer_in(context.book(), plane.block.place(), &[&line]));
    }
}
