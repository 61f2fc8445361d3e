//! One line in its canonical form.

use super::value;
use crate::syntax::{Head, Line, LineKind, Open};
use crate::text::Span;

/// A line without the blanks before it.
pub(super) fn content(text: &str, line: &Line) -> Span {
    let written = line.span.of(text);
    let start = line.span.start + (written.len() - written.trim_start_matches([' ', '\t']).len()) as u32;
    Span::new(start, line.span.end)
}

/// The line's content as it should be; `None` when it is to be left as it is.
pub(super) fn canonical(text: &str, line: &Line) -> Option<String> {
    let mut out = match &line.kind {
        LineKind::Open(open) => heading(text, open),
        LineKind::Close(_) => "}".to_owned(),
        LineKind::Fact(fact) => format!("{}: {}", head(text, &fact.head), value::canonical(text, &fact.value)?),
        LineKind::Pin(pin) => format!("{} => {}", head(text, &pin.head), value::canonical(text, &pin.value)?),
        LineKind::Comment => String::new(),
        LineKind::Blank | LineKind::Unfinished(_) | LineKind::Junk | LineKind::Conflict => return None,
    };
    if let Some(comment) = line.comment {
        out.push_str(if out.is_empty() { "" } else { " " });
        out.push_str(comment.of(text).trim_end_matches([' ', '\t']));
    }
    Some(out)
}

fn heading(text: &str, open: &Open) -> String {
    let name = open.name.as_ref().map(|name| {
        format!(" {}", if name.quoted { name.span.of(text).to_owned() } else { value::spaced(&name.text) })
    });
    format!("{}{} {{", open.kind, name.unwrap_or_default())
}

fn head(text: &str, head: &Head) -> String {
    let words = head.words.map(|words| value::spaced(words.of(text)));
    let name = head.name.as_ref().map(|name| name.span.of(text).to_owned());
    [words, name].into_iter().flatten().collect::<Vec<_>>().join(" ")
}
