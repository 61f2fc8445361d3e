use crate::check::{ItemContext, Sink, rotors};
use crate::units::Unbalance;

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(assembly) = context.rotor() else { return };
    let (Some(whole), Some(left)) = (assembly.permissible.get(), assembly.left_for_assembly.as_ref()) else { return };
    let Some(left) = left.get().filter(|left| *left <= Unbalance::ZERO) else { return };
    // A single fit that uses up the whole tolerance is reported at that fit.
    let alone = assembly.parts.iter().filter_map(|part| part.fit.as_ref()?.get()).any(|fit| fit >= whole);
    let Some(tolerance) = assembly.tolerance_block().filter(|_| !alone) else { return };
    let unit = assembly.permissible.unit;
    let message = format!(
        "the parts' tolerances and fits, as the root sum of squares, exceed the assembly's tolerance by {}",
        rotors::in_unit(-left, unit),
    );
    let span = assembly.governing.and_then(|rule| rule.field(tolerance));
    let span = span.map_or(tolerance.written.heading, |field| field.field.value_span);
    sink.report(context.draft(span, message).help(
        "balance the parts to tighter tolerances, tighten the fits, or correct the assembly as a whole after fitting",
    ));
}
