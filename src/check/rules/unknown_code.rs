use crate::check::{Draft, ItemContext, Severity, Sink, names};
use crate::sheet::NameAt;
use crate::syntax::Kind;
use crate::text::Edit;
use crate::vocabulary::{Became, Former};

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let codes: Vec<&str> = super::ALL.iter().map(|rule| rule.code).collect();
    for name in context.block.inner(Kind::Severity).filter_map(|block| block.name.as_ref()) {
        if codes.contains(&&*name.text) {
            continue;
        }
        if let Some(former) = super::former_code(&name.text) {
            sink.report(is_former(context, name, former));
            continue;
        }
        let draft = context.draft(name.span, format!("there is no diagnostic `{}`, so nothing is ranked", name.text));
        sink.report(names::did_you_mean(draft, name, &codes.iter().copied().collect(), |_| {
            "the code of a diagnostic is printed beside each message, such as `unknown-key`".to_owned()
        }));
    }
}

/// A code of an earlier version: where it was renamed, its rank still holds.
fn is_former(context: &ItemContext<'_, '_>, name: &NameAt, former: &Former) -> Draft {
    let Former { name: old, became, since } = former;
    let draft = match became {
        Became::Renamed(now) => context
            .draft(name.span, format!("`{old}` is called `{now}` since version {since}"))
            .help("the rank holds for it")
            .fix(format!("Write `{now}`"), Edit::replace(name.span, *now)),
        Became::Retired(why) => context
            .draft(name.span, format!("there is no `{old}` since version {since}: {why}"))
            .help("take this `severity` out"),
        // Only facts are parted or joined.
        Became::Either(_) | Became::Joined { .. } => {
            context.draft(name.span, format!("there is no `{old}` since version {since}"))
        }
    };
    draft.obsolete().weighing(Severity::Note)
}
