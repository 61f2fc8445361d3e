use crate::check::{ItemContext, Sink, names, registry};
use crate::syntax::Kind;

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let codes: Vec<&str> = registry::rules().iter().map(|rule| rule.code).collect();
    for name in context.block.inner(Kind::Severity).filter_map(|block| block.name.as_ref()) {
        if codes.contains(&&*name.text) {
            continue;
        }
        let draft = context.draft(name.span, format!("there is no diagnostic `{}`, so nothing is ranked", name.text));
        sink.report(names::did_you_mean(draft, name, &codes, |_| {
            "the code of a diagnostic stands beside each message, such as `unknown-key`".to_owned()
        }));
    }
}
