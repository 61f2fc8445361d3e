use crate::check::{Draft, Slip};
use crate::text::Edit;
use crate::vocabulary::ValueType;

pub(super) fn say(slip: &Slip<'_>) -> Draft {
    let found = slip.found();
    if slip.edit().is_some_and(|edit| edit.text.starts_with('e')) {
        let message = format!("`{}` is not how a power of ten is written", slip.shown());
        return slip.say(message, "a power of ten is an `e` with its exponent");
    }
    let operator = slip.edit().is_some_and(|edit| matches!(edit.text.trim(), "+" | "-" | "*" | "/"));
    let message =
        format!("`{}` is not {}", slip.shown(), if operator { "an operator" } else { "a sign of the format" });
    let (span, number) = slip.run(|c| c.is_ascii_digit() || matches!(c, '·' | '⋅'));
    if matches!(found, "·" | "⋅") && number.len() > found.len() {
        let decimals = number.replace(['·', '⋅'], ".");
        let product = number.replace(['·', '⋅'], " * ");
        let help = format!("write `{decimals}` if it is a decimal point, `{product}` if it multiplies");
        let draft = slip.draft(format!("`{number}` may be a number or a product")).help(help);
        return slip.offer(slip.offer(draft, Edit::replace(span, decimals)), Edit::replace(span, product));
    }
    match slip.wanted().filter(|_| slip.fact().is_some_and(|fact| fact.key.value == ValueType::Places)) {
        Some(wanted) => slip.draft(message).help(wanted),
        None => slip.say(message, if operator { "the operators are `+`, `-`, `*` and `/`" } else { "" }),
    }
}
