use crate::book::DoesNotCount;
use crate::check::readings::reading_channels;
use crate::check::{ItemContext, Sink};

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(record) = context.record() else { return };
    let Some(verdict) = &record.verdict else { return };
    if verdict.not_counted(DoesNotCount::PlanesNotRead).next().is_none() {
        return;
    }
    let (Some(run), Some(setup)) = (verdict.run.and_then(|run| record.runs.get(run)), &record.setup) else { return };
    let Some(rotor) = &setup.rotor else { return };
    let sharing = rotor.planes.iter().filter(|plane| plane.shares_tolerance);
    let Some(unread) = sharing.map(|plane| plane.name).find(|plane| run.plane(plane).is_none()) else { return };
    let message =
        format!("plane {unread} shares the tolerance, and nothing in run \"{}\" shows its unbalance", run.name);
    let draft = context.on_heading(&run.block, message).help(
        "let a channel read it (`channel right: …` in the setup), or name the planes that count: `planes: one` in the \
         tolerance, `correct only in` for an assembly",
    );
    sink.report(reading_channels(context, draft, setup, unread));
}
