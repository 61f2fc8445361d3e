//! `completions`: what a shell needs to complete the command line.

use clap::{Args, CommandFactory};
use clap_complete::Shell;

use super::arguments::Arguments;
use super::{Exit, Outcome, Session};

/// Write completions for a shell
#[derive(Args)]
#[command(
    after_help = "Examples:\n  rotorbook completions bash > ~/.local/share/bash-completion/completions/rotorbook\n  \
    rotorbook completions fish > ~/.config/fish/completions/rotorbook.fish"
)]
pub(super) struct CompletionsArguments {
    /// The shell
    #[arg(value_enum, value_name = "SHELL")]
    shell: Shell,
}

pub(super) fn run(session: &mut Session, arguments: &CompletionsArguments) -> Outcome {
    let mut script = Vec::new();
    clap_complete::generate(arguments.shell, &mut Arguments::command(), "rotorbook", &mut script);
    session.terminal.print(&String::from_utf8_lossy(&script));
    Ok(Exit::Clean)
}
