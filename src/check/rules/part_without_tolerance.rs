use crate::check::{ItemContext, Sink, rotors};
use crate::vocabulary::{made_of, made_of::PartBalanced};

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(assembly) = context.rotor() else { return };
    for part in
        assembly.parts.iter().filter(|part| part.block.choice(made_of::BALANCED) == Some(PartBalanced::ByItself))
    {
        let Some(rotor) = part.rotor.as_ref().filter(|rotor| rotor.tolerance_block().is_none()) else { continue };
        let message = format!("\"{}\" is balanced by itself, but it has no tolerance", part.name);
        sink.report(
            context
                .draft(rotors::span_of(&part.block, &[made_of::BALANCED.any()]), message)
                .help("give it a `tolerance` of its own, so that what it brings into the assembly is known")
                .related(rotor.id.file, rotor.block.written.heading, "the part"),
        );
    }
}
