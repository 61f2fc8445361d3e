//! What a request is given when it arrives: its place in the order of things.
//!
//! The transport runs handlers when it pleases. So that each sees the state at its own turn, the desk is asked on
//! arrival, and the handler finds the answer in its ticket.

use std::cell::Cell;
use std::sync::Arc;

use tokio::sync::oneshot::Receiver;
use tokio::task::spawn_blocking;
use tokio::task_local;
use tower_lsp::jsonrpc::{Error, ErrorCode, Result};
use tower_lsp::lsp_types::Url;

use super::desk::{Pulled, Superseded};
use super::snapshot::View;

task_local! {
    static TICKET: Cell<Option<Ticket>>;
}

/// What the desk will answer with.
pub(super) enum Ticket {
    State(Receiver<std::result::Result<Arc<View>, Superseded>>),
    Diagnostics(Receiver<std::result::Result<Pulled, Superseded>>),
    AllDiagnostics(Receiver<Vec<(Url, Option<i32>, Pulled)>>),
}

/// Runs a handler that holds a ticket.
pub(super) async fn holding<F: Future>(ticket: Ticket, handler: F) -> F::Output {
    TICKET.scope(Cell::new(Some(ticket)), handler).await
}

/// Works with the state at the turn of the request, on a thread where it may take its time.
pub(super) async fn with_state<R: Send + 'static>(work: impl FnOnce(&View) -> R + Send + 'static) -> Result<R> {
    let Some(Ticket::State(answer)) = TICKET.with(Cell::take) else { return Err(Error::internal_error()) };
    let view = answer.await.map_err(|_| gone())?.map_err(superseded)?;
    spawn_blocking(move || work(&view)).await.map_err(|_| Error::internal_error())
}

/// The diagnostics of the document that the request is about.
pub(super) async fn diagnostics() -> Result<Pulled> {
    let Some(Ticket::Diagnostics(answer)) = TICKET.with(Cell::take) else { return Err(Error::internal_error()) };
    answer.await.map_err(|_| gone())?.map_err(superseded)
}

/// The diagnostics that the client does not know, once there are some.
pub(super) async fn all_diagnostics() -> Result<Vec<(Url, Option<i32>, Pulled)>> {
    let Some(Ticket::AllDiagnostics(answer)) = TICKET.with(Cell::take) else { return Err(Error::internal_error()) };
    answer.await.map_err(|_| gone())
}

fn superseded(_: Superseded) -> Error {
    Error::new(ErrorCode::ContentModified)
}

/// The session is over, or the desk had to give the work up.
fn gone() -> Error {
    Error::internal_error()
}
