use crate::book;
use crate::check::amounts::amount;
use crate::check::{ItemContext, Sink};
use crate::vocabulary::arbor;

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some((record, setup)) = context.record().and_then(|record| Some((record, record.setup.as_ref()?))) else {
        return;
    };
    let (Some(arbor), Some(index)) = (&setup.arbor, &record.index) else { return };
    let Some(off) = book::arbor_not_as_stated(setup, index) else { return };
    let Some(field) = arbor.field(arbor::UNBALANCE_LEFT) else { return };
    let message = format!(
        "index runs show that arbor \"{}\" adds {}; its stated `unbalance left` and `unbalance right` amount to {}",
        arbor.name_text(),
        amount(off.found, off.unit),
        amount(off.stated, off.unit)
    );
    let help = "look whether the rotor was turned between the runs, and index it again; then state the unbalance found and \
                its date: `unbalance left`, `unbalance right`, `date`";
    sink.report(context.on_heading(&record.block, message).help(help).about(field, "the arbor"));
}
