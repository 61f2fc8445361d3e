use crate::check::{ItemContext, Rule, Run, Severity, Sink};
use crate::syntax::Kind;
use crate::vocabulary::setup;

pub static RULE: Rule = Rule {
    code: "released-without-revision",
    severity: Severity::Warning,
    title: "A released sheet has no revision",
    page: include_str!("released_without_revision.md"),
    run: Run::Item(&[Kind::Setup], judge),
};

fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    if !context.is_released() || context.block.field(setup::REVISION).is_some() || !context.is_read_whole() {
        return;
    }
    let Some(status) = context.block.field(setup::STATUS) else { return };
    sink.report(
        context
            .draft(status.value_span, "the sheet is released, but it has no revision")
            .help("write the revision that is printed on the card, such as `revision: \"A\"`"),
    );
}
