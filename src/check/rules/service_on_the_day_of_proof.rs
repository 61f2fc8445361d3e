use crate::book::EffectiveBlock;
use crate::check::{ItemContext, Sink};
use crate::vocabulary::{machine, proof};

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(setup) = context.setup() else { return };
    let day = |proof: &EffectiveBlock<'_>| proof.day(proof::DATE);
    let Some((proof, day)) = setup.block.latest_proof().and_then(|proof| Some((proof, day(proof)?))) else { return };
    let Some(machine) = &setup.machine else { return };
    let Some((_, service)) = machine.block.latest(machine::SERVICED, None).filter(|(service, _)| *service == day)
    else {
        return;
    };
    let message = format!("the machine was serviced on the day of the proof, {day}: which came first is not said");
    let draft = context.beside_first(proof, &[proof::DATE.any()], message).about(service, "the service");
    sink.report(draft.help("the proof is taken to have come after; if it came before, prove the setup again"));
}
