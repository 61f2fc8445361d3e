use crate::check::{ItemContext, Sink, wording};
use crate::syntax::Kind;
use crate::vocabulary::{severity, severity::Level};

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    for block in context.block.inner(Kind::Severity).filter(|block| block.field(severity::BECAUSE).is_none()) {
        let written = block.field(severity::LEVEL).map(|field| context.text(context.id.file, field.value_span));
        let ranked = match (block.choice(severity::LEVEL), written) {
            (Some(Level::Off), _) => "is turned off".to_owned(),
            (_, Some(level)) => format!("is made {}", wording::with_article(level)),
            (_, None) => "is ranked".to_owned(),
        };
        let message = format!("`{}` {ranked} without a reason, so this does not count", block.name_text());
        let draft = context.draft(block.heading, message).help("say why the shop ranks it so: `because: \"…\"`");
        sink.report(draft.offer_in(context.book(), (context.id.file, block), &["because: ?"]));
    }
}
