use crate::book::ToleranceRule;
use crate::check::{ItemContext, Severity, Sink, rotors};
use crate::vocabulary::{rotor, rotor::BearingArrangement, tolerance, tolerance::PlanesBalanced};

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(rotor) = context.rotor() else { return };
    let Some(tolerance) = rotor.tolerance_block() else { return };
    let shared_otherwise = matches!(rotor.governing, Some(ToleranceRule::JournalLoad | ToleranceRule::WholeWeight));
    let stated =
        tolerance.field(tolerance::AT_BEARING_A).is_some() && tolerance.field(tolerance::AT_BEARING_B).is_some();
    let known = rotor.permissible.is_known() && rotor.bearings[0].is_known();
    if !rotor.mass_centre.is_left_out() || shared_otherwise || stated || !known || !rotors::is_read_whole(context) {
        return;
    }
    if rotor.block.choice(rotor::BEARING_ARRANGEMENT) == Some(BearingArrangement::Overhung) {
        let message = "the rotor is overhung and its mass centre is not given, so its bearings get no tolerance";
        let help = "weigh it at two places, `weighed: … kg at … mm, … kg at … mm`, or state `mass centre`";
        let span = rotors::span_of(&rotor.block, &[rotor::BEARING_ARRANGEMENT.any()]);
        sink.report(
            context.draft(span, message).help(help).offer(context, &["mass centre: ?"]).weighing(Severity::Error),
        );
        return;
    }
    // In one plane the rotor keeps its whole tolerance, wherever its mass centre lies.
    let one = tolerance.choice(tolerance::PLANES) == Some(PlanesBalanced::One);
    let sharing = rotor.planes.iter().filter(|plane| plane.shares_tolerance).count();
    if one || sharing == 1 {
        return;
    }
    let weigh = "weigh the rotor at two places, `weighed: … kg at … mm, … kg at … mm`, or state `mass centre`";
    let draft = |message: String| context.draft(rotors::span_of(&rotor.block, &[rotor::BEARINGS.any()]), message);
    let Some(half) = rotors::shown(&rotor.shared_at_bearings[0]) else {
        let message = "all planes are beyond the bearings and no mass centre is given: the rotor may be overhung, and \
            its bearings get no tolerance";
        let help = format!("{weigh}; where it lies between the bearings, `bearing arrangement: inboard` says so");
        sink.report(
            draft(message.to_owned()).help(help).offer(context, &["mass centre: ?"]).weighing(Severity::Warning),
        );
        return;
    };
    let message = format!("without a mass centre each bearing is given half the tolerance, {half}");
    sink.report(draft(message).help(weigh).offer(context, &["mass centre: ?"]));
}
