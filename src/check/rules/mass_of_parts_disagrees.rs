use crate::check::{ItemContext, Sink, rotors};
use crate::units::Typed;
use crate::vocabulary::rotor;

/// By how much they may differ: bolts, keys and grease are rarely listed. Common practice, no source.
const ALLOWED: f64 = 0.02;

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(assembly) = context.rotor() else { return };
    let Some(field) = assembly.block.field(rotor::MASS).or_else(|| assembly.block.field(rotor::WEIGHED)) else {
        return;
    };
    let Some((parts, _)) = &assembly.by_parts else { return };
    let (Some(whole), Some(parts)) = (assembly.mass.get(), parts.get()) else { return };
    let off = (whole.base() - parts.base()).abs() / whole.base();
    if off <= ALLOWED {
        return;
    }
    let unit = assembly.mass.unit;
    let message = format!(
        "the assembly has {}, but its parts come to {}, {} {}",
        rotors::in_unit(whole, unit),
        rotors::in_unit(parts, unit),
        rotors::percent(off),
        if parts > whole { "more" } else { "less" },
    );
    sink.report(context.draft(field.field.value_span, message).help(
        "look for a part that is missing, counted twice (`quantity`), or one that was weighed with others still on it",
    ));
}
