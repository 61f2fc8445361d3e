use crate::book::{BuiltIn, ReferenceError};
use crate::check::{ItemContext, Rule, Run, Severity, Sink, references, wording};
use crate::syntax::Kind;

pub static RULE: Rule = Rule {
    code: "name-of-other-kind",
    severity: Severity::Error,
    title: "A name belongs to an item of another kind",
    page: include_str!("name_of_other_kind.md"),
    run: Run::Item(&[Kind::Arbor, Kind::Machine, Kind::Rotor, Kind::Setup, Kind::Record], judge),
};

fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let book = context.book();
    for reference in references::of(context.block) {
        let (kind, name) = (reference.kind, reference.name);
        let Err(ReferenceError::WrongKind(found)) = book.find(kind, &name.text) else { continue };
        if kind == Kind::Material && BuiltIn::named(&name.text).is_some() {
            continue;
        }
        let is = wording::a_kind(found);
        let wants = wording::a_kind(kind);
        let message = format!("{} is {is}, and {wants} is wanted here", wording::quoted(&name.text));
        let draft = context.draft(name.span, message).help(format!("write the name of {wants}"));
        let place = book.named(found, &name.text).first();
        sink.report(match place {
            Some(id) => draft.related(id.file, book.item(*id).heading, format!("{is} of this name")),
            None => draft,
        });
    }
}
