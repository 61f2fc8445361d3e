//! `textDocument/documentLink`

use super::file;
use crate::ide;
use crate::server::protocol::{DocumentLink, DocumentLinkParams, Url};
use crate::server::snapshot::{BookKey, View};

pub(in crate::server) fn links(view: &View, params: &DocumentLinkParams) -> Option<Vec<DocumentLink>> {
    let file = file(view, &params.text_document.uri)?;
    let places = file.places();
    let addresses = ide::addresses(file.book().file(file.file)).into_iter().filter_map(|(span, address)| {
        let target = Some(Url::parse(address).ok()?);
        Some(DocumentLink { range: places.range(span), target, tooltip: None, data: None })
    });
    let mut all: Vec<DocumentLink> = addresses.collect();
    let (BookKey::Folder(_) | BookKey::File(_)) = &file.in_book.key else { return Some(all) };
    let root = file.in_book.key.root();
    let is_there = |path: &str| root.join(path).is_file();
    let found = ide::links(file.book().file(file.file), &is_there).into_iter().map(|link| DocumentLink {
        range: places.range(link.span),
        target: Url::from_file_path(root.join(&link.path)).ok(),
        tooltip: None,
        data: None,
    });
    all.extend(found);
    Some(all)
}
