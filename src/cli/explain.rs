//! `explain`: what a diagnostic means at the bench.

use clap::Args;

use super::{Exit, Failure, Outcome, Session, markdown};
use crate::check::{self, Rule};
use crate::sheet::nearest;

/// Explain a diagnostic: what it flags, why it matters at the bench, how to put it right, its source
#[derive(Args)]
#[command(after_help = "Examples:\n  rotorbook explain unknown-key\n  rotorbook explain --all > diagnostics.md")]
pub(super) struct ExplainArguments {
    /// The code of the diagnostic, as a report shows it
    #[arg(value_name = "CODE", required_unless_present = "all")]
    code: Option<String>,

    /// All diagnostics as one Markdown document
    #[arg(long, conflicts_with = "code")]
    all: bool,
}

pub(super) fn run(session: &mut Session, arguments: &ExplainArguments) -> Outcome {
    let terminal = &mut session.terminal;
    let Some(code) = &arguments.code else {
        terminal.print(&document());
        return Ok(Exit::Clean);
    };
    let rule = check::rule(code).ok_or_else(|| unknown(code))?;
    terminal.line(&terminal.paint.dim(&format!(
        "{} {}, since version {}",
        rule.severity.word(),
        rule.code,
        rule.since
    )));
    terminal.line("");
    terminal.print(&markdown::rendered(rule.page, terminal.paint));
    Ok(Exit::Clean)
}

fn unknown(code: &str) -> Failure {
    let failure = Failure::new(format!("there is no diagnostic `{code}`"));
    match nearest(code, check::rules().iter().map(|rule| rule.code)) {
        Some(near) => failure.help(format!("did you mean `{near}`?")),
        None => failure.help("`rotorbook explain --all` shows all of them"),
    }
}

/// Every page under one heading, by code.
fn document() -> String {
    let mut rules: Vec<&Rule> = check::rules().to_vec();
    rules.sort_by_key(|rule| rule.code);
    let mut document = String::from("# Diagnostics\n");
    for rule in rules {
        let body = rule.page.split_once('\n').map_or("", |(_, body)| body).trim();
        document.push_str(&format!("\n## {}\n\n`{}`, {}\n\n{body}\n", rule.title, rule.code, rule.severity.word()));
    }
    document
}
