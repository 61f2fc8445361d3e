use crate::book::{EffectiveBlock, EffectiveField};
use crate::check::pins::{PinState, pins};
use crate::check::{ItemContext, Severity, Sink, wording};
use crate::sheet::{FieldValue, PinValue};
use crate::text::Edit;
use crate::vocabulary::{AnyFact, setup, shop};

/// Facts that the rest of the sheet is read by.
const NEVER_OPEN: [AnyFact; 3] = [shop::FORMAT.any(), setup::STATUS.any(), setup::LIKE.any()];

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let mut all = Vec::new();
    gather(context, context.effective(), &mut all);
    let is_open = |field: &EffectiveField<'_>| field.field.value == FieldValue::Unknown;
    let known = all.iter().filter(|field| !is_open(field)).count();
    let (never, open): (Vec<_>, Vec<_>) = all
        .iter()
        .filter(|field| is_open(field))
        .partition(|field| NEVER_OPEN.iter().any(|fact| field.field.key.is(*fact)));
    for field in never {
        let message = format!("{} cannot be left open", head(context, field));
        let draft = context.draft(field.field.value_span, message);
        sink.report(draft.help("the rest of the sheet is read by it: write what holds").weighing(Severity::Error));
    }
    let severity = if context.is_released() { Severity::Error } else { Severity::Note };
    if let Some(first) = open.first() {
        let heads: Vec<String> = open.iter().map(|field| head(context, field)).collect();
        let message = format!("{known} of {} facts are known, not yet {}", all.len(), wording::and_list(&heads));
        let draft = context.draft(first.field.value_span, message);
        let draft = open[1..].iter().fold(draft, |draft, field| draft.about(**field, "this too"));
        sink.report(draft.help("what needs them is not computed; write each when it is known").weighing(severity));
    }
    for (pin, state) in pins(context) {
        let draft = |message: String| context.draft(pin.value_span, message).weighing(severity);
        match state {
            PinState::Open { filled } => sink.report(
                draft(format!("`{}` is to be filled: {filled}", pin.name))
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

fn head(context: &ItemContext<'_, '_>, field: &EffectiveField<'_>) -> String {
    wording::shown(context.text(field.item.file, field.field.head))
}

/// The facts that the item itself writes, in the order of its blocks.
fn gather<'b>(context: &ItemContext<'b, '_>, block: &EffectiveBlock<'b>, all: &mut Vec<EffectiveField<'b>>) {
    all.extend(block.fields.iter().filter(|field| field.item == context.id));
    block.blocks.iter().for_each(|inner| gather(context, inner, all));
}
