//! `lsp`: the language server.

use clap::Args;

use super::{Exit, Failure, Outcome};
use crate::disk;
use crate::server;

/// Serve an editor over standard input and output
///
/// Speaks the Language Server Protocol, version 3.17. Editors start it by themselves; a person has no use for it.
#[derive(Args)]
#[command(after_help = "Example:\n  rotorbook lsp")]
pub(super) struct LspArguments {
    /// Taken for the sake of editors that name the way to talk; there is no other
    #[arg(long)]
    stdio: bool,
}

pub(super) fn run(_: &LspArguments) -> Outcome {
    match server::serve() {
        Ok(true) => Ok(Exit::Clean),
        // The protocol wants it so: who exits without having announced it has failed.
        Ok(false) => Ok(Exit::Findings),
        Err(error) => Err(Failure::new(format!("the server cannot start: {}", disk::reason(&error)))),
    }
}
