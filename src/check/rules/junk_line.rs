use crate::check::{Draft, Rule, Run, Severity, Lapse};
use crate::syntax::{Kind, SyntaxErrorKind};
use crate::text::{Edit, Span};

pub static RULE: Rule = Rule {
    code: "junk-line",
    severity: Severity::Error,
    title: "A line is none of the forms that the format knows",
    page: include_str!("junk_line.md"),
    run: Run::Syntax(SyntaxErrorKind::JunkLine, say),
};

/// What other notations begin a remark with.
const REMARKS: [&str; 8] = ["//", "/*", "--", ";", "%", "'", "!", "==="];

fn say(lapse: &Lapse<'_>) -> Draft {
    let found = lapse.found();
    let message = format!("`{}` is no fact, no result and no block", lapse.shown());
    if let Some(edit) = colon_in_place(lapse) {
        return lapse.say_with(message, "a colon stands behind the name of a fact", edit);
    }
    if let Some(heading) = heading_in_brackets(found) {
        return lapse.draft(message).help(format!("write `{heading} {{`, its facts below and `}}` on a line of its own"));
    }
    let remark = REMARKS.iter().find_map(|marker| found.strip_prefix(marker));
    if remark.is_none() && found.contains(|c: char| c.is_ascii_digit() || "[]{}()<>".contains(c)) {
        return lapse.draft(message).help(FORMS);
    }
    let words = remark.map(|remark| remark.trim_end_matches("*/").trim()).filter(|words| words.contains(char::is_alphabetic));
    let edit = Edit::replace(lapse.span(), format!("# {}", words.unwrap_or(found)));
    lapse.offer(lapse.draft(message).help("a remark begins with `#`"), edit)
}

/// `[rotor fan]`
fn heading_in_brackets(found: &str) -> Option<&str> {
    let inside = found.trim_matches(['[', ']', '<', '>', '(', ')', '=', ' ']);
    let kind = Kind::ALL.into_iter().any(|kind| inside.strip_prefix(kind.words()).is_some_and(|rest| rest.starts_with(' ')));
    (kind && inside.len() < found.len()).then_some(inside)
}

/// `mass; 3 g`
fn colon_in_place(lapse: &Lapse<'_>) -> Option<Edit> {
    let name = lapse.found().split(';').next()?;
    lapse.block()?.spec().key(name)?;
    let sign = lapse.span().start + name.len() as u32;
    (name.len() < lapse.found().len()).then(|| Edit::replace(Span::new(sign, sign + 1), ":"))
}

const FORMS: &str = "a fact is written `mass: 4.82 kg`, a result to be checked `mass => 4.82 kg`, a block `plane hub {` … `}`, \
     and a remark begins with `#`";
