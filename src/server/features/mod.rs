//! One file a request: parameters in, the answer of the book out.

pub(super) mod actions;
pub(super) mod card;
pub(super) mod completion;
pub(super) mod folding;
pub(super) mod formatting;
pub(super) mod hierarchy;
pub(super) mod hints;
pub(super) mod hover;
pub(super) mod lenses;
pub(super) mod links;
pub(super) mod moved;
pub(super) mod names;
pub(super) mod rename;
pub(super) mod selection;
pub(super) mod signature;
pub(super) mod symbols;
pub(super) mod tokens;

use super::snapshot::{FileView, View};
use crate::server::protocol::{TextDocumentPositionParams, Url};

/// The file that a request is about, and the byte it points to.
fn at<'v>(view: &'v View, params: &TextDocumentPositionParams) -> Option<(FileView<'v>, u32)> {
    let file = view.file(&params.text_document.uri)?;
    Some((file, file.places().offset(params.position)))
}

/// The file that a request is about.
fn file<'v>(view: &'v View, url: &Url) -> Option<FileView<'v>> {
    view.file(url)
}
