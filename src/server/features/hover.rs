//! `textDocument/hover`

use super::actions::said;
use super::at;
use crate::book::Computing;
use crate::ide;
use crate::server::convert::plain;
use crate::server::protocol::{Hover, HoverContents, HoverParams, MarkupContent, MarkupKind};
use crate::server::snapshot::{FileView, View};

pub(in crate::server) fn hover(view: &View, params: &HoverParams) -> Option<Hover> {
    let (file, offset) = at(view, &params.text_document_position_params)?;
    let shown = ide::hover(&Computing::new(file.book()), file.file, offset);
    // Who cannot open the page of what is said here reads it below.
    let hover = match view.client.opens_page {
        true => shown?,
        false => with_page(file, offset, shown)?,
    };
    let hover = match file.moves().and_then(|moves| ide::consequences_here(file.book(), file.file, offset, moves)) {
        Some(moved) => ide::Hover { markdown: format!("{}\n\n---\n\n{moved}", hover.markdown), ..hover },
        None => hover,
    };
    let (kind, value) = match view.client.markdown_hover {
        true => (MarkupKind::Markdown, hover.markdown),
        false => (MarkupKind::PlainText, plain(&hover.markdown)),
    };
    let range = Some(file.places().range(hover.span));
    Some(Hover { contents: HoverContents::Markup(MarkupContent { kind, value }), range })
}

fn with_page(file: FileView<'_>, offset: u32, shown: Option<ide::Hover>) -> Option<ide::Hover> {
    let diagnostics = said(file);
    let Some(said) = ide::said_at(&diagnostics, file.file, offset) else { return shown };
    let page = ide::page(said.rule.code)?;
    Some(match shown {
        Some(shown) => ide::Hover { markdown: format!("{}\n\n---\n\n{page}", shown.markdown), ..shown },
        None => ide::Hover { span: said.place.span, markdown: page },
    })
}
