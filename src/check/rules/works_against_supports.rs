use crate::check::{ItemContext, Sink};
use crate::vocabulary::{Choice, machine, machine::Supports, machine::Works};

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let block = context.effective();
    let (Some(supports), Some(works), Some(field)) =
        (block.choice(machine::SUPPORTS), block.choice(machine::WORKS), block.field(machine::WORKS))
    else {
        return;
    };
    let (where_it_should, because) = match (supports, works) {
        (Supports::Soft, Works::BelowResonance) => ("above resonance or at it", "soft supports show how far they move"),
        (Supports::Hard, Works::AboveResonance | Works::AtResonance) => {
            (Works::BelowResonance.words(), "hard supports show the force on them")
        }
        _ => return,
    };
    let message = format!("the supports are {}, but the machine is said to work {}", supports.words(), works.words());
    let draft = context.beside(field, message).help(format!("{because}, which holds {where_it_should}"));
    sink.report(match block.field(machine::SUPPORTS) {
        Some(supports) => draft.about(supports, "the supports"),
        None => draft,
    });
}
