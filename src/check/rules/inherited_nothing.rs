use crate::book::{EffectiveBlock, effective, head_of, heading};
use crate::check::{ItemContext, Sink, names, wording};
use crate::sheet::FieldValue;
use crate::syntax::Kind;
use crate::text::Edit;
use crate::vocabulary::setup;

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(left_out) = context.block.field(setup::LEAVE_OUT) else { return };
    let FieldValue::Names(out) = &left_out.value else { return };
    let Some(like) = context.block.field(setup::LIKE) else {
        let message = "there is no `like` beside `leave out`, so there is nothing to leave out";
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
            "name a fact by all that comes before its colon, a block by its kind and name".to_owned()
        }));
    }
}

/// The lines that would come over, as they begin.
fn heads(block: &EffectiveBlock<'_>) -> Vec<String> {
    let facts = block.fields.iter().map(|field| head_of(field.field));
    facts.chain(block.blocks.iter().map(|block| heading(block.written))).collect()
}
