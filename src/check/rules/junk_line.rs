use crate::check::{Draft, Slip};
use crate::syntax::Kind;
use crate::text::{Edit, Span};

/// What other notations begin a remark with.
const REMARKS: [&str; 8] = ["//", "/*", "--", ";", "%", "'", "!", "==="];

pub(super) fn say(slip: &Slip<'_>) -> Draft {
    let found = slip.found();
    let message = format!("`{}` is not a fact, a result or a block", slip.shown());
    if let Some(edit) = colon_in_place(slip) {
        return slip.say_with(message, "a colon comes after the name of a fact", edit);
    }
    if let Some(heading) = heading_in_brackets(found) {
        return slip
            .draft(message)
            .help(format!("write `{heading} {{`, its facts below and `}}` on a line of its own"));
    }
    let remark = REMARKS.iter().find_map(|marker| found.strip_prefix(marker));
    if remark.is_none() && found.contains(|c: char| c.is_ascii_digit() || "[]{}()<>".contains(c)) {
        return slip.draft(message).help(FORMS);
    }
    let words =
        remark.map(|remark| remark.trim_end_matches("*/").trim()).filter(|words| words.contains(char::is_alphabetic));
    let edit = Edit::replace(slip.span(), format!("# {}", words.unwrap_or(found)));
    slip.offer(slip.draft(message).help("a remark begins with `#`"), edit)
}

/// `[rotor fan]`
fn heading_in_brackets(found: &str) -> Option<&str> {
    let inside = found.trim_matches(['[', ']', '<', '>', '(', ')', '=', ' ']);
    let kind =
        Kind::ALL.into_iter().any(|kind| inside.strip_prefix(kind.words()).is_some_and(|rest| rest.starts_with(' ')));
    (kind && inside.len() < found.len()).then_some(inside)
}

/// `mass; 3 g`
fn colon_in_place(slip: &Slip<'_>) -> Option<Edit> {
    let name = slip.found().split(';').next()?;
    slip.block()?.spec().key(name)?;
    let sign = slip.span().start + name.len() as u32;
    (name.len() < slip.found().len()).then(|| Edit::replace(Span::new(sign, sign + 1), ":"))
}

const FORMS: &str = "a fact is written `mass: 4.82 kg`, a result to be checked `mass => 4.82 kg`, a block `plane hub {` … `}`, \
     and a remark begins with `#`";
