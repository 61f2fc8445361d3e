use crate::book::ToleranceRule;
use crate::check::{ItemContext, Sink, rotors, wording};
use crate::vocabulary::tolerance;

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(rotor) = context.rotor() else { return };
    let Some(tolerance) = rotor.tolerance_block() else { return };
    if !rotors::is_read_whole(context) || !rotor.rules.iter().any(|(rule, _)| *rule == ToleranceRule::JournalLoad) {
        return;
    }
    let facts = [
        ("`mass`", rotor.mass.is_left_out()),
        ("`mass centre`", rotor.mass_centre.is_left_out()),
        ("`bearings`", rotor.bearings[0].is_left_out()),
    ];
    let lines = facts.iter().filter(|(_, missing)| *missing).map(|(key, _)| format!("{}: ?", key.trim_matches('`')));
    let lines: Vec<String> = lines.collect();
    let lines: Vec<&str> = lines.iter().map(String::as_str).collect();
    let missing: Vec<&str> = facts.iter().filter(|(_, missing)| *missing).map(|(key, _)| *key).collect();
    if missing.is_empty() {
        return;
    }
    let message = format!(
        "W/N by journal load needs the load on each journal, but {} is not \
        given",
        wording::and_list(&missing)
    );
    sink.report(
        context
            .draft(rotors::span_of(tolerance, &[tolerance::RULE.any()]), message)
            .help("weigh the rotor with a scale under each journal: `weighed: … kg at … mm, … kg at … mm`")
            .offer(context, &lines),
    );
}
