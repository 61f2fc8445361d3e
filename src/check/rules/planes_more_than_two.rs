use crate::check::{ItemContext, Sink, wording};
use crate::vocabulary::{tolerance, tolerance::PlanesBalanced};

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(rotor) = context.rotor() else { return };
    let Some(tolerance) = rotor.tolerance_block() else { return };
    let sharing: Vec<_> = rotor.planes.iter().filter(|plane| plane.shares_tolerance).collect();
    let without = sharing.iter().any(|plane| plane.stated_tolerance.is_none());
    let one = tolerance.choice(tolerance::PLANES) == Some(PlanesBalanced::One);
    if sharing.len() <= 2 || !without || one || rotor.rules.is_empty() || !rotor.bearings[0].is_left_out() {
        return;
    }
    let names: Vec<String> = sharing.iter().map(|plane| format!("`{}`", plane.name)).collect();
    let message = format!(
        "{} planes share one tolerance, {}, and the places of the bearings are not given",
        sharing.len(),
        wording::and_list(&names)
    );
    sink.report(
        context
            .draft(sharing[2].block.written.heading, message)
            .help("add `bearings: … mm, … mm`, or name two planes to balance in, `correct only in: hub, rim`")
            .offer(context, &["bearings: ?"]),
    );
}
