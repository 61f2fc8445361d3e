use crate::book::DoesNotCount;
use crate::check::runs::not_counted;
use crate::check::{ItemContext, Sink};

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(record) = context.record().filter(|_| context.is_read_whole()) else { return };
    for run in not_counted(record, DoesNotCount::SeatNotStated) {
        let message = format!(
            "run \"{}\" does not say how far the rotor was turned on its arbor, which other runs of the record do",
            run.name
        );
        let draft = context.on_heading(&run.block, message).help(
            "write it down, `turned on arbor by: 0 deg`; without it the arbor's own unbalance cannot be taken off",
        );
        sink.report(draft.offer_in(context.book(), run.block.place(), &["turned on arbor by: ?"]));
    }
}
