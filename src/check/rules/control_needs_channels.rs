use crate::check::machine_limits::machine_name;
use crate::check::readings;
use crate::check::settings;
use crate::check::wording::and_list;
use crate::check::{ItemContext, Severity, Sink};
use crate::vocabulary::setup;

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let (Some(setup), Some(controls)) = (context.setup(), settings::controls(context)) else { return };
    if setup.rotor.is_none() || !context.is_read_whole() {
        return;
    }
    let is_read = setup.sides.map(|side| side.is_some());
    let unread = |planes: [bool; 2]| planes.into_iter().zip(is_read).any(|(takes, is_read)| takes && !is_read);
    let lacking: Vec<String> = controls
        .iter()
        .filter(|control| settings::taken(control).is_some_and(|taken| unread(taken.planes())))
        .map(|control| format!("\"{}\"", control.name_text()))
        .collect();
    if lacking.is_empty() {
        return;
    }
    let message = format!(
        "{} of machine \"{}\" cannot be worked out: no `channel` lines say which plane is left and which is right",
        and_list(&lacking),
        machine_name(setup)
    );
    let draft = context
        .beside_first(&setup.block, &[setup::MACHINE.any()], message)
        .help("write a line for each channel, such as `channel left: hub`: its plane is the left one, wherever it is");
    let planes = setup.rotor.iter().flat_map(|rotor| &rotor.planes).filter(|plane| plane.shares_tolerance);
    let planes: Vec<&str> = planes.map(|plane| plane.name).collect();
    let channels = setup.machine.as_ref().map_or(&[][..], |machine| &machine.channels);
    let draft = readings::pairings(context, draft, channels, &planes);
    sink.report(if setup.is_released() { draft } else { draft.weighing(Severity::Note) });
}
