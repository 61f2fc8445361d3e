use crate::check::{ItemContext, Sink, rotors};
use crate::units::{self, Typed};
use crate::vocabulary::plane;

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(rotor) = context.rotor() else { return };
    let Some([first, second]) = rotors::two_planes(rotor) else { return };
    let (Some(z1), Some(z2)) = (first.at.get(), second.at.get()) else { return };
    if !units::is_same(z1.base(), z2.base()) {
        return;
    }
    let message = format!(
        "{} and {} are both at {}, so nothing tells one from the other",
        rotors::heading(context, &first.block),
        rotors::heading(context, &second.block),
        rotors::given(z2, second.at.unit),
    );
    let other = rotors::span_of(&first.block, &[plane::AT.any()]);
    sink.report(
        context
            .draft(rotors::span_of(&second.block, &[plane::AT.any()]), message)
            .help("give the axial position of each, measured from the rotor's `datum`, or keep only one plane")
            .related(context.id.file, other, "the other plane"),
    );
}
