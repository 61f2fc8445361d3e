use crate::check::slip::shown;
use crate::check::{Draft, FileEdit, Slip};
use crate::text::{Edit, Span};

pub(super) fn say(slip: &Slip<'_>) -> Draft {
    if slip.edit().is_some() {
        return slip.say("a value is missing at this comma", "or write the value that belongs there");
    }
    let head = slip.line().trim_end_matches([':', '=', '>', ' ', '\t']);
    let found = slip.shown();
    let message = match found.is_empty() {
        true => format!("`{}` has no value", shown(head)),
        false => format!("`{found}` is not a value"),
    };
    let help = match slip.wanted() {
        Some(wanted) => format!("{wanted}; while it is not known, write `?`"),
        None => "while the value is not known, write `?`".to_owned(),
    };
    if !found.is_empty() {
        return slip.context().draft(slip.span(), message).help(help);
    }
    // There is nothing to point at where nothing stands.
    let place = slip.from_line_start();
    let written = place.of(slip.text()).trim_end();
    let edit = Edit::replace(Span::new(place.start + written.len() as u32, place.end), " ?");
    let title = format!("Write `{} ?`", shown(written.trim_start()));
    let file = slip.context().file;
    slip.context().draft(place, message).help(help).choice(title, vec![FileEdit { file, edit }])
}
