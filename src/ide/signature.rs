//! How a value of several parts is written, and which part is being written.

use super::hover::of_key;
use super::place::{self, Place};
use crate::book::{Book, FileId};
use crate::syntax::LineKind;
use crate::text::Span;
use crate::vocabulary::{self, Form, KeySpec};

/// The ways to write the value at a place.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Signature {
    pub forms: Vec<Written>,
    /// The way that fits what is there so far.
    pub form: usize,
    /// The part of it that the cursor is in.
    pub part: usize,
    /// What the fact means, as Markdown.
    pub about: String,
}

/// One way to write it.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Written {
    /// `mass: amount at place`
    pub label: String,
    /// Where each part is named in the label, and what it is.
    pub parts: Vec<(Span, &'static str)>,
}

/// How the value that the cursor is in is written; `None` where it has but one part.
pub fn signature(book: &Book, file: FileId, offset: u32) -> Option<Signature> {
    let place = Place::at(book, file, offset)?;
    let LineKind::Fact(fact) = &place.line.kind else { return None };
    let spec = vocabulary::block(place.around()?.last()?.kind);
    let key = place::expected(place.source, spec, &fact.head)?.key;
    let line = place.line.span;
    let code_end = place.line.comment.map_or(line.end, |comment| comment.start);
    let behind_head = place.text(Span::new(fact.head.span.end, code_end));
    let start = fact.head.span.end + behind_head.find(':')? as u32 + 1;
    if offset < start || offset > code_end || key.value.forms().is_empty() {
        return None;
    }
    let before = place.text(Span::new(start, offset)).trim_start();
    let before = match key.value.is_list() {
        true => before.rsplit(", ").next().unwrap_or_default(),
        false => before,
    };
    let forms = key.value.forms();
    let form = best(forms, before);
    Some(Signature {
        forms: forms.iter().map(|form| written(place.text(fact.head.span), form, key)).collect(),
        form,
        part: part(&forms[form], before),
        about: of_key(spec, key),
    })
}

fn written(head: &str, form: &Form, key: &KeySpec) -> Written {
    let mut label = format!("{}: ", place::collapsed(head));
    let mut parts = Vec::new();
    for part in form.parts {
        label.push_str(part.before);
        let start = label.len() as u32;
        label.push_str(part.name);
        parts.push((Span::new(start, label.len() as u32), part.meaning));
    }
    if key.value.is_list() {
        label.push_str(", …");
    }
    Written { label, parts }
}

/// The way that most of what stands there fits; the first of those that fit alike.
fn best(forms: &[Form], before: &str) -> usize {
    let fit = |form: &Form| {
        let begins = form.parts.first().map_or("", |part| part.before).trim_end();
        let is_begun = !begins.is_empty() && before.starts_with(begins);
        let is_other = !begins.is_empty() && !is_begun;
        let joiners = form.parts.iter().skip(1).filter(|part| before.contains(part.before)).count();
        let percent = before.trim_end().ends_with('%') && form.parts.len() == 1 && begins.is_empty();
        (!is_other, is_begun, joiners + usize::from(percent))
    };
    let most = forms.iter().map(fit).max();
    forms.iter().position(|form| Some(fit(form)) == most).unwrap_or(0)
}

/// The part that is written after the last joiner.
fn part(form: &Form, before: &str) -> usize {
    let mut rest = before;
    let mut at = 0;
    for (n, part) in form.parts.iter().enumerate().skip(1) {
        if let Some(found) = rest.find(part.before) {
            rest = &rest[found + part.before.len()..];
            at = n;
        }
    }
    at
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ide::testing::fixture;

    /// The label that fits, with the part in brackets that is being written.
    fn shown(text: &str) -> Option<String> {
        let fixture = fixture(text);
        let signature = signature(&fixture.book, fixture.file, fixture.offset)?;
        let written = &signature.forms[signature.form];
        let (span, _) = written.parts[signature.part];
        let (before, after) = (&written.label[..span.start as usize], &written.label[span.end as usize..]);
        Some(format!("{before}[{}]{after}", span.of(&written.label)))
    }

    fn in_rotor(line: &str) -> Option<String> {
        shown(&format!("rotor a {{\n  {line}\n}}\n"))
    }

    #[test]
    fn the_part_that_is_being_written_is_told() {
        for (line, expected) in [
            ("weighed: $0", "weighed: [mass] at place, mass at place"),
            ("weighed: 10.1 kg at $0", "weighed: mass at [place], mass at place"),
            ("weighed: 10.1 kg at 30 mm, $0", "weighed: mass at place, [mass] at place"),
            ("weighed: 10.1 kg at 30 mm, 8.5 kg at 5$0", "weighed: mass at place, mass at [place]"),
            ("highest service speed: 3$0", "highest service speed: [amount]"),
            ("highest service speed: 300 rpm to $0", "highest service speed: low to [high]"),
            ("highest service speed: up to $0", "highest service speed: up to [high]"),
            ("highest service speed: from 3$0", "highest service speed: from [low]"),
            ("bearings: 0 mm, 1$0", "bearings: first, [second]"),
        ] {
            assert_eq!(in_rotor(line).as_deref(), Some(expected), "{line}");
        }
        let reading = shown("record r {\n  run x {\n    reading left: 2.1 mark on fine @ $0\n  }\n}\n");
        assert_eq!(reading.as_deref(), Some("reading left: amount on scale @ [angle]"));
        let barred = shown("rotor a {\n  plane p {\n    barred: 10 deg to 20 deg, 30 deg to $0\n  }\n}\n");
        assert_eq!(barred.as_deref(), Some("barred: low to [high], …"));
    }

    #[test]
    fn what_has_one_part_needs_none() {
        for line in ["mass: $0", "drawing: \"a, b$0\"", "we$0ighed: 3 kg", "weighed: 3 kg # at $0"] {
            assert_eq!(in_rotor(line), None, "{line}");
        }
    }
}
