use crate::book::SetupResults;
use crate::check::{ItemContext, Sink};
use crate::sheet::Block;
use crate::vocabulary::{proof, setup};

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    if !context.is_released() || !context.is_read_whole() {
        return;
    }
    if context.setup().is_some_and(SetupResults::wants_no_proof) {
        return;
    }
    let Some(status) = context.block.field(setup::STATUS) else { return };
    let help = "run a mass in each plane alone and take it off again, and write the readings into `proof \"…\" { … }`; \
                until then the sheet is a draft";
    match context.effective().latest_proof().and_then(|proof| proof.own) {
        None => sink.report(context.draft(status.value_span, "the sheet is released, but it has no proof").help(help)),
        Some(proof) if !holds_readings(proof) => sink.report(
            context.draft(proof.heading, "the sheet is released, but its proof holds no reading").help(help).related(
                context.id.file,
                status.value_span,
                "released here",
            ),
        ),
        Some(proof) => {
            let Some((setup, results)) = context.setup().and_then(|setup| Some((setup, setup.proof.as_ref()?))) else {
                return;
            };
            let lacks = results.lacks(&setup.channels);
            if !lacks.is_empty() {
                let message = format!("the sheet is released, but its proof does not hold {}", lacks.join("; "));
                let related = "released here";
                let draft = context.draft(proof.heading, message).help(help);
                sink.report(draft.related(context.id.file, status.value_span, related));
            }
            let fails = setup.proof_failures(context.book().rules());
            if !fails.is_empty() {
                let message = format!("the sheet is released, but its proof fails: {}", fails.join("; "));
                // Of the sheet as it is today, and nothing that the proof says of its own day.
                let draft = context.draft(status.value_span, message).help(
                    "set the machine again and prove the sheet again, or withdraw it: `rotorbook withdraw`; by such a proof no \
                     rotor is shown to be within its tolerance",
                );
                sink.report(draft.related(context.id.file, proof.heading, "by this proof"));
            }
        }
    }
}

fn holds_readings(proof: &Block) -> bool {
    let shown = [proof::START_READING.any(), proof::BACK_AT_START.any(), proof::REMOUNTED.any()];
    !proof.blocks.is_empty() || proof.fields.iter().any(|field| shown.iter().any(|fact| field.key.name == fact.words()))
}
