use crate::check::{ItemContext, Sink, rotors};
use crate::units::Length;
use crate::vocabulary::{plane, tolerance, tolerance::PlanesBalanced};

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(rotor) = context.rotor() else { return };
    let Some(tolerance) = rotor.tolerance_block() else { return };
    let judged_apart = tolerance.field(tolerance::STATIC).is_some() && tolerance.field(tolerance::COUPLE).is_some();
    let one = tolerance.choice(tolerance::PLANES) == Some(PlanesBalanced::One);
    let Some(planes) = rotors::two_planes(rotor).filter(|_| !judged_apart && !one) else { return };
    let Some(levers) = rotors::levers(rotor, planes) else { return };
    let places = [planes[0].at.get(), planes[1].at.get(), rotor.bearings[0].get(), rotor.bearings[1].get()];
    let [Some(z1), Some(z2), Some(a), Some(b)] = places else { return };
    if !levers.closely_spaced() {
        return;
    }
    let apart = |from: Length, to: Length| rotors::given((to - from).abs(), planes[1].at.unit);
    let message = format!(
        "the planes are {} apart, less than a third of the {} between the bearings",
        apart(z1, z2),
        apart(a, b),
    );
    sink.report(
        context
            .draft(rotors::span_of(&planes[1].block, &[plane::AT.any()]), message)
            .help(
                "correcting couple unbalance in planes this close takes large masses: if the drawing gives separate static and couple limits, state `static` and `couple`; if not, ask for them, or work to the single limit",
            ),
    );
}
