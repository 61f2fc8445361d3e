use crate::book::ToleranceRule;
use crate::check::{ItemContext, Sink};
use crate::syntax::Kind;
use crate::vocabulary::{similar_part, tolerance};

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(rotor) = context.rotor() else { return };
    let Some(tolerance) = rotor.tolerance_block() else { return };
    if tolerance.field(tolerance::SOURCE).is_some() || !crate::check::rotors::is_read_whole(context) {
        return;
    }
    let names_its_source = |rule: &ToleranceRule| match rule {
        ToleranceRule::ScaledFrom => true,
        ToleranceRule::SimilarPart => {
            tolerance.inner(Kind::SimilarPart).any(|part| part.field(similar_part::SOURCE).is_some())
        }
        _ => false,
    };
    let Some((rule, _)) = rotor.rules.iter().find(|(rule, _)| !names_its_source(rule)) else { return };
    let span = rule.field(tolerance).map_or(tolerance.written.heading, |field| field.field.head);
    let message = format!("the tolerance by `{}` does not say where it comes from", rule.words());
    sink.report(
        context
            .draft(span, message)
            .help("name the drawing note, contract or standard: `source: \"drawing note 7\"`")
            .offer_in(context.book(), tolerance.place(), &["source: ?"]),
    );
}
