use crate::check::{ItemContext, Sink, rotors, wording};
use crate::vocabulary::{made_of, rotor};

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(assembly) = context.rotor() else { return };
    let stated = [rotor::MASS.any(), rotor::WEIGHED.any(), rotor::MASS_CENTRE.any()]
        .into_iter()
        .any(|fact| assembly.block.field(fact).is_some());
    let (placed, without): (Vec<_>, Vec<_>) =
        assembly.parts.iter().partition(|part| part.block.field(made_of::AT).is_some());
    if stated || placed.is_empty() || without.is_empty() || !rotors::is_read_whole(context) {
        return;
    }
    let names: Vec<String> = without.iter().map(|part| format!("\"{}\"", part.name)).collect();
    let has = if names.len() == 1 { "has" } else { "have" };
    let message = format!(
        "{} {has} no position in the assembly, so the assembly's mass centre is not known",
        wording::and_list(&names)
    );
    sink.report(
        context
            .draft(without[0].block.written.heading, message)
            .help("add `at: … mm`: where the part's datum lies, from the datum of the assembly")
            .offer_in(context.book(), without[0].block.place(), &["at: ?"]),
    );
}
