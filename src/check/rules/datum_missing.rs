use crate::check::{ItemContext, Sink, rotors};
use crate::vocabulary::{plane, rotor};

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(rotor) = context.rotor() else { return };
    if rotor.block.field(rotor::DATUM).is_some() || !rotors::is_read_whole(context) {
        return;
    }
    let own = [rotor::BEARINGS.any(), rotor::MASS_CENTRE.any(), rotor::WEIGHED.any()]
        .into_iter()
        .find_map(|fact| rotor.block.field(fact));
    let planes = rotor.planes.iter().find_map(|plane| plane.block.field(plane::AT));
    let Some(first) = own.or(planes) else { return };
    sink.report(
        context
            .draft(first.field.head, "axial places are given, but not the datum they count from")
            .help("name a face that a rule can be laid against: `datum: \"shoulder of the drive-end bearing\"`")
            .offer(context, &["datum: ?"]),
    );
}
