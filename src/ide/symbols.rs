//! Items and blocks, for outlines and for finding them by name.

use super::headline::headline;
use super::progress::Progress;
use super::results::ByBlock;
use crate::book::{self, Book, Computing, FileId, ItemId, Outcome, SourceFile};
use crate::check::Place;
use crate::sheet::Block;
use crate::syntax::Kind;
use crate::text::Span;
use crate::vocabulary::setup::Status;
use crate::vocabulary::{self, NameOf, setup};

/// An item or an inner block of a file.
#[derive(Clone, PartialEq, Debug)]
pub struct Symbol {
    /// The name of an item; kind and name of an inner block.
    pub name: String,
    pub kind: Kind,
    /// Its headline: the main facts or results.
    pub detail: Option<String>,
    /// It is no longer in use.
    pub is_obsolete: bool,
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
    /// The item that an inner block is in.
    pub container: Option<String>,
    pub place: Place,
}

/// The items of a file with the blocks in them.
pub fn symbols(computing: &Computing<'_>, file: FileId) -> Vec<Symbol> {
    let source = computing.book().file(file);
    let items = source.sheet.items.iter().enumerate().map(|(index, item)| {
        let id = ItemId { file, index: index as u32 };
        let computed = computing.item(id);
        let outline = Outline { source, results: ByBlock::of(id, item, &computed) };
        let name = item.name.as_ref().map_or_else(|| item.kind.to_string(), |name| name.text.to_string());
        let headline = Some(headline(computing.book(), &computed, None)).filter(|headline| !headline.is_empty());
        let progress = Progress::of(item, computed.effective()).map(|progress| progress.words());
        let detail = [headline, progress].into_iter().flatten().collect::<Vec<_>>().join(" · ");
        let detail = (!detail.is_empty()).then_some(detail);
        Symbol { name, detail, is_obsolete: is_withdrawn(item), ..outline.symbol(item) }
    });
    items.collect()
}

/// Whether a setup is no longer for use.
pub(super) fn is_withdrawn(item: &Block) -> bool {
    item.kind == Kind::Setup && item.choice(setup::STATUS) == Some(Status::Withdrawn)
}

struct Outline<'c> {
    source: &'c SourceFile,
    results: ByBlock<'c>,
}

impl Outline<'_> {
    fn symbol(&self, block: &Block) -> Symbol {
        Symbol {
            name: book::heading(block),
            kind: block.kind,
            detail: self.detail(block),
            is_obsolete: false,
            span: block.span,
            name_span: block.name.as_ref().map_or(block.heading, |name| name.span),
            children: block.blocks.iter().map(|inner| self.symbol(inner)).collect(),
        }
    }

    /// The headline of an inner block: the result it is there for, or else its main fact as it is written.
    fn detail(&self, block: &Block) -> Option<String> {
        if block.kind.is_item() {
            return None;
        }
        self.result(block).or_else(|| self.fact(block))
    }

    fn result(&self, block: &Block) -> Option<String> {
        let entries = self.results.entries(block);
        vocabulary::results_of(block.kind).filter(|result| result.is_headline).find_map(|result| {
            let entry = entries.iter().find(|entry| entry.is(result))?;
            match &entry.outcome {
                Outcome::Amount { base, unit, .. } => {
                    Some(format!("{} {}", result.name, book::display_value(*base, *unit, 0.0)))
                }
                _ => None,
            }
        })
    }

    fn fact(&self, block: &Block) -> Option<String> {
        let mut main = block.spec().keys.iter().filter(|key| key.is_headline);
        let field = main.find_map(|key| block.fields.iter().find(|field| std::ptr::eq(field.key, key)))?;
        let written = field.value_span.of(&self.source.text);
        (!field.value.is_hole()).then(|| format!("{} {written}", field.key.name))
    }
}

/// Items and named blocks whose name fits `query`, at most `most`; every item when it is empty. Names that begin with
/// the query come first, then those that hold it, then those that hold its letters in their order.
pub fn book_symbols(book: &Book, query: &str, most: usize) -> Vec<BookSymbol> {
    let query = query.trim().to_lowercase();
    let mut found: Vec<(u8, BookSymbol)> = Vec::new();
    for id in book.items() {
        let item = book.item(id);
        push(&mut found, &query, item, id, None);
        if !query.is_empty() {
            inner(&mut found, &query, item, item, id);
        }
    }
    found.sort_by_key(|(fit, _)| *fit);
    found.truncate(most);
    found.into_iter().map(|(_, symbol)| symbol).collect()
}

