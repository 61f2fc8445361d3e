//! What may be on the command line.

use std::ffi::OsString;
use std::path::PathBuf;
use std::process::ExitCode;

use clap::builder::styling::{AnsiColor, Styles};
use clap::{ColorChoice, CommandFactory, FromArgMatches, Parser, Subcommand};

use super::bench::{BalanceArguments, ProveArguments};
use super::card::{CardArguments, CertificateArguments};
use super::check::CheckArguments;
use super::complete::CompleteArguments;
use super::completions::CompletionsArguments;
use super::diff::DiffArguments;
use super::explain::ExplainArguments;
use super::fmt::FmtArguments;
use super::history::HistoryArguments;
use super::init::InitArguments;
use super::list::ListArguments;
use super::lsp::LspArguments;
use super::merge::MergeArguments;
use super::new::NewArguments;
use super::overview::OverviewArguments;
use super::pin::PinArguments;
use super::rehearse::RehearseArguments;
use super::release::{ReleaseArguments, WithdrawArguments};
use super::show::ShowArguments;
use super::trend::TrendArguments;
use crate::vocabulary;

/// Setup sheets for balancing rotors, as text with every result computed and checked.
#[derive(Parser)]
#[command(name = "rotorbook", version = vocabulary::version(), styles = styles(), max_term_width = 100)]
#[command(arg_required_else_help = true)]
#[command(after_help = "Results are written to stdout, messages to stderr. \
    Exit status: 0 clean, 1 findings, 2 could not be done.\n\n\
    Example:\n  rotorbook check --deny warnings")]
pub(super) struct Arguments {
    /// The folder of the book, if it is not the current one
    #[arg(long, global = true, value_name = "DIR", help_heading = "Options of every command")]
    pub book: Option<PathBuf>,

    /// Print only findings, results and errors
    #[arg(short, long, global = true, help_heading = "Options of every command")]
    pub quiet: bool,

    /// When to use colour; NO_COLOR, CLICOLOR and CLICOLOR_FORCE are obeyed too
    #[arg(long, global = true, value_name = "WHEN", default_value = "auto", help_heading = "Options of every command")]
    pub color: ColorChoice,

    /// Do not page long output; by default a terminal shows it through PAGER or `less`
    #[arg(long, global = true, help_heading = "Options of every command")]
    pub no_pager: bool,

    #[command(subcommand)]
    pub command: Command,
}

#[derive(Subcommand)]
pub(super) enum Command {
    Check(CheckArguments),
    Fmt(FmtArguments),
    Show(ShowArguments),
    Card(CardArguments),
    Balance(BalanceArguments),
    Prove(ProveArguments),
    Certificate(CertificateArguments),
    Rehearse(RehearseArguments),
    Diff(DiffArguments),
    History(HistoryArguments),
    Pin(PinArguments),
    Release(ReleaseArguments),
    Withdraw(WithdrawArguments),
    Merge(MergeArguments),
    List(ListArguments),
    Overview(OverviewArguments),
    Trend(TrendArguments),
    Init(InitArguments),
    New(NewArguments),
    Explain(ExplainArguments),
    Lsp(LspArguments),
    Complete(CompleteArguments),
    Completions(CompletionsArguments),
}

impl Command {
    /// Whether it writes what people read from top to bottom, and nothing else meanwhile.
    pub fn may_be_long(&self) -> bool {
        match self {
            Self::Show(show) => !show.watch,
            Self::Diff(_) | Self::History(_) | Self::List(_) | Self::Overview(_) | Self::Explain(_) => true,
            _ => false,
        }
    }
}

/// Reads the arguments; `Err` when help was asked for or they cannot be understood, which has been said then.
pub(super) fn read() -> Result<Arguments, ExitCode> {
    let command = Arguments::command().color(color_of(std::env::args_os().skip(1)));
    let matches = command.try_get_matches();
    matches.and_then(|matches| Arguments::from_arg_matches(&matches)).map_err(|error| {
        // Nobody is left to tell when even this cannot be written.
        let _ = error.print();
        ExitCode::from(u8::try_from(error.exit_code()).unwrap_or(2))
    })
}

/// `--color` decides over the colours of help and of complaints about the arguments too, so it is looked for first.
fn color_of(arguments: impl Iterator<Item = OsString>) -> ColorChoice {
    // An argument that is no text is a path.
    let mut arguments = arguments.map(|argument| argument.into_string().unwrap_or_default()).peekable();
    while let Some(argument) = arguments.next() {
        let value = match argument.strip_prefix("--color") {
            Some("") => arguments.peek().cloned(),
            Some(value) => value.strip_prefix('=').map(str::to_owned),
            None => None,
        };
        if let Some(choice) = value.and_then(|value| value.parse().ok()) {
            return choice;
        }
    }
    ColorChoice::Auto
}

fn styles() -> Styles {
    let heading = AnsiColor::Green.on_default().bold();
    Styles::styled().header(heading).usage(heading).literal(AnsiColor::Cyan.on_default().bold())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_arguments_contradict_nothing() {
        Arguments::command().debug_assert();
    }

    #[test]
    fn every_help_ends_with_an_example() {
        for command in Arguments::command().get_subcommands_mut() {
            let help = command.render_help().to_string();
            let last = help.trim_end().rsplit("\n\n").next().unwrap_or_default();
            assert!(last.starts_with("Example"), "{}: {help}", command.get_name());
        }
    }

    #[test]
    fn color_is_found_before_the_arguments_are_read() {
        let of = |text: &str| color_of(text.split(' ').map(OsString::from));
        assert_eq!(of("check --color never a"), ColorChoice::Never);
        assert_eq!(of("--color=always check"), ColorChoice::Always);
        assert_eq!(of("check --color"), ColorChoice::Auto);
    }
}
