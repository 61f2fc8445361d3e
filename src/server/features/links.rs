//! `textDocument/documentLink`

use super::file;
use crate::ide;
use crate::server::protocol::{DocumentLink, DocumentLinkParams, Url};
use crate::server::snapshot::{BookKey, View};

pub(in crate::server) fn links(view: &View, params: &DocumentLinkParams) -> Option<Vec<DocumentLink>> {
    let file = file(view, &params.text_document.uri)?;
    let (BookKey::Folder(_) | BookKey::File(_)) = &file.in_book.key else { return Some(Vec::new()) };
    let root = file.in_book.key.root();
    let is_there = |path: &str| root.join(path).is_file();
    let places = file.places();
    let found = ide::links(file.book().file(file.file), &is_there).into_iter().map(|link| DocumentLink {
        range: places.range(link.span),
        target: Url::from_file_path(root.join(&link.path)).ok(),
        tooltip: None,
        data: None,
    });
    Some(found.collect())
}
