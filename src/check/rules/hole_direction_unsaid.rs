use crate::book::Method;
use crate::check::{ItemContext, Rule, Run, Severity, Sink, rotors};
use crate::syntax::Kind;
use crate::vocabulary::plane;

pub static RULE: Rule = Rule {
    code: "hole-direction-unsaid",
    severity: Severity::Warning,
    title: "A pitch diameter is given, but holes count as radial",
    page: include_str!("hole_direction_unsaid.md"),
    run: Run::Item(&[Kind::Rotor], judge),
};

fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(rotor) = context.rotor() else { return };
    for plane in rotor.planes.iter().filter(|plane| plane.method == Some(Method::Drilling)) {
        let Some(pitch) = plane.block.field(plane::PITCH_DIAMETER) else { continue };
        if plane.block.field(plane::DIRECTION).is_some() || !rotors::is_read_whole(context) {
            continue;
        }
        let message = format!(
            "{} has a pitch diameter, on which axial holes lie, but its holes count as radial",
            rotors::heading(context, &plane.block)
        );
        let draft = context
            .draft(pitch.field.head, message)
            .help("write `direction: axial` for holes in an end face; radial holes need `surface diameter`");
        sink.report(match plane.block.own {
            Some(own) => draft.fix("Write `direction: axial`", rotors::put_in(context, own, "direction: axial")),
            None => draft,
        });
    }
}
