use crate::check::rotors;
use crate::check::{ItemContext, Severity, Sink};

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(rotor) = context.rotor() else { return };
    if rotors::has_limits(rotor) || !rotors::is_read_whole(context) {
        return;
    }
    let book = context.book();
    let name = context.block.name_text();
    let help = "add a `tolerance` block with a `grade`, a `total`, or a limit for each plane";
    let draft = match rotors::setups_of(book, rotor.id).first() {
        Some(setup) => {
            let message = format!("rotor \"{name}\" has no tolerance, so no reading can be set for it");
            let heading = book.item(*setup).heading;
            context.draft(context.block.heading, message).related(setup.file, heading, "it is set up here")
        }
        // A part that is only balanced with its assembly needs no limit of its own.
        None if !book.users().assemblies(rotor.id).is_empty() => return,
        None => {
            let message = format!("rotor \"{name}\" has no tolerance");
            context.draft(context.block.heading, message).weighing(Severity::Note)
        }
    };
    sink.report(draft.help(help));
}
