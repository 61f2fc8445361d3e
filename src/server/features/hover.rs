//! `textDocument/hover`

use super::at;
use crate::book::Computing;
use crate::ide;
use crate::server::convert::plain;
use crate::server::protocol::{Hover, HoverContents, HoverParams, MarkupContent, MarkupKind};
use crate::server::snapshot::View;

pub(in crate::server) fn hover(view: &View, params: &HoverParams) -> Option<Hover> {
    let (file, offset) = at(view, &params.text_document_position_params)?;
    let hover = ide::hover(&Computing::new(file.book()), file.file, offset)?;
    let (kind, value) = match view.client.markdown_hover {
        true => (MarkupKind::Markdown, hover.markdown),
        false => (MarkupKind::PlainText, plain(&hover.markdown)),
    };
    let range = Some(file.places().range(hover.span));
    Some(Hover { contents: HoverContents::Markup(MarkupContent { kind, value }), range })
}
