use crate::book::{EffectiveBlock, SetupResults, Val};
use crate::check::amounts::shown;
use crate::check::machine_limits::rotor_name;
use crate::check::runs::is_above_safe;
use crate::check::{ItemContext, Sink};
use crate::units::Speed;
use crate::vocabulary::{rotor, run};

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    if let Some(setup) = context.setup() {
        for trial in setup.trials.iter().flat_map(|trials| &trials.runs) {
            judge_one(context, setup, ("trial", trial.name), (&trial.block, &trial.speed), sink);
        }
    }
    if let Some((record, setup)) = context.record().and_then(|record| Some((record, record.setup.as_ref()?))) {
        for run in &record.runs {
            judge_one(context, setup, ("run", run.name), (&run.block, &run.speed), sink);
        }
    }
}

fn judge_one<'b>(
    context: &ItemContext<'b, '_>,
    setup: &SetupResults<'b>,
    (kind, name): (&str, &str),
    (block, speed): (&EffectiveBlock<'b>, &Val<Speed>),
    sink: &mut Sink,
) {
    let Some(limit) = setup.rotor.as_ref().and_then(|rotor| rotor.block.field(rotor::HIGHEST_SAFE_SPEED)) else {
        return;
    };
    if !is_above_safe(setup, speed) {
        return;
    }
    let message = format!(
        "{kind} \"{name}\" at {} is above the highest safe speed of rotor \"{}\", {}",
        shown(speed),
        rotor_name(setup),
        context.written(limit)
    );
    let help =
        "if it ran so fast, take it out and look at it before it runs again; else write the speed that it ran at";
    sink.report(
        context.beside_first(block, &[run::SPEED.any()], message).help(help).about(limit, "never to be exceeded"),
    );
}
