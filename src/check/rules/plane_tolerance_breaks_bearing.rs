use crate::book::ToleranceRule;
use crate::check::{Draft, FileEdit, ItemContext, Severity, Sink, facts, rotors};
use crate::units::Typed;
use crate::vocabulary::tolerance;

/// By how much a limit must be broken to be more than the roundness of half-and-half. Common practice, no source.
const BROKEN_CLEARLY: f64 = 0.1;

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(rotor) = context.rotor() else { return };
    let Some(planes) = rotors::two_planes(rotor) else { return };
    if rotor.governing == Some(ToleranceRule::Planes) {
        return;
    }
    let stated = planes.map(|plane| plane.stated_tolerance.as_ref());
    let [Some(first), Some(second)] = stated else { return };
    let (Some(u1), Some(u2)) = (first.get(), second.get()) else { return };
    let Some(levers) = rotors::levers(rotor, planes) else { return };
    let worst = levers.worst_at_bearings([u1, u2]);
    let excess = |n: usize| Some(worst[n].base() / rotor.at_bearings[n].get()?.base() - 1.0);
    let (Some(a), Some(b)) = (excess(0), excess(1)) else { return };
    let (n, excess) = if a >= b { (0, a) } else { (1, b) };
    // Limits rounded to whole numbers do not break a bearing.
    if excess <= 0.005 {
        return;
    }
    let Some(limit) = rotors::shown(&rotor.at_bearings[n]) else { return };
    let message = format!(
        "at the worst phase {} in {} and {} in {} put {} on bearing {}, which may take {limit}",
        rotors::given(u1, first.unit),
        rotors::heading(context, &planes[0].block),
        rotors::given(u2, second.unit),
        rotors::heading(context, &planes[1].block),
        rotors::in_unit(worst[n], rotor.at_bearings[n].unit),
        ["A", "B"][n],
    );
    let Some(tolerance) = rotor.tolerance_block() else { return };
    let stated = planes.map(|plane| tolerance.named(tolerance::PLANE).find(|(name, _)| &*name.text == plane.name));
    let span = stated[0].map_or(tolerance.written.heading, |(_, field)| field.field.value_span);
    let source = context.book().file(context.id.file);
    let edits = stated.iter().flatten().map(|(_, field)| facts::delete_fact(source, field.field.head));
    let edits = edits.map(|edit| FileEdit { file: context.id.file, edit }).collect();
    let draft: Draft = context.draft(span, message).choice("Take both lines out", edits);
    let severity = if excess > BROKEN_CLEARLY { Severity::Warning } else { Severity::Note };
    let kept: Vec<String> = planes.iter().filter_map(|plane| rotors::shown(&plane.tolerance)).collect();
    sink.report(draft.weighing(severity).help(format!(
        "the sheet works with {} instead, which hold at any phase; delete these lines to let the program share the tolerance",
        kept.join(" and ")
    )));
}
