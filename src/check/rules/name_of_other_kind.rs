use crate::book::{BuiltIn, ReferenceError};
use crate::check::{ItemContext, Sink, references, wording};
use crate::syntax::Kind;

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let book = context.book();
    for reference in references::of(context.block) {
        let (kind, name) = (reference.kind, reference.name);
        let Err(ReferenceError::WrongKind(found)) = book.find(kind, &name.text) else { continue };
        if kind == Kind::Material && BuiltIn::named(&name.text).is_some() {
            continue;
        }
        let is = wording::a_kind(found);
        let wants = wording::a_kind(kind);
        let message = format!("{} is {is}, but {wants} is expected here", wording::quoted(&name.text));
        let draft = context.draft(name.span, message).help(format!("write the name of {wants}"));
        let place = book.named(found, &name.text).first();
        sink.report(match place {
            Some(id) => draft.related(id.file, book.item(*id).heading, format!("{is} of this name")),
            None => draft,
        });
    }
}
