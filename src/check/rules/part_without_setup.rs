use crate::check::{ItemContext, Sink, rotors};
use crate::syntax::Kind;
use crate::vocabulary::{made_of, made_of::PartBalanced};

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(assembly) = context.rotor() else { return };
    let book = context.book();
    // A book that has no setups yet misses more than this one.
    if !book.has(Kind::Setup) {
        return;
    }
    for part in
        assembly.parts.iter().filter(|part| part.block.choice(made_of::BALANCED) == Some(PartBalanced::ByItself))
    {
        let Some(rotor) = part.rotor.as_ref() else { continue };
        // A part without a tolerance cannot be set up, and is told so.
        if rotor.tolerance_block().is_none() || !rotors::setups_of(book, rotor.id).is_empty() {
            continue;
        }
        let message = format!("\"{}\" is balanced by itself, but the book has no setup for it", part.name);
        sink.report(context.draft(rotors::span_of(&part.block, &[made_of::BALANCED.any()]), message).help(format!(
            "add a `setup` with `rotor: \"{}\"`, or say that it comes balanced in a \
                    `note`",
            part.name
        )));
    }
}
