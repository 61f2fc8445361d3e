//! The one layout: of a document, of some lines, of the line just typed.

use super::{at, file};
use crate::ide;
use crate::server::protocol::{
    DocumentFormattingParams, DocumentOnTypeFormattingParams, DocumentRangeFormattingParams, TextEdit,
};
use crate::server::snapshot::View;

pub(in crate::server) fn document(view: &View, params: &DocumentFormattingParams) -> Option<Vec<TextEdit>> {
    let file = file(view, &params.text_document.uri)?;
    Some(file.places().edits(&ide::format(file.book().file(file.file))))
}

pub(in crate::server) fn range(view: &View, params: &DocumentRangeFormattingParams) -> Option<Vec<TextEdit>> {
    let file = file(view, &params.text_document.uri)?;
    let places = file.places();
    Some(places.edits(&ide::format_range(file.book().file(file.file), places.span(params.range))))
}

pub(in crate::server) fn on_type(view: &View, params: &DocumentOnTypeFormattingParams) -> Option<Vec<TextEdit>> {
    let (file, offset) = at(view, &params.text_document_position)?;
    let typed = params.ch.chars().next()?;
    Some(file.places().edits(&ide::format_on_type(file.book().file(file.file), offset, typed)))
}
