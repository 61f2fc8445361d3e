use crate::book::{EffectiveBlock, EffectiveField};
use crate::check::pins::{PinState, pins};
use crate::check::{ItemContext, Severity, Sink, wording};
use crate::sheet::{FieldValue, PinValue};
use crate::text::Edit;
use crate::vocabulary::{AnyFact, setup, shop};

/// Facts that the rest of the sheet is read by.
const NEVER_OPEN: [AnyFact; 3] = [shop::FORMAT.any(), setup::STATUS.any(), setup::LIKE.any()];

/// A fact that the item itself writes, with the block it is in.
type Written<'c, 'b> = (&'c EffectiveBlock<'b>, EffectiveField<'b>);

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let mut all = Vec::new();
    gather(context, context.effective(), &mut all);
    let open: Vec<&Written<'_, '_>> =
        all.iter().filter(|(_, field)| field.field.value == FieldValue::Unknown).collect();
    let known = all.len() - open.len();
    let is_never_open = |field: &EffectiveField<'_>| NEVER_OPEN.iter().any(|fact| field.field.key.is(*fact));
    for (_, field) in open.iter().filter(|(_, field)| is_never_open(field)) {
        let head = wording::shown(context.text(field.item.file, field.field.head));
        let draft = context.draft(field.field.value_span, format!("{head} cannot be left open"));
        sink.report(draft.help("the rest of the sheet is read by it: write what holds").weighing(Severity::Error));
    }
    let open: Vec<_> = open.into_iter().filter(|(_, field)| !is_never_open(field)).collect();
    let severity = if context.is_released() { Severity::Error } else { Severity::Note };
    if let Some(((_, first), more)) = open.split_first() {
        let heads: Vec<String> = open.iter().map(|written| head(context, written)).collect();
        let message = format!("{known} of {} facts are known; still missing: {}", all.len(), wording::and_list(&heads));
        let draft = context.draft(first.field.value_span, message);
        let draft = more.iter().fold(draft, |draft, (_, field)| draft.about(*field, "this too"));
        sink.report(
            draft.help("results that need them are not computed; write each fact when it is known").weighing(severity),
        );
    }
    for (pin, state) in pins(context) {
        let draft = |message: String| context.draft(pin.value_span, message).weighing(severity);
        match state {
            PinState::Open { filled } => sink.report(
                draft(format!("`{}` can be filled in: {filled}", pin.name))
                    .help("`rotorbook pin` writes what is computed")
                    .fix(format!("Write `{filled}`"), Edit::replace(pin.value_span, filled)),
            ),
            PinState::NotComputed { why, .. } if pin.value == PinValue::Unknown => {
                sink.report(draft(format!("`{}` cannot be filled yet: {why}", pin.name)).help("give what is missing"))
            }
            _ => {}
        }
    }
}

/// `mass`, `at` of plane left
fn head(context: &ItemContext<'_, '_>, (block, field): &Written<'_, '_>) -> String {
    let head = wording::shown(context.text(field.item.file, field.field.head));
    let of = block.path.headings().last().map(|heading| format!(" of {heading}"));
    head + &of.unwrap_or_default()
}

/// In the order of the blocks.
fn gather<'c, 'b>(context: &ItemContext<'b, '_>, block: &'c EffectiveBlock<'b>, all: &mut Vec<Written<'c, 'b>>) {
    let own = block.fields.iter().filter(|field| field.item == context.id);
    all.extend(own.map(|field| (block, *field)));
    block.blocks.iter().for_each(|inner| gather(context, inner, all));
}
