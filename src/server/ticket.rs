//! What a request is given when it arrives: its place in the order of things.
//!
//! The transport runs handlers when it pleases. So that each sees the state at its own turn, the desk is asked on
//! arrival, and the handler finds the answer in its ticket.

use std::cell::{Cell, RefCell};
use std::sync::{Arc, Weak};

use tokio::sync::oneshot::Receiver;
use tokio::task::spawn_blocking;
use tokio::task_local;

use super::desk::{Pulled, Superseded};
use super::protocol::Url;
use super::protocol::jsonrpc::{Error, ErrorCode, Result};
use super::snapshot::View;

task_local! {
    static TICKET: Cell<Option<Ticket>>;
}

thread_local! {
    /// Lives as long as somebody waits for what this thread works on.
    static WAITING: RefCell<Weak<()>> = const { RefCell::new(Weak::new()) };
}

/// Whether somebody still waits for what this thread works on: not when the request has been called off.
pub(super) fn is_wanted() -> bool {
    WAITING.with_borrow(|waiting| waiting.strong_count() > 0)
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
    // Goes with this future when the request is called off.
    let waits = Arc::new(());
    let waiting = Arc::downgrade(&waits);
    let work = move || {
        WAITING.set(waiting);
        is_wanted().then(|| work(&view))
    };
    let done = spawn_blocking(work).await.map_err(|_| Error::internal_error())?;
    done.ok_or_else(Error::request_cancelled)
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

#[cfg(test)]
mod tests {
    use std::time::{Duration, Instant};

    use tokio::sync::oneshot;

    use super::*;
    use crate::server::client::Client;
    use crate::server::settings::Settings;

    #[test]
    fn work_that_nobody_waits_for_is_given_up() {
        let runtime = tokio::runtime::Builder::new_current_thread().build().unwrap();
        let (given_up, gave_up) = std::sync::mpsc::channel();
        runtime.block_on(async {
            let (answer, ticket) = oneshot::channel();
            let (client, settings) = (Client::default(), Settings::default());
            let view = View { client, settings, folders: vec![], books: vec![], open: Default::default() };
            assert!(answer.send(Ok(Arc::new(view))).is_ok());
            let (started, start) = oneshot::channel();
            let work = move |_: &View| {
                let _ = started.send(());
                let begin = Instant::now();
                while is_wanted() && begin.elapsed() < Duration::from_secs(20) {
                    std::thread::sleep(Duration::from_millis(1));
                }
                let _ = given_up.send(is_wanted());
            };
            let request = tokio::spawn(holding(Ticket::State(ticket), with_state(work)));
            start.await.unwrap();
            request.abort();
            assert!(request.await.is_err());
        });
        assert!(!gave_up.recv().unwrap());
    }
}
