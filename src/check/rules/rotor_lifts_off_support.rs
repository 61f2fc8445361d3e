use crate::check::amounts::shown;
use crate::check::machine_limits::rotor_name;
use crate::check::{ItemContext, Sink};
use crate::vocabulary::machine::Supports;
use crate::vocabulary::{rotor, setup};

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(setup) = context.setup().filter(|setup| setup.supports() != Some(Supports::InPlace)) else { return };
    let Some((side, load)) = setup.lifts_off() else { return };
    let side = ["left support", "right support"][side];
    if setup.block.field(setup::HELD_DOWN_BY).is_some() {
        return;
    }
    let message = format!(
        "rotor \"{}\" lifts off the {side}, which carries {}, and nothing is said to hold it down",
        rotor_name(setup),
        shown(load)
    );
    let line = format!("{}: ?", setup::HELD_DOWN_BY);
    let draft = context.beside_first(&setup.block, &[setup::SUPPORTS_AT.any()], message);
    let draft = draft.help(format!("say what holds that journal down before the hoist lets go: `{line}`"));
    let centre = setup.rotor.as_ref().and_then(|rotor| rotor.block.field(rotor::MASS_CENTRE));
    let draft = draft.offer(context, &[&line]);
    sink.report(match centre {
        Some(field) => draft.about(field, "outside the supports"),
        None => draft,
    });
}
