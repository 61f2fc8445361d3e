use crate::check::{ItemContext, Rule, Run, Severity, Sink};
use crate::syntax::Kind;

pub static RULE: Rule = Rule {
    code: "traverse-readings-and-places",
    severity: Severity::Error,
    title: "A traverse has not one reading a place",
    page: include_str!("traverse_readings_and_places.md"),
    run: Run::Item(&[Kind::Record], judge),
};

fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(record) = context.record().filter(|_| context.is_read_whole()) else { return };
    for traverse in &record.traverses {
        let Some((readings, places)) = traverse.counts.filter(|(_, places)| *places > 0) else { continue };
        let message = format!("there are {readings} readings for {places} places");
        let help = "give one reading for each place, in the order of the angles";
        sink.report(context.beside_first(&traverse.block, &["readings"], message).help(help));
    }
}
