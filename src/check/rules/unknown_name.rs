use crate::book::{BuiltIn, ReferenceError};
use crate::check::{Draft, FileEdit, ItemContext, Sink, names, references, wording};
use crate::syntax::Kind;
use crate::text::Edit;
use crate::vocabulary::{self, Need};

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
        let draft = match all.all().is_empty() {
            true => draft.help(format!(
                "it has no {noun} at all yet; `{kind} {} {{` begins one",
                wording::name_as_written(&name.text)
            )),
            false => names::did_you_mean(draft, name, all, |all| format!("it has {all}")),
        };
        sink.report(begin(context, draft, kind, &name.text));
    }
}

/// Offers to begin what is named, at the end of the sheet that names it, with what it cannot do without.
fn begin(context: &ItemContext<'_, '_>, draft: Draft, kind: Kind, name: &str) -> Draft {
    let text = context.source();
    let end = if text.contains("\r\n") { "\r\n" } else { "\n" };
    let head = format!("{kind} {}", wording::name_as_written(name));
    let must = vocabulary::block(kind).keys.iter().filter(|key| key.need == Need::Must && key.head_name.is_none());
    let lines: String = must.map(|key| format!("  {}: ?{end}", key.name)).collect();
    let before = if text.ends_with('\n') { "" } else { end };
    let edit = Edit::insert(text.len() as u32, format!("{before}{end}{head} {{{end}{lines}}}{end}"));
    draft.choice(format!("Begin `{head}` at the end of this sheet"), vec![FileEdit { file: context.id.file, edit }])
}

fn is_built_in(kind: Kind, name: &str) -> bool {
    kind == Kind::Material && BuiltIn::named(name).is_some()
}
