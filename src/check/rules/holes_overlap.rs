use crate::check::{ItemContext, Rule, Run, Severity, Sink, rotors};
use crate::syntax::Kind;
use crate::vocabulary::plane;

pub static RULE: Rule = Rule {
    code: "holes-overlap",
    severity: Severity::Warning,
    title: "Holes side by side run into each other",
    page: include_str!("holes_overlap.md"),
    run: Run::Item(&[Kind::Rotor], judge),
};

fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(rotor) = context.rotor() else { return };
    for plane in &rotor.planes {
        let (Some((at, spacing)), Some((hole, diameter))) = (
            rotors::quantity(&plane.block, plane::HOLE_SPACING_AT_LEAST),
            rotors::quantity(&plane.block, plane::HOLE_DIAMETER),
        ) else {
            continue;
        };
        if spacing.base > diameter.base * (1.0 + 1e-9) {
            continue;
        }
        let message = format!(
            "holes of {} may stand {} apart from centre to centre, which leaves nothing between them",
            rotors::written(context, hole),
            rotors::written(context, at),
        );
        sink.report(
            context
                .draft(at.field.value_span, message)
                .help("one and a half times the hole diameter is the usual least distance"),
        );
    }
}
