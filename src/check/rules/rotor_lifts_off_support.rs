use crate::book::Lifting;
use crate::check::amounts::{amount, shown};
use crate::check::machine_limits::rotor_name;
use crate::check::{ItemContext, Sink};
use crate::units::{Mass, Unit};
use crate::vocabulary::machine::Supports;
use crate::vocabulary::{rotor, setup};

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(setup) = context.setup().filter(|setup| setup.supports() != Some(Supports::InPlace)) else { return };
    let Some(Lifting { side, load, is_without_arbor, pull }) = setup.lifts_off() else { return };
    let side = ["left support", "right support"][side];
    if setup.block.field(setup::HELD_DOWN_BY).is_some() {
        return;
    }
    let name = rotor_name(setup);
    let carries = format!("the {side}, which carries {}", shown(&load));
    let newton = context.book().rules().shown(Unit::NEWTON);
    let lifts = match pull {
        None if is_without_arbor => format!("rotor \"{name}\" without its arbor lifts off {carries}"),
        Some((plane, force)) => {
            let force = amount(force, newton);
            format!("rotor \"{name}\" may lift off {carries}: the mass in plane {plane} pulls with {force} there")
        }
        None if load.get().is_some_and(|load| load < Mass::ZERO) => format!("rotor \"{name}\" lifts off {carries}"),
        None => format!("rotor \"{name}\" may lift off {carries}, no more than that is known to"),
    };
    let message = format!("{lifts}, and nothing is said to hold it down");
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
