use crate::book::effective;
use crate::check::wording::or_list;
use crate::check::{ItemContext, Severity, Sink};
use crate::sheet::FieldValue;
use crate::syntax::Kind;
use crate::vocabulary::{machine, machine::Supports, setup, trial};

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(field) = context.effective().field(machine::CHANNELS) else { return };
    let FieldValue::Names(names) = &field.field.value else { return };
    for (n, name) in names.iter().enumerate() {
        if names[..n].iter().any(|other| other.text == name.text) {
            let message = format!("two channels are called {}", name.text);
            sink.report(context.draft(name.span, message).help("give each its own name, as the panel does"));
        }
    }
    if names.len() <= 2 {
        return;
    }
    if context.effective().choice(machine::SUPPORTS) == Some(Supports::Hard) {
        let message = format!("the machine has {} channels, where two hard supports have two", names.len());
        sink.report(context.beside(field, message).help("name the two that measure at the supports, left first"));
        return;
    }
    // More sensors than supports tell the planes apart by trial runs alone.
    let read = read_in_setups(context);
    let idle: Vec<&str> = names.iter().map(|name| &*name.text).filter(|name| !read.contains(name)).collect();
    if idle.is_empty() || read.is_empty() {
        return;
    }
    let message = format!(
        "the machine has {} channels, and no setup of it reads {}: two supports have two",
        names.len(),
        or_list(&idle)
    );
    sink.report(context.beside(field, message).weighing(Severity::Warning).help(
        "name the two that measure at the supports, left first; a further sensor counts where trial runs read it",
    ));
}

/// The channels that setups of the machine read, by a `channel` line or in trial runs.
fn read_in_setups<'b>(context: &ItemContext<'b, '_>) -> Vec<&'b str> {
    let book = context.book();
    let mut read = Vec::new();
    for setup in book.users().setups(context.id) {
        let (block, _) = effective(book, setup);
        let trials = block.inner(Kind::Trial).flat_map(|trial| trial.named(trial::READING));
        read.extend(block.named(setup::CHANNEL).chain(trials).map(|(name, _)| &*name.text));
    }
    read
}