fn inner(found: &mut Vec<(u8, BookSymbol)>, query: &str, item: &Block, block: &Block, id: ItemId) {
    for inner_block in &block.blocks {
        if inner_block.spec().name == Some(NameOf::Own) {
            push(found, query, inner_block, id, Some(book::heading(item)));
        }
        inner(found, query, item, inner_block, id);
    }
}

fn push(found: &mut Vec<(u8, BookSymbol)>, query: &str, block: &Block, id: ItemId, container: Option<String>) {
    let Some(name) = &block.name else { return };
    let Some(fit) = fit(&name.text.to_lowercase(), query) else { return };
    let place = Place { file: id.file, span: name.span };
    found.push((fit, BookSymbol { name: name.text.to_string(), kind: block.kind, container, place }));
}

/// How well a name fits; lower is better.
fn fit(name: &str, query: &str) -> Option<u8> {
    if name.starts_with(query) {
        return Some(0);
    }
    if name.contains(query) {
        return Some(1);
    }
    if query.split_whitespace().all(|word| name.contains(word)) {
        return Some(2);
    }
    let mut rest = name.chars();
    query.chars().filter(|c| !c.is_whitespace()).all(|wanted| rest.any(|c| c == wanted)).then_some(3)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ide::testing::{SETUP, SHOP, fixture};

    fn written(symbols: &[Symbol], indent: usize, out: &mut String) {
        for symbol in symbols {
            let detail = symbol.detail.as_ref().map(|detail| format!(": {detail}")).unwrap_or_default();
            out.push_str(&format!("{}{}{detail}\n", "  ".repeat(indent), symbol.name));
            written(&symbol.children, indent + 1, out);
        }
    }

    fn outline(text: &str) -> String {
        let fixture = fixture(text);
        let mut out = String::new();
        written(&symbols(&Computing::new(&fixture.book), fixture.file), 0, &mut out);
        out
    }

    #[test]
    fn an_outline_carries_the_headline_results() {
        let expected = "wheel: 4 kg, permissible 80.0 g·mm\n  plane hub: tolerance 40.0 g·mm\n  plane outer rim: tolerance 40.0 g·mm\n  tolerance: permissible unbalance 80.0 g·mm\n";
        assert_eq!(outline(SHOP), expected);
        let block = "  calibrate hub {\n    mass: 4 g ± 0 g\n    radius: 100 mm ± 0 mm\n  }\n  calibrate \"outer rim\" {\n    mass: 4 g\n    reading: 12 div\n  }\n  trial x {\n    mass in: hub\n  }\n}\n";
        let found = outline(&format!("{SHOP}{SETUP}{block}"));
        assert!(found.contains("\n  calibrate hub: reading 10.0 div\n"), "{found}");
        // 12 div · 40 g·mm ÷ 4 g.
        assert!(found.contains("\n  calibrate outer rim: radius 120 mm\n  trial x: mass in hub\n"), "{found}");
    }

    #[test]
    fn a_hole_leaves_the_headline_out() {
        assert_eq!(outline("rotor a {\n  plane hub {\n    at: 3O mm\n  }\n"), "a\n  plane hub\n");
    }

    #[test]
    fn items_and_blocks_are_found_by_parts_of_their_names() {
        let book = fixture(&format!("{SHOP}{SETUP}}}\n")).book;
        let names = |query: &str| -> Vec<String> {
            book_symbols(&book, query, 10).into_iter().map(|symbol| symbol.name).collect()
        };
        assert_eq!(names("wheel"), ["wheel", "wheel on the soft bench"]);
        assert_eq!(names("bench soft"), ["soft bench", "wheel on the soft bench"]);
        assert_eq!(names("outrm"), ["outer rim"]);
        assert_eq!(names("zz"), Vec::<String>::new());
        assert_eq!(names("").len(), 5);
        assert_eq!(book_symbols(&book, "rim", 1)[0].container.as_deref(), Some("rotor wheel"));
    }
}
