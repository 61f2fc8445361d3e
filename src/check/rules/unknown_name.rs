use crate::book::{BuiltIn, ReferenceError};
use crate::check::{ItemContext, Sink, names, references, wording};
use crate::syntax::Kind;

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let book = context.book();
    if book.has_unread_files() {
        return;
    }
    for reference in references::of(context.block) {
        let (kind, name) = (reference.kind, reference.name);
        if book.find(kind, &name.text) != Err(ReferenceError::Unknown) || is_built_in(kind, &name.text) {
            continue;
        }
        let all = book.names_alike(kind);
        let noun = wording::this_kind(kind);
        let noun = noun.trim_start_matches("this ");
        let draft = context.draft(name.span, format!("the book has no {noun} {}", wording::quoted(&name.text)));
        sink.report(match all.all().is_empty() {
            true => draft.help(format!(
                "it has no {noun} at all yet; `{kind} {} {{` begins one",
                wording::name_as_written(&name.text)
            )),
            false => names::did_you_mean(draft, name, all, |all| format!("it has {all}")),
        });
    }
}

fn is_built_in(kind: Kind, name: &str) -> bool {
    kind == Kind::Material && BuiltIn::named(name).is_some()
}
