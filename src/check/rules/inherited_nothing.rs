use crate::book::{EffectiveBlock, effective, head_of, heading};
use crate::check::{ItemContext, Rule, Run, Severity, Sink, names, wording};
use crate::sheet::FieldValue;
use crate::syntax::Kind;
use crate::text::Edit;

pub static RULE: Rule = Rule {
    code: "inherited-nothing",
    severity: Severity::Warning,
    title: "Something is left out that would not come over",
    page: include_str!("inherited_nothing.md"),
    run: Run::Item(&[Kind::Setup], judge),
};

fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(left_out) = context.block.field("leave out") else { return };
    let FieldValue::Names(out) = &left_out.value else { return };
    let Some(like) = context.block.field("like") else {
        let message = "`leave out` stands without `like`, so there is nothing to leave out";
        sink.report(
            context.draft(left_out.head, message).help("take the line out, or say which setup this one is like"),
        );
        return;
    };
    let FieldValue::Name(name) = &like.value else { return };
    let Ok(parent) = context.book().find(Kind::Setup, &name.text) else { return };
    let block = effective(context.book(), parent).0;
    let heads = heads(&block);
    let heads: Vec<&str> = heads.iter().map(String::as_str).collect();
    for name in out.iter().filter(|name| !heads.contains(&&*name.text)) {
        let called = names::called(context.book().item(parent));
        let draft = context
            .draft(name.span, format!("{called} has no line that begins {}", wording::shown(&name.text)))
            .related(parent.file, context.book().item(parent).heading, "the setup that this one is like");
        let mut begun = heads.iter().filter(|head| head.starts_with(&*name.text));
        if let (Some(head), None) = (begun.next(), begun.next()) {
            let head = wording::quoted(head);
            let draft = draft.help(format!("did you mean `{head}`?"));
            sink.report(draft.fix(format!("Write `{head}`"), Edit::replace(name.span, head)));
            continue;
        }
        sink.report(names::did_you_mean(draft, name, &heads.iter().copied().collect(), |_| {
            "name a fact by all that stands before its colon, a block by its kind and name".to_owned()
        }));
    }
}

/// The lines that would come over, as they begin.
fn heads(block: &EffectiveBlock<'_>) -> Vec<String> {
    let facts = block.fields.iter().map(|field| head_of(field.field));
    facts.chain(block.blocks.iter().map(|block| heading(block.written))).collect()
}
