use crate::check::pins::{PinState, pins};
use crate::check::{Draft, ItemContext, Sink, wording};
use crate::sheet::Pin;
use crate::syntax::Kind;
use crate::text::{Edit, Span};
use crate::vocabulary::{self, Became, Former, former_fact};

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    for (pin, state) in pins(context) {
        let PinState::Unknown { block, suggestion } = state else { continue };
        let message = format!("`{}` has no result called `{}`", block.words(), pin.name);
        let draft = context.draft(pin.head, message).weighing(context.by_status());
        sink.report(advised(context, draft, pin, block, suggestion));
    }
}

fn advised(
    context: &ItemContext<'_, '_>,
    draft: Draft,
    pin: &Pin,
    block: Kind,
    suggestion: Option<&'static str>,
) -> Draft {
    if let Some(Former { became: Became::Renamed(now), since, .. }) = former_fact(block, &pin.name) {
        return draft
            .obsolete()
            .help(format!("it is called `{now}` since version {since}"))
            .fix(format!("Write `{now}`"), Edit::replace(pin.head, *now));
    }
    if vocabulary::block(block).key(&pin.name).is_some() {
        let between = Span::new(pin.head.end, pin.value_span.start);
        return draft.help(format!("`{}` is a fact: it is stated with `:`, not worked out", pin.name)).fix(
            "Write `:`",
            Edit::replace(between, between.of(context.source()).replacen("=>", ":", 1).trim_start()),
        );
    }
    if let Some(name) = suggestion {
        return draft
            .help(format!("did you mean `{name}`?"))
            .fix(format!("Write `{name}`"), Edit::replace(pin.head, name));
    }
    let elsewhere = vocabulary::results().find(|result| *result.name == *pin.name && result.block != block);
    if let Some(elsewhere) = elsewhere {
        return draft.help(format!("it belongs in {}", wording::with_article(elsewhere.block.words())));
    }
    let names: Vec<String> = vocabulary::results_of(block).map(|result| format!("`{}`", result.name)).collect();
    match names.is_empty() {
        true => draft.help("nothing is worked out there: take the line away"),
        false => draft.help(format!("it has {}", wording::and_list(&names))),
    }
}
