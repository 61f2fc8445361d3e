//! The language server: LSP 3.17 over standard input and output.
//!
//! A message goes from `wire/` through tower-lsp to `order`, which hands changes to `desk/`, the one owner of the
//! state, and gives each request the state at its turn; `backend` answers with what `features/` make of it. What is
//! kept of a book from change to change is in `judged/`. The only folder that knows tokio, and `protocol` in it the only
//! file that names tower-lsp.

mod backend;
mod capabilities;
mod client;
mod commands;
mod consequences;
mod convert;
mod desk;
mod ending;
mod features;
mod judged;
mod order;
mod protocol;
mod settings;
mod snapshot;
mod ticket;
mod voice;
mod watching;
mod wire;

use std::io;
use std::sync::{Arc, OnceLock};
use std::time::Duration;

use tokio::runtime::Builder;

use backend::Backend;
use desk::Desk;
use ending::{Ending, Watcher};
use order::{InOrder, Session};
use protocol::{LspService, Server};
use voice::Voice;
use wire::Output;

/// How long the last answers may take to be read when the session is over.
const LAST_WORDS: Duration = Duration::from_millis(400);

/// Requests worked on at a time; each is a task that only waits, so there is no reason to let others wait for it.
const AT_A_TIME: usize = 1 << 20;

/// Serves one client until it ends the session; whether it ended in order.
///
/// # Errors
/// When the system gives no thread or timer.
pub fn serve() -> io::Result<bool> {
    let runtime = Builder::new_current_thread().enable_time().build()?;
    let ending = Arc::new(Ending::default());
    let output = Output::to(io::stdout());
    let session = session(ending.clone(), output.clone());
    runtime.block_on(session);
    output.finish(LAST_WORDS);
    // Work that is still going on ends with the process.
    runtime.shutdown_background();
    Ok(ending.is_shut_down())
}

async fn session(ending: Arc<Ending>, output: Output) {
    let (voice, said) = Voice::new();
    let inbox = Desk::start(voice.clone());
    let input = wire::read(io::stdin(), output.clone(), Arc::new(Watcher(ending.clone())));
    let client = Arc::new(OnceLock::new());
    let (service, socket) = LspService::new(|wire| {
        tokio::spawn(voice::speak(said, wire, output.clone()));
        Backend { voice: voice.clone(), client: client.clone() }
    });
    let session = Session { inbox, voice, output: output.clone(), ending: ending.clone(), client };
    let service = InOrder::new(service, session);
    let serving = Server::new(input, output, socket).concurrency_level(AT_A_TIME).serve(service);
    let over = ending.clone();
    tokio::spawn(async move {
        serving.await;
        over.exit();
    });
    ending.wait().await;
}
