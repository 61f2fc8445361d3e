use crate::check::slip::shown;
use crate::check::{Draft, Slip};
use crate::text::Edit;

pub(super) fn say(slip: &Slip<'_>) -> Draft {
    let (span, whole) = slip.run(|c| c.is_ascii_digit() || matches!(c, ',' | '.'));
    let message = format!("`{}` has a comma between its digits", shown(whole));
    if slip.edit().is_some() {
        return slip.say(message, "the decimal sign is a point");
    }
    let edit = |text: String| Edit::replace(span, text);
    match readings(whole) {
        Some((number, None)) => slip.say_with(message, "a number has no mark but its decimal point", edit(number)),
        Some((decimals, Some(thousands))) => {
            let help = format!("write `{decimals}` if the comma marks decimals, `{thousands}` if it parts thousands");
            let draft = slip.draft(message).help(help);
            slip.offer(slip.offer(draft, edit(decimals)), edit(thousands))
        }
        None => {
            slip.draft(message).help("the decimal sign is a point; a comma and a space separate the values of a list")
        }
    }
}

/// What a number with commas may stand for: one number, or two where a single comma may part thousands.
fn readings(written: &str) -> Option<(String, Option<String>)> {
    let commas = written.matches(',').count();
    let points = written.matches('.').count();
    let bare = |sign: char| written.replace(sign, "");
    let behind = |sign: char| written.rsplit(sign).next().map_or(0, str::len);
    match (commas, points) {
        (1, 0) if behind(',') == 3 => Some((written.replace(',', "."), Some(bare(',')))),
        (1, 0) => Some((written.replace(',', "."), None)),
        (2.., 0) => Some((bare(','), None)),
        (_, 1) if written.rfind(',') < written.find('.') => Some((bare(','), None)),
        (1, _) if written.rfind('.') < written.find(',') => Some((bare('.').replace(',', "."), None)),
        _ => None,
    }
}
