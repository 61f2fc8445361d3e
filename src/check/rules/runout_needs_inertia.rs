use crate::check::{ItemContext, Sink, rotors};
use crate::vocabulary::made_of;

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(assembly) = context.rotor() else { return };
    if !rotors::is_read_whole(context) {
        return;
    }
    for part in &assembly.parts {
        let Some((field, _)) = rotors::quantity(&part.block, made_of::FACE_RUNOUT) else { continue };
        let Some(runout) = part.runout.as_ref().filter(|runout| runout.is_left_out()) else { continue };
        let Err(missing) = &runout.known else { continue };
        let lacks_diameter = missing.origin.name == made_of::AT_DIAMETER.words();
        let lacking = match lacks_diameter {
            true => "the diameter it was read on".to_owned(),
            false => format!("the {} of \"{}\"", missing.origin.name, part.name),
        };
        let message = format!("the couple of a face runout of {} needs {lacking}", rotors::written(context, field));
        let help = match lacks_diameter {
            true => "add `at diameter: … mm` below the runout",
            false => "add `polar inertia` and `diametral inertia` to the part, from its drawing or a swing test",
        };
        sink.report(context.draft(field.field.value_span, message).help(help));
    }
}
