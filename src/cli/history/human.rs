//! `history` for people.

use super::Life;
use super::follow::{Step, What};
use crate::cli::diff::human::fact_line;
use crate::cli::diff::lines::{path, shown};
use crate::cli::report::counted;
use crate::cli::terminal::{Paint, Terminal};
use crate::diff::PinChange;

pub(super) fn write(terminal: &mut Terminal, life: &Life, key: Option<&str>) {
    let paint = terminal.paint;
    let commits = life.steps.iter().filter(|step| step.commit.is_some()).count();
    let changed = key.map_or("it".to_owned(), |key| format!("`{}`", shown(key)));
    let head = paint.bold(&shown(&life.item.to_string()));
    terminal.line(&format!("{head}: {} changed {changed}", counted(commits, "commit")));
    for step in &life.steps {
        terminal.line("");
        terminal.line(&when(step, paint));
        if let Some(commit) = &step.commit {
            terminal.line(&format!("  {}", shown(&commit.subject)));
        }
        what(terminal, step, key.is_some());
    }
    if life.cut_off {
        terminal.warn("this clone is shallow: what was before is not here; `git fetch --unshallow` brings it");
    }
}

fn when(step: &Step, paint: Paint) -> String {
    match &step.commit {
        None => paint.yellow("not committed"),
        Some(commit) => {
            let short: String = commit.id.chars().take(10).collect();
            let day = commit.date.split('T').next().unwrap_or_default();
            format!("{}  {day}  {}", paint.yellow(&short), shown(&commit.author))
        }
    }
}

fn what(terminal: &mut Terminal, step: &Step, all: bool) {
    let paint = terminal.paint;
    let facts = counted(step.changes.facts.len(), "fact");
    let file = shown(&step.file);
    match step.what {
        What::Added => terminal.line(&format!("  added in {file}, with {facts}")),
        What::BackAgain => terminal.line(&format!("  back again in {file}, with {facts}")),
        What::Removed => terminal.line(&format!("  removed from {file}, with {facts}")),
        What::Oldest => terminal.line(&format!("  the oldest version that is here, in {file}, with {facts}")),
        What::Renamed => {
            let (was, now) = (step.was.as_deref().unwrap_or_default(), &step.name);
            terminal.line(&format!("  renamed, \"{}\" → \"{}\"", shown(was), shown(now)));
        }
        What::Changed => {}
    }
    // A whole item is in the file; one fact's life begins with what it was first.
    if all || matches!(step.what, What::Changed | What::Renamed) {
        step.changes.facts.iter().for_each(|fact| terminal.line(&fact_line(fact, paint, "  ")));
        step.changes.pins.iter().for_each(|pin| terminal.line(&pin_line(pin, paint)));
    }
}

fn pin_line(pin: &PinChange, paint: Paint) -> String {
    let side =
        |side: &Option<String>| side.as_deref().map_or("not pinned".to_owned(), |pin| format!("=> {}", shown(pin)));
    format!("  {} {}: {} → {}", paint.yellow("~"), path(&pin.path), paint.dim(&side(&pin.old)), side(&pin.new))
}
