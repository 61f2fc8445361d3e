use crate::check::{ItemContext, Severity, Sink};
use crate::mechanics::verdict::Verdict;
use crate::vocabulary::made_of;

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some((rotor, clocking)) = context.rotor().and_then(|rotor| Some((rotor, rotor.clocking.as_ref()?))) else {
        return;
    };
    for (number, verdict) in clocking.parts.iter().zip(&clocking.verdicts) {
        let part = &rotor.parts[*number];
        let Some(field) = part.block.field(made_of::RECORD) else { continue };
        let (words, severity) = match verdict {
            Some(Verdict::Over) => ("over its own tolerance", Severity::Warning),
            Some(Verdict::OverAsRead) => ("over its own tolerance as read", Severity::Warning),
            Some(Verdict::NotShown) => ("not shown to be within its own tolerance", Severity::Note),
            Some(Verdict::Within | Verdict::WithinAsRead) | None => continue,
        };
        let message = format!("{} leaves part \"{}\" {words}", context.line(field), part.name);
        sink.report(context.beside(field, message).weighing(severity).help(
            "the assembly is computed with the residual unbalance from this record; correct the part on its own before it is fitted, or use another one",
        ));
    }
}
