use crate::check::{ItemContext, Sink};
use crate::vocabulary::run;

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(record) = context.record().filter(|_| context.is_read_whole()) else { return };
    for like in &record.like_mass {
        let run = &record.runs[like.run];
        let message = format!("run \"{}\" reads like {}: it may still be on", run.name, like.mass);
        let facts = [run::CALIBRATION_MASSES.any(), run::READING.any()];
        sink.report(context.beside_first(&run.block, &facts, message).help(
            "look for it: if it was on, say so in the run, take it off and run again; if all masses were off, run again, and what reads the same twice is the rotor's own",
        ));
    }
}
