use crate::check::slip::shown;
use crate::check::{Draft, Slip};
use crate::text::{Edit, Span};

pub(super) fn say(slip: &Slip<'_>) -> Draft {
    let message = match slip.found() {
        "\"" => "this quote closes nothing".to_owned(),
        found if !found.starts_with('"') && found.ends_with('"') => {
            format!("the quote after `{}` closes nothing", shown(found.trim_end_matches('"')))
        }
        _ => format!("the quote before `{}` is not closed on its line", shown(slip.found().trim_start_matches('"'))),
    };
    let advice = "a text ends on the line where it begins";
    if slip.takes_amount() {
        let quote = Span::new(slip.span().start, slip.span().start + 1);
        return slip.say_with(message, "amounts take no quotes", Edit::delete(quote));
    }
    match slip.found().find(": ").filter(|_| slip.edit().is_none()) {
        // `"dial: 64`
        Some(colon) => slip.say_with(message, advice, Edit::insert(slip.span().start + colon as u32, "\"")),
        None => slip.say(message, advice),
    }
}
