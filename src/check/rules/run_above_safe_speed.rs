use crate::check::amounts::shown;
use crate::check::machine_limits::rotor_name;
use crate::check::runs::{MadeRun, is_above_safe, made};
use crate::check::{ItemContext, Sink};
use crate::vocabulary::{rotor, run};

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    for MadeRun { setup, called, block, speed, .. } in made(context) {
        let limit = setup.rotor.as_ref().and_then(|rotor| rotor.block.field(rotor::HIGHEST_SAFE_SPEED));
        let Some(limit) = limit.filter(|_| is_above_safe(setup, speed)) else { continue };
        let message = format!(
            "{called} at {} is above the highest safe speed of rotor \"{}\", {}",
            shown(speed),
            rotor_name(setup),
            context.written(limit)
        );
        let help =
            "if it ran so fast, take it out and look at it before it runs again; else write the speed that it ran at";
        let draft = context.beside_first(block, &[run::SPEED.any()], message).help(help);
        sink.report(draft.about(limit, "never to be exceeded"));
    }
}
