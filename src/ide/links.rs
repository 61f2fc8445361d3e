//! Texts that name a file of the book's folder.

use crate::book::SourceFile;
use crate::sheet::{Block, Field, FieldValue};
use crate::text::Span;

/// A text that is the path of a file.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct DocumentLink {
    /// Without the quotes.
    pub span: Span,
    /// Relative to the book, with `/`.
    pub path: String,
}

/// The texts of a file that are paths: of drawings, photographs, cards. `is_there` says whether the book's folder has a
/// file at a path; a path counts from the folder of the sheet, or from that of the book.
pub fn links(source: &SourceFile, is_there: &dyn Fn(&str) -> bool) -> Vec<DocumentLink> {
    let mut links = Vec::new();
    for item in &source.sheet.items {
        of_block(source, item, is_there, &mut links);
    }
    links.sort_by_key(|link| link.span);
    links
}

fn of_block(source: &SourceFile, block: &Block, is_there: &dyn Fn(&str) -> bool, links: &mut Vec<DocumentLink>) {
    links.extend(block.fields.iter().filter_map(|field| link(source, field, is_there)));
    block.blocks.iter().for_each(|inner| of_block(source, inner, is_there, links));
}

fn link(source: &SourceFile, field: &Field, is_there: &dyn Fn(&str) -> bool) -> Option<DocumentLink> {
    let FieldValue::Text(text) = &field.value else { return None };
    // A path within the folder has an ending; words and sentences are not asked about.
    let like_a_path = text.rsplit(['/', '\\']).next().is_some_and(|name| name.contains('.'));
    if !like_a_path || text.starts_with(['/', '\\']) || text.contains("://") {
        return None;
    }
    let written = text.replace('\\', "/");
    let folder = source.path.rsplit_once('/').map_or("", |(folder, _)| folder);
    let found = [joined(folder, &written), joined("", &written)].into_iter().flatten().find(|path| is_there(path));
    found.map(|path| DocumentLink { span: without_quotes(field), path })
}

/// The texts of a file that are addresses, with where they stand.
pub fn addresses(source: &SourceFile) -> Vec<(Span, &str)> {
    let mut found = Vec::new();
    source.sheet.items.iter().for_each(|item| addresses_in(item, &mut found));
    found
}

fn addresses_in<'b>(block: &'b Block, found: &mut Vec<(Span, &'b str)>) {
    for field in &block.fields {
        if let FieldValue::Text(text) = &field.value
            && text.starts_with("https://")
            && !text.contains(char::is_whitespace)
        {
            found.push((without_quotes(field), text));
        }
    }
    block.blocks.iter().for_each(|inner| addresses_in(inner, found));
}

fn without_quotes(field: &Field) -> Span {
    let start = field.value_span.start + 1;
    Span::new(start, field.value_span.end.max(start + 1) - 1)
}

/// A path below the book; `None` when it would lead out of it.
pub(super) fn joined(folder: &str, path: &str) -> Option<String> {
    let mut parts: Vec<&str> = folder.split('/').filter(|part| !part.is_empty()).collect();
    for part in path.split('/') {
        match part {
            "" | "." => {}
            ".." => {
                parts.pop()?;
            }
            part => parts.push(part),
        }
    }
    Some(parts.join("/"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_drawing_that_is_there_is_linked() {
        let text = "rotor a {\n  drawing: \"../drawings/TQ-315.pdf\"\n  note: \"see drawings/TQ-315.pdf.\"\n  datum: \"drawings/other.pdf\"\n}\n";
        let source = SourceFile::read("rotors/a.rotor", text);
        let found = links(&source, &|path| path == "drawings/TQ-315.pdf");
        assert_eq!(found.len(), 1);
        assert_eq!((found[0].span.of(text), &*found[0].path), ("../drawings/TQ-315.pdf", "drawings/TQ-315.pdf"));
    }

    #[test]
    fn an_address_is_linked() {
        let text = "rotor a {\n  drawing: \"https://tern-quay.example/TQ-315\"\n  note: \"see https://tern-quay.example\"\n}\n";
        let source = SourceFile::read("rotors/a.rotor", text);
        let address = "https://tern-quay.example/TQ-315";
        let found = addresses(&source);
        assert_eq!(found.iter().map(|(span, to)| (span.of(text), *to)).collect::<Vec<_>>(), [(address, address)]);
    }

    #[test]
    fn a_path_may_count_from_the_book_and_never_leads_out_of_it() {
        let text = "rotor a {\n  drawing: \"drawings/a.pdf\"\n  datum: \"../../etc/b.pdf\"\n}\n";
        let source = SourceFile::read("rotors/a.rotor", text);
        let found = links(&source, &|path| path != "rotors/drawings/a.pdf");
        let paths: Vec<&str> = found.iter().map(|link| &*link.path).collect();
        assert_eq!(paths, ["drawings/a.pdf"]);
    }
}
