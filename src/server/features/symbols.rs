//! Outlines, and items by name.

use super::file;
use crate::book::{Computing, FileId};
use crate::ide::{self, Symbol};
use crate::server::convert::{Elsewhere, Places};
use crate::server::protocol::{
    DocumentSymbol, DocumentSymbolParams, DocumentSymbolResponse, Location, SymbolInformation, SymbolKind, SymbolTag,
    WorkspaceSymbolParams,
};
use crate::server::snapshot::{FileView, View};
use crate::syntax::Kind;

/// Symbols that a list of an editor can make use of.
const MOST: usize = 512;

pub(in crate::server) fn of_document(view: &View, params: &DocumentSymbolParams) -> Option<DocumentSymbolResponse> {
    let url = &params.text_document.uri;
    let file = file(view, url)?;
    let places = file.places();
    let mut found = ide::symbols(&Computing::new(file.book()), file.file);
    found.iter_mut().for_each(|symbol| symbol.is_obsolete &= view.client.tags.symbols);
    Some(match view.client.nested_symbols {
        true => DocumentSymbolResponse::Nested(found.into_iter().map(|symbol| nested(symbol, &places)).collect()),
        false => {
            let mut flat = Vec::new();
            for symbol in found {
                flatten(symbol, None, &mut |symbol, container| {
                    let location = Location::new(url.clone(), places.range(symbol.name_span));
                    flat.push(information(symbol.name.clone(), symbol.kind, location, container));
                });
            }
            DocumentSymbolResponse::Flat(flat)
        }
    })
}

#[allow(deprecated, reason = "the protocol's struct has no other form")]
fn nested(symbol: Symbol, places: &Places<'_>) -> DocumentSymbol {
    let children: Vec<DocumentSymbol> = symbol.children.into_iter().map(|child| nested(child, places)).collect();
    DocumentSymbol {
        name: if symbol.name.is_empty() { symbol.kind.to_string() } else { symbol.name },
        detail: symbol.detail,
        kind: kind(symbol.kind),
        tags: symbol.is_obsolete.then(|| vec![SymbolTag::DEPRECATED]),
        deprecated: None,
        range: places.range(symbol.span),
        selection_range: places.range(symbol.name_span),
        children: Some(children),
    }
}

fn flatten(symbol: Symbol, container: Option<String>, each: &mut dyn FnMut(&Symbol, Option<String>)) {
    each(&symbol, container);
    for child in symbol.children {
        flatten(child, Some(symbol.name.clone()), each);
    }
}

pub(in crate::server) fn of_books(view: &View, params: &WorkspaceSymbolParams) -> Option<Vec<SymbolInformation>> {
    let mut symbols = Vec::new();
    for in_book in &view.books {
        let left = MOST - symbols.len();
        let locator = FileView { view, in_book, file: FileId(0) }.locator();
        for found in ide::book_symbols(&in_book.book, &params.query, left) {
            let Some(location) = locator.location(found.place) else { continue };
            symbols.push(information(found.name, found.kind, location, found.container));
        }
    }
    Some(symbols)
}

#[allow(deprecated, reason = "the protocol's struct has no other form")]
fn information(name: String, of: Kind, location: Location, container_name: Option<String>) -> SymbolInformation {
    SymbolInformation { name, kind: kind(of), tags: None, deprecated: None, location, container_name }
}

/// The protocol has no words of the bench; these have pictures that can be told apart.
pub(super) fn kind(kind: Kind) -> SymbolKind {
    match kind {
        Kind::Rotor => SymbolKind::CLASS,
        Kind::Setup => SymbolKind::FUNCTION,
        Kind::Machine => SymbolKind::MODULE,
        Kind::Record => SymbolKind::EVENT,
        Kind::Shop => SymbolKind::NAMESPACE,
        Kind::Material => SymbolKind::CONSTANT,
        Kind::Masses => SymbolKind::ARRAY,
        Kind::Arbor => SymbolKind::STRUCT,
        Kind::Plane | Kind::Control | Kind::Instrument => SymbolKind::FIELD,
        _ => SymbolKind::OBJECT,
    }
}
