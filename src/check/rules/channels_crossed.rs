use crate::book;
use crate::check::machine_limits::rotor_name;
use crate::check::{ItemContext, Severity, Sink, rotors};
use crate::sheet::FieldValue;
use crate::units::Amount;
use crate::vocabulary::{machine, machine::Supports, plane, setup};

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(setup) = context.setup() else { return };
    let Some(rotor) = &setup.rotor else { return };
    let Some(supports) = setup.block.field(setup::SUPPORTS_AT) else { return };
    let FieldValue::Quantities(places) = &supports.field.value else { return };
    let [left, right] = places[..] else { return };
    // Channels of other names say nothing of the side they are on.
    let [left_channel, right_channel] = ["left", "right"];
    let read_by = |channel: &str| {
        let (_, plane) = setup.channels.iter().find(|(name, _)| *name == channel)?;
        rotor.plane(plane)
    };
    let (Some(by_left), Some(by_right)) = (read_by(left_channel), read_by(right_channel)) else { return };
    let (Some(left_plane), Some(right_plane)) = (by_left.at.get(), by_right.at.get()) else { return };
    let towards_right = (right.base - left.base).signum();
    let step = (right_plane - left_plane).raw() * towards_right;
    if left.base == right.base || step >= 0.0 {
        return;
    }
    let Some((_, field)) = setup.block.named(setup::CHANNEL).find(|(name, _)| *name.text == *left_channel) else {
        return;
    };
    let message = format!(
        "channel left reads plane {} at {}, and channel right reads plane {} at {}, which lies nearer the left support \
         at {}",
        by_left.name,
        rotors::given(left_plane, by_left.at.unit),
        by_right.name,
        rotors::given(right_plane, by_right.at.unit),
        book::display_value(left.base, left.unit, 0.0)
    );
    // Hard supports are told radii and distances by side: what is read as left is corrected as left.
    let hard =
        setup.machine.as_ref().is_some_and(|machine| machine.block.choice(machine::SUPPORTS) == Some(Supports::Hard));
    let severity = if hard { Severity::Error } else { Severity::Warning };
    sink.report(
        context
            .beside(field, message)
            .weighing(severity)
            .help(
                "exchange the planes of the two channels, or the two places in `supports at` if the rotor lies the \
                 other way round",
            )
            .about(supports, "left support first")
            .related(
                by_left.block.item.file,
                rotors::span_of(&by_left.block, &[plane::AT.any()]),
                format!("in rotor \"{}\"", rotor_name(setup)),
            ),
    );
}
