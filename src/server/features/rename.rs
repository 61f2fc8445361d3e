//! `textDocument/rename`, and whether it can be done.

use super::at;
use crate::ide::{self, Refused};
use crate::server::convert;
use crate::server::protocol::jsonrpc::{Error, ErrorCode, Result};
use crate::server::protocol::{PrepareRenameResponse, RenameParams, TextDocumentPositionParams, WorkspaceEdit};
use crate::server::snapshot::View;

pub(in crate::server) fn prepare(
    view: &View,
    params: &TextDocumentPositionParams,
) -> Result<Option<PrepareRenameResponse>> {
    let Some((file, offset)) = at(view, params) else { return Ok(None) };
    let found = ide::prepare_rename(file.book(), file.file, offset).map_err(refused)?;
    let range = file.places().range(found.span);
    Ok(Some(PrepareRenameResponse::RangeWithPlaceholder { range, placeholder: found.name }))
}

pub(in crate::server) fn rename(view: &View, params: &RenameParams) -> Result<Option<WorkspaceEdit>> {
    let Some((file, offset)) = at(view, &params.text_document_position) else { return Ok(None) };
    let edits = ide::rename(file.book(), file.file, offset, &params.new_name).map_err(refused)?;
    Ok(convert::workspace_edit(file, &edits))
}

/// The request makes no sense here; the editor shows why.
fn refused(refused: Refused) -> Error {
    Error { code: ErrorCode::ServerError(-32803), message: refused.0.into(), data: None }
}
