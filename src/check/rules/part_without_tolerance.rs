use crate::check::{ItemContext, Rule, Run, Severity, Sink, rotors};
use crate::syntax::Kind;
use crate::vocabulary::{made_of, made_of::PartBalanced};

pub static RULE: Rule = Rule {
    code: "part-without-tolerance",
    severity: Severity::Warning,
    title: "A part is balanced by itself without a tolerance of its own",
    page: include_str!("part_without_tolerance.md"),
    run: Run::Item(&[Kind::Rotor], judge),
};

fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(assembly) = context.rotor() else { return };
    for part in
        assembly.parts.iter().filter(|part| part.block.choice(made_of::BALANCED) == Some(PartBalanced::ByItself))
    {
        let Some(rotor) = part.rotor.as_ref().filter(|rotor| rotor.tolerance_block().is_none()) else { continue };
        let message = format!("\"{}\" is balanced by itself, but it has no tolerance", part.name);
        sink.report(
            context
                .draft(rotors::span_of(&part.block, &[made_of::BALANCED.any()]), message)
                .help("give it a `tolerance` of its own, so that the assembly knows what it brings in")
                .related(rotor.id.file, rotor.block.written.heading, "the part"),
        );
    }
}
