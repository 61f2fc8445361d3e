//! Where else in the file the name under the cursor stands.

use super::names;
use crate::book::{Book, FileId};
use crate::text::Span;

#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Highlight {
    pub span: Span,
    pub kind: HighlightKind,
}

#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum HighlightKind {
    /// Where the thing is described.
    Described,
    /// Where it is named.
    Named,
}

/// The places in the file of what the name at `offset` names; empty where no name stands.
pub fn highlights(book: &Book, file: FileId, offset: u32) -> Vec<Highlight> {
    let Some(mention) = names::mention_at(book, file, offset) else { return Vec::new() };
    let same = names::mentions_of_file(book, file).into_iter().filter(|found| found.of == mention.of);
    let kind = |described| if described { HighlightKind::Described } else { HighlightKind::Named };
    same.map(|found| Highlight { span: found.span, kind: kind(found.described.is_some()) }).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ide::testing::fixture;

    #[test]
    fn a_plane_within_its_rotor() {
        let text = "rotor a {\n  plane hub {\n  }\n  plane rim {\n  }\n  correct only in: rim, hub\n  tolerance {\n    h$0ub: 3 g·mm\n  }\n}\nrotor b {\n  plane hub {\n  }\n}\n";
        let fixture = fixture(text);
        let found = highlights(&fixture.book, fixture.file, fixture.offset);
        let lines: Vec<(u32, HighlightKind)> = found
            .iter()
            .map(|found| (crate::text::LineIndex::new(fixture.text()).line_of(found.span.start), found.kind))
            .collect();
        assert_eq!(lines, [(1, HighlightKind::Described), (5, HighlightKind::Named), (7, HighlightKind::Named)]);
        assert!(found.iter().all(|found| found.span.of(fixture.text()) == "hub"));
    }
}
