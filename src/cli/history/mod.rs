//! `history`: the life of one item through git.

mod follow;
mod human;
mod json;
mod releases;
mod sheets;

use clap::{Args, ValueEnum};

use super::find::ItemKind;
use super::versions::Ground;
use super::{Exit, Failure, Outcome, Session, find};
use crate::diff::ItemName;
use crate::sheet::nearest;
use crate::syntax::Kind;
use follow::{Follower, Step};
pub(super) use releases::{Release, releases};

/// Show the commits that changed what an item says, each with who, when, and what changed
///
/// The item is followed through renames of itself and of its file. Commits that only laid it out again, moved it, or wrote a
/// number in another unit are left out. What moved its results from elsewhere is not here: `diff` has that. An item that
/// the book no longer holds is found too, as it was last.
#[derive(Args)]
#[command(after_help = "Examples:\n  rotorbook history \"fan wheel 315\" --kind rotor\n  \
    rotorbook history \"fan wheel 315 on the soft bench\" --facts \"calibrate hub / mass\"")]
pub(super) struct HistoryArguments {
    /// The name of the item
    #[arg(value_name = "NAME")]
    name: String,

    /// Its kind, when items of several kinds have the name
    #[arg(long, value_enum)]
    kind: Option<ItemKind>,

    /// Only this fact or pinned result: its key, or the end of its path as it is shown
    #[arg(long, value_name = "KEY")]
    facts: Option<String>,

    /// Begin at this revision instead of the work tree
    #[arg(long, value_name = "REV")]
    from: Option<String>,

    /// How to show it
    #[arg(long, value_enum, default_value_t = Format::Human)]
    format: Format,
}

#[derive(Clone, Copy, PartialEq, Eq, Debug, ValueEnum)]
enum Format {
    /// For people
    Human,
    /// For programs
    Json,
}

/// The life of an item, the newest step first.
struct Life {
    pub item: ItemName,
    pub steps: Vec<Step>,
    /// Where a shallow clone ends before the item begins.
    pub cut_off: bool,
}

pub(super) fn run(session: &mut Session, arguments: &HistoryArguments) -> Outcome {
    let ground = Ground::of(session)?;
    let repository = ground.repository()?;
    let head = repository.commit(arguments.from.as_deref().unwrap_or("HEAD"))?;
    let kind = arguments.kind.map(|kind| kind.0);
    let mut follower = Follower::new(repository, &head)?;
    let from_disk = arguments.from.is_none() && repository.work_tree().is_some();
    let begun = match from_disk {
        true => follower.begin_in_work_tree(&ground, &arguments.name, kind)?,
        false => follower.begin_at(&ground, &arguments.name, kind)?,
    };
    let begun = match begun {
        Some(item) => Some(item),
        None => follower.begin_where_removed(&arguments.name, kind)?,
    };
    let Some(item) = begun else {
        return Err(not_found(session, &arguments.name, arguments.kind));
    };
    let mut steps = follower.follow()?;
    if let Some(key) = &arguments.facts {
        let known = paths(&steps);
        let mut key_then = key.clone();
        steps.retain_mut(|step| {
            let is_kept = step.keep(&key_then);
            key_then = step.key_before(&key_then);
            is_kept
        });
        if steps.is_empty() {
            return Err(no_such_fact(key, &item, &known));
        }
    }
    steps.retain(Step::is_told);
    let life = Life { item, steps, cut_off: follower.is_cut_off() };
    match arguments.format {
        Format::Human => human::write(&mut session.terminal, &life, arguments.facts.as_deref()),
        Format::Json => session.terminal.json(&json::document(&life)),
    }
    Ok(Exit::Clean)
}

/// The path of every fact and pinned result that the item ever had.
fn paths(steps: &[Step]) -> Vec<Vec<String>> {
    let facts = steps.iter().flat_map(|step| &step.changes.facts).map(|fact| fact.path.clone());
    facts.chain(steps.iter().flat_map(|step| &step.changes.pins).map(|pin| pin.path.clone())).collect()
}

/// Names the nearest key or path that there is.
fn no_such_fact(key: &str, item: &ItemName, known: &[Vec<String>]) -> Failure {
    let failure = Failure::new(format!("{item} never had a fact or pinned result `{key}`"));
    let last = known.iter().filter_map(|path| path.last().cloned());
    let candidates: Vec<String> = last.chain(known.iter().map(|path| path.join(" / "))).collect();
    match nearest(key, candidates.iter().map(String::as_str)) {
        Some(near) => failure.help(format!("did you mean `{near}`?")),
        None => failure.help("without --facts, every fact is shown with its path"),
    }
}

/// Names the nearest item there is.
fn not_found(session: &Session, name: &str, kind: Option<ItemKind>) -> Failure {
    let books = match find::books(session) {
        Ok(books) => books,
        Err(failure) => return failure,
    };
    match find::item(&books, name, kind) {
        Ok(_) => Failure::new(format!("\"{name}\" is in no commit")),
        Err(failure) => failure,
    }
}

/// Whether an item is the one that is asked for.
fn is_asked_for(item: &crate::sheet::Block, name: &str, kind: Option<Kind>) -> bool {
    item.name_text() == name && kind.is_none_or(|kind| kind == item.kind)
}
