use crate::check::amounts::vector;
use crate::check::{ItemContext, Sink};
use crate::mechanics::effect::Effect;

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(record) = context.record() else { return };
    for step in &record.steps {
        // A slip that has a name is said by that name.
        let is_slip = step.effect.is_some_and(|all| !matches!(all.effect, Effect::AsMeant | Effect::Unexplained));
        if is_slip || !step.slips.is_empty() {
            continue;
        }
        let run = &record.runs[step.to];
        for plane in step.foretold.iter().filter(|plane| plane.is_contradicted) {
            let message = format!(
                "run \"{}\" shows {} in plane {}; run \"{}\" and the corrections after it should leave {}",
                run.name,
                vector(plane.read, plane.unit),
                plane.plane,
                record.runs[step.from].name,
                vector(plane.expected, plane.unit)
            );
            let draft = context.on_heading(&run.block, message).related(
                record.runs[step.from].block.item.file,
                record.runs[step.from].block.written.heading,
                "the run before",
            ).help(
                "run again; then check the correction actually made, whether anything has moved, and whether the rotor is seated as before; if another correction was made, record it, or write `correction not recorded: yes`",
            );
            sink.report(draft.offer_in(context.book(), run.block.place(), &["correction not recorded: yes"]));
        }
    }
}
