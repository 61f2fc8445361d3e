//! The command line. Each command is a file; what several need is in the others.
//!
//! Results go to stdout, messages to stderr. A command ends clean (0), with findings (1), or because it was asked for
//! something that cannot be done (2). The only place, with `server/`, that touches files; the only one that knows clap
//! and miette.

mod arguments;
mod bench;
mod card;
mod check;
mod committed;
mod complete;
mod completions;
mod csv;
mod diff;
mod explain;
mod find;
mod findings;
mod fix;
mod fmt;
mod history;
mod init;
mod list;
mod load;
mod lsp;
mod markdown;
mod merge;
mod new;
mod overview;
mod pager;
mod paths;
mod pin;
mod progress;
mod rehearse;
mod release;
mod report;
mod restored;
mod show;
mod since;
mod stated;
mod stdin;
mod submodule;
mod terminal;
mod trend;
mod unread;
mod versions;
mod watch;
mod write;

use std::process::ExitCode;

use crate::text::layout;

use arguments::Command;
use terminal::Terminal;

/// How a command ends.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
enum Exit {
    Clean = 0,
    Findings = 1,
    Misuse = 2,
}

/// Why a command cannot do what it was asked.
#[derive(Debug)]
struct Failure {
    message: String,
    help: Option<String>,
}

impl Failure {
    fn new(message: impl Into<String>) -> Self {
        Self { message: message.into(), help: None }
    }

    fn help(self, help: impl Into<String>) -> Self {
        Self { help: Some(help.into()), ..self }
    }
}

type Outcome = Result<Exit, Failure>;

/// What every command works with.
struct Session {
    terminal: Terminal,
    /// The folder of the book, when it is named from outside.
    book: Option<std::path::PathBuf>,
}

/// The command line as clap knows it, for the manual.
#[cfg(feature = "internals")]
pub fn command() -> clap::Command {
    <arguments::Arguments as clap::CommandFactory>::command()
}

/// Runs the command that the program was started with.
pub fn run() -> ExitCode {
    let arguments = match arguments::read() {
        Ok(arguments) => arguments,
        Err(code) => return code,
    };
    let mut session = Session { terminal: Terminal::new(arguments.color, arguments.quiet), book: arguments.book };
    if !arguments.no_pager && arguments.command.may_be_long() {
        session.terminal.page();
    }
    let outcome = match &arguments.command {
        Command::Check(arguments) => check::run(&mut session, arguments),
        Command::Fmt(arguments) => fmt::run(&mut session, arguments),
        Command::Show(arguments) => show::run(&mut session, arguments),
        Command::Diff(arguments) => diff::run(&mut session, arguments),
        Command::History(arguments) => history::run(&mut session, arguments),
        Command::Pin(arguments) => pin::run(&mut session, arguments),
        Command::Card(arguments) => card::run(&mut session, arguments),
        Command::Balance(arguments) => bench::balance(&mut session, arguments),
        Command::Prove(arguments) => bench::prove(&mut session, arguments),
        Command::Rehearse(arguments) => rehearse::run(&mut session, arguments),
        Command::Certificate(arguments) => card::certify(&mut session, arguments),
        Command::Merge(arguments) => merge::run(&mut session, arguments),
        Command::Release(arguments) => release::release(&mut session, arguments),
        Command::Withdraw(arguments) => release::withdraw(&mut session, arguments),
        Command::List(arguments) => list::run(&mut session, arguments),
        Command::Overview(arguments) => overview::run(&mut session, arguments),
        Command::Trend(arguments) => trend::run(&mut session, arguments),
        Command::Init(arguments) => init::run(&mut session, arguments),
        Command::New(arguments) => new::run(&mut session, arguments),
        Command::Explain(arguments) => explain::run(&mut session, arguments),
        Command::Lsp(arguments) => lsp::run(arguments),
        Command::Complete(arguments) => complete::run(&mut session, arguments),
        Command::Completions(arguments) => completions::run(&mut session, arguments),
    };
    let exit = session.terminal.finish(outcome);
    ExitCode::from(exit as u8)
}
