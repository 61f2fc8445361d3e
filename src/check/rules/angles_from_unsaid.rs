use crate::check::placing::line_at_end;
use crate::check::{ItemContext, Sink};
use crate::vocabulary::run;

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(record) = context.record().filter(|_| context.is_read_whole()) else { return };
    let turned = record.runs.iter().filter(|run| run.sits_turned() && run.block.field(run::ANGLES_FROM).is_none());
    for run in turned.filter(|run| run.readings.iter().any(|reading| reading.angle.is_some())) {
        let message = format!(
            "in run \"{}\" the rotor sits turned on its arbor, and nothing says whose zero its angles count from",
            run.name
        );
        let mut draft = context.beside_first(&run.block, &[run::TURNED_ON_ARBOR_BY.any()], message).help(
            "write `angles from: rotor` when the reference mark turns with the rotor, `angles from: arbor` when it stays \
             on the arbor",
        );
        for (line, title) in [("angles from: rotor", "From the rotor"), ("angles from: arbor", "From the arbor")] {
            if let Some(edit) = run.block.own.and_then(|own| line_at_end(context.source(), own, line)) {
                draft = draft.fix(title, edit);
            }
        }
        sink.report(draft);
    }
}
