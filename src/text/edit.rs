//! Changes of a text.

use super::Span;

/// Replace the bytes of `span` by `text`; an empty span inserts.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Edit {
    pub span: Span,
    pub text: String,
}

impl Edit {
    pub fn replace(span: Span, text: impl Into<String>) -> Self {
        Self { span, text: text.into() }
    }

    pub fn insert(at: u32, text: impl Into<String>) -> Self {
        Self::replace(Span::at(at), text)
    }

    pub fn delete(span: Span) -> Self {
        Self::replace(span, "")
    }
}

/// Two edits claim the same bytes, so that their order would decide the outcome.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct OverlappingEdits(pub Span, pub Span);

/// Applies edits that all speak of `text` as it stands; they may come in any order.
pub fn apply(text: &str, edits: &[Edit]) -> Result<String, OverlappingEdits> {
    let mut sorted: Vec<&Edit> = edits.iter().collect();
    sorted.sort_by_key(|edit| (edit.span.start, edit.span.end));
    let mut out = String::with_capacity(text.len());
    let mut done = 0usize;
    let mut last = Span::at(0);
    for edit in sorted {
        if (edit.span.start as usize) < done {
            return Err(OverlappingEdits(last, edit.span));
        }
        out.push_str(&text[done..edit.span.start as usize]);
        out.push_str(&edit.text);
        done = edit.span.end as usize;
        last = edit.span;
    }
    out.push_str(&text[done..]);
    Ok(out)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn edits_apply_in_any_order() {
        let edits = [Edit::replace(Span::new(6, 9), "rim"), Edit::insert(0, "# "), Edit::delete(Span::new(5, 6))];
        assert_eq!(apply("plane hub", &edits).unwrap(), "# planerim");
    }

    #[test]
    fn overlapping_edits_are_refused() {
        let edits = [Edit::delete(Span::new(0, 3)), Edit::delete(Span::new(2, 4))];
        assert!(apply("plane", &edits).is_err());
    }
}
