//! Follows one item from commit to commit, back to where it began.

use std::path::Path;

use rustc_hash::{FxHashMap, FxHashSet};

use super::is_asked_for;
use super::sheets::Sheets;
use crate::book::{Book, Computing, ItemId};
use crate::cli::Failure;
use crate::cli::versions::Ground;
use crate::diff::{Facts, ItemName, facts_between, pairs};
use crate::git::{Commit, Edge, FileChange, Repository};
use crate::syntax::Kind;
use crate::text::with_names;

/// More files than these in one commit are not searched for renames of what the item names.
const MANY: usize = 500;

/// Where an item is in one commit.
#[derive(Clone, PartialEq, Eq, Debug)]
struct Spot {
    path: String,
    item: ItemName,
}

/// What one commit did to the item; without a commit, what is not committed yet.
pub(super) struct Step {
    pub commit: Option<Commit>,
    /// The file it is in after it, or stood in when it is gone.
    pub file: String,
    /// Its name after it, or when it is gone the last one.
    pub name: String,
    /// Its name before, where it had another.
    pub was: Option<String>,
    pub what: What,
    pub changes: Facts,
}

#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) enum What {
    Added,
    /// It had been removed before.
    BackAgain,
    Removed,
    Changed,
    Renamed,
    /// The oldest that a shallow clone has of it.
    Oldest,
}

impl What {
    pub const fn word(self) -> &'static str {
        match self {
            What::Added => "added",
            What::BackAgain => "back again",
            What::Removed => "removed",
            What::Changed => "changed",
            What::Renamed => "renamed",
            What::Oldest => "oldest",
        }
    }
}

impl Step {
    /// Keeps what concerns one fact or pinned result; `false` when nothing does.
    pub fn keep(&mut self, key: &str) -> bool {
        let is_it = |path: &[String]| {
            let whole = path.join(" / ");
            whole == key
                || whole.ends_with(&format!(" / {key}"))
                || path.last().is_some_and(|last| last.starts_with(&format!("{key} ")))
        };
        self.changes.facts.retain(|fact| is_it(&fact.path));
        self.changes.pins.retain(|pin| is_it(&pin.path));
        !self.changes.is_empty()
    }

    /// The key of a fact as it was called before this commit.
    pub fn key_before(&self, key: &str) -> String {
        let names: Vec<(&str, &str)> = self.changes.renamed.iter().map(|(was, is)| (&**is, &**was)).collect();
        with_names(key, &names)
    }

    /// Whether a reader of the item sees a change.
    pub fn is_told(&self) -> bool {
        !self.changes.is_empty() || self.what != What::Changed
    }
}

/// What was before, on one way back.
enum Before {
    /// Nothing of it changed.
    Same,
    /// It stood there, and so much changed.
    Was(Spot, Facts),
    /// It was not there.
    Nothing(Facts),
}

pub(super) struct Follower<'r> {
    repository: &'r Repository,
    head: String,
    commits: Vec<Commit>,
    edges: Vec<Vec<Edge>>,
    sheets: Sheets,
    spots: FxHashMap<String, Spot>,
    steps: Vec<Step>,
    ends: Vec<String>,
    cut_off: bool,
}

impl<'r> Follower<'r> {
    pub fn new(repository: &'r Repository, head: &str) -> Result<Self, Failure> {
        let commits = repository.commits(head)?;
        let edges = repository.edges(&commits)?;
        let ends = if repository.is_shallow() { repository.shallow_ends() } else { Vec::new() };
        Ok(Self {
            repository,
            head: head.to_owned(),
            commits,
            edges,
            sheets: Sheets::of(repository)?,
            spots: FxHashMap::default(),
            steps: Vec::new(),
            ends,
            cut_off: false,
        })
    }

    pub fn is_cut_off(&self) -> bool {
        self.cut_off
    }

    /// Begins with the item as it is in the work tree.
    pub fn begin_in_work_tree(
        &mut self,
        ground: &Ground,
        name: &str,
        kind: Option<Kind>,
    ) -> Result<Option<ItemName>, Failure> {
        let (Some(top), Some(prefix)) = (self.repository.work_tree(), self.repository.prefix(ground.root()?)) else {
            return Ok(None);
        };
        let book = ground.work_tree()?;
        let Some(id) = only(&book, name, kind)? else { return Ok(None) };
        let path = match prefix.is_empty() {
            true => book.file(id.file).path.to_string(),
            false => format!("{prefix}/{}", book.file(id.file).path),
        };
        let spot = Spot { path, item: ItemName::of(&book, id) };
        let item = spot.item.clone();
        let mut changes = self.repository.changed_in_work_tree(&self.head)?;
        let tracked = self.repository.files_of(&self.head)?;
        if tracked.files().iter().all(|file| file.path != spot.path) && changes.iter().all(|one| one.path != spot.path)
        {
            changes.push(FileChange { path: spot.path.clone(), old: None, new: Some(String::new()) });
        }
        let edge = Edge { parent: Some(self.head.clone()), changes };
        let before = self.before(&spot, &edge, Some(top));
        let spot = match before {
            Before::Same => Some(spot),
            Before::Was(was, changes) => {
                self.step(None, &spot, Some(&was), changes);
                Some(was)
            }
            Before::Nothing(changes) => {
                self.step(None, &spot, None, changes);
                None
            }
        };
        if let Some(spot) = spot {
            self.place_at_tips(spot);
        }
        Ok(Some(item))
    }

    /// Begins with the item as the commit has it.
    pub fn begin_at(&mut self, ground: &Ground, name: &str, kind: Option<Kind>) -> Result<Option<ItemName>, Failure> {
        let listing = self.repository.files_of(&self.head)?;
        let prefix = self.repository.prefix(ground.root()?).unwrap_or_default();
        let inside = |path: &str| prefix.is_empty() || path.starts_with(&format!("{prefix}/"));
        let files: Vec<(String, String)> = listing
            .files()
            .iter()
            .filter(|file| inside(&file.path))
            .map(|file| (file.path.clone(), file.object.clone()))
            .collect();
        let quoted = name.replace('"', "\"\"");
        let sheets = files
            .iter()
            .filter(|(_, object)| self.sheets.holds(object, &quoted))
            .cloned()
            .collect::<Vec<_>>()
            .into_iter()
            .map(|(path, object)| self.sheets.sheet(&path, &object));
        let book = Book::new(sheets.collect());
        let Some(id) = only(&book, name, kind)? else { return Ok(None) };
        let spot = Spot { path: book.file(id.file).path.to_string(), item: ItemName::of(&book, id) };
        let item = spot.item.clone();
        self.place_at_tips(spot);
        Ok(Some(item))
    }

    /// Begins with the newest commit that took away an item of this name.
    pub fn begin_where_removed(&mut self, name: &str, kind: Option<Kind>) -> Result<Option<ItemName>, Failure> {
        let all: Vec<usize> = (0..self.commits.len()).collect();
        self.removed_in(&all, name, kind, true)
    }

    /// Looks for the newest of these commits that took away an item of this name, or with `renamed`, gave it another.
    fn removed_in(
        &mut self,
        commits: &[usize],
        name: &str,
        kind: Option<Kind>,
        renamed: bool,
    ) -> Result<Option<ItemName>, Failure> {
        let quoted = name.replace('"', "\"\"");
        for n in commits.iter().copied() {
            for edge in self.edges[n].clone() {
                let holding = |sheets: &mut Sheets, change: &FileChange| {
                    change.old.as_ref().is_some_and(|object| sheets.holds(object, &quoted))
                };
                let changes: Vec<FileChange> =
                    edge.changes.iter().filter(|change| holding(&mut self.sheets, change)).cloned().collect();
                if changes.is_empty() {
                    continue;
                }
                let old = self.sheets.before(&changes);
                let new = self.sheets.after(&edge.changes, None);
                let has = |book: &Book| book.items().find(|id| is_asked_for(book.item(*id), name, kind));
                let (Some(id), None, Some(parent)) = (has(&old), has(&new), &edge.parent) else { continue };
                let spot = Spot { path: old.file(id.file).path.to_string(), item: ItemName::of(&old, id) };
                let (pairs, renames) = pairs(&old, &new);
                let now = pairs.into_iter().find(|pair| pair.old == Some(id)).and_then(|pair| pair.new);
                if now.is_some() && !renamed {
                    continue;
                }
                let (before, after) = (Computing::without_explanations(&old), Computing::without_explanations(&new));
                let changes = facts_between(Some((&before, id)), now.map(|id| (&after, id)), &renames);
                let item = spot.item.clone();
                let called = now.map(|id| new.item(id).name_text().to_owned());
                self.steps.push(Step {
                    commit: Some(self.commits[n].clone()),
                    file: now.map_or(&old, |_| &new).file(now.unwrap_or(id).file).path.to_string(),
                    what: if called.is_some() { What::Renamed } else { What::Removed },
                    was: called.as_ref().map(|_| item.name.clone()),
                    name: called.unwrap_or_else(|| item.name.clone()),
                    changes,
                });
                self.spots.insert(parent.clone(), spot);
                return Ok(Some(item));
            }
        }
        Ok(None)
    }

    /// At the commits that no other of them comes after.
    fn place_at_tips(&mut self, spot: Spot) {
        let parents: FxHashSet<&String> = self.commits.iter().flat_map(|commit| &commit.parents).collect();
        let tips: Vec<String> = self
            .commits
            .iter()
            .filter(|commit| !parents.contains(&commit.id))
            .map(|commit| commit.id.clone())
            .collect();
        self.spots.extend(tips.into_iter().map(|tip| (tip, spot.clone())));
    }

    /// All steps, the newest first.
    pub fn follow(&mut self) -> Result<Vec<Step>, Failure> {
        for n in 0..self.commits.len() {
            let Some(spot) = self.spots.get(&self.commits[n].id).cloned() else { continue };
            let edges = std::mem::take(&mut self.edges[n]);
            let mut found = Vec::new();
            for edge in &edges {
                let before = self.before(&spot, edge, None);
                if let Some(parent) = &edge.parent {
                    let was = match &before {
                        Before::Same => Some(spot.clone()),
                        Before::Was(was, _) => Some(was.clone()),
                        Before::Nothing(_) => None,
                    };
                    // Where ways meet again, the first to arrive says where the item stands.
                    if let Some(was) = was {
                        self.spots.entry(parent.clone()).or_insert(was);
                    }
                }
                found.push(before);
            }
            let is_new = found.iter().all(|before| matches!(before, Before::Nothing(_)));
            let told = self.steps.len();
            self.told(n, &spot, found);
            if is_new {
                self.through_the_gap(n, told, &spot)?;
            }
        }
        Ok(std::mem::take(&mut self.steps))
    }

    /// What is new in a commit may have been there before, and have been taken away: its life goes on there.
    fn through_the_gap(&mut self, n: usize, told: usize, spot: &Spot) -> Result<(), Failure> {
        let mut before: FxHashSet<&String> = self.commits[n].parents.iter().collect();
        let mut older = Vec::new();
        // Each commit comes before its parents.
        for (m, commit) in self.commits.iter().enumerate().skip(n + 1) {
            if before.contains(&commit.id) {
                older.push(m);
                before.extend(&commit.parents);
            }
        }
        let found = self.removed_in(&older, &spot.item.name, Some(spot.item.kind), false)?;
        if let (Some(_), Some(step)) = (found, self.steps.get_mut(told))
            && step.what == What::Added
        {
            step.what = What::BackAgain;
        }
        Ok(())
    }

    /// A commit changed the item when it is what none of its parents had: a merge that took one side did not.
    fn told(&mut self, n: usize, spot: &Spot, mut found: Vec<Before>) {
        only_what_no_parent_had(&mut found);
        let changed = |before: &Before| match before {
            Before::Same => false,
            Before::Was(was, changes) => {
                !changes.is_empty() || !changes.renamed.is_empty() || was.item.name != spot.item.name
            }
            Before::Nothing(_) => true,
        };
        if !found.iter().all(changed) {
            return;
        }
        let commit = self.commits[n].clone();
        match found.into_iter().next() {
            Some(Before::Was(was, changes)) => self.step(Some(commit), spot, Some(&was), changes),
            Some(Before::Nothing(changes)) => self.step(Some(commit), spot, None, changes),
            Some(Before::Same) | None => {}
        }
    }

    fn step(&mut self, commit: Option<Commit>, spot: &Spot, was: Option<&Spot>, changes: Facts) {
        let is_end = commit.as_ref().is_some_and(|commit| self.ends.contains(&commit.id));
        let other_name = was.filter(|was| was.item.name != spot.item.name);
        let what = match (was, other_name) {
            (None, _) if is_end => What::Oldest,
            (None, _) => What::Added,
            (_, Some(_)) => What::Renamed,
            _ => What::Changed,
        };
        if changes.is_empty() && changes.renamed.is_empty() && what == What::Changed {
            return;
        }
        self.cut_off |= what == What::Oldest;
        self.steps.push(Step {
            commit,
            file: spot.path.clone(),
            name: spot.item.name.clone(),
            was: other_name.map(|was| was.item.name.clone()),
            what,
            changes,
        });
    }

    /// Where the item was before the changes of an edge.
    fn before(&mut self, spot: &Spot, edge: &Edge, work_tree: Option<&Path>) -> Before {
        let Some(own) = edge.changes.iter().find(|change| change.path == spot.path) else { return Before::Same };
        let just_own = std::slice::from_ref(own);
        let (old, new) = (self.sheets.before(just_own), self.sheets.after(just_own, work_tree));
        let (was, is) = (named(&old, &spot.item), named(&new, &spot.item));
        if let (Some(was), Some(is)) = (was, is)
            && text(&old, was) == text(&new, is)
        {
            return Before::Was(spot.clone(), Facts::default());
        }
        let alone =
            was.is_some() && edge.changes.len() > MANY || edge.changes.iter().all(|change| change.old.is_none());
        if alone || edge.changes.len() == 1 {
            return compared(&old, &new, spot);
        }
        let (old, new) = (self.sheets.before(&edge.changes), self.sheets.after(&edge.changes, work_tree));
        compared(&old, &new, spot)
    }
}

/// A merge that takes one fact from one side and one from the other has made neither.
fn only_what_no_parent_had(found: &mut [Before]) {
    let Some((Before::Was(_, first), others)) = found.split_first_mut() else { return };
    for other in others {
        if let Before::Was(_, other) = other {
            first.facts.retain(|fact| other.facts.iter().any(|same| same.path == fact.path));
            first.pins.retain(|pin| other.pins.iter().any(|same| same.path == pin.path));
        }
    }
}

/// The item of the old book that this one was, and what changed.
fn compared(old: &Book, new: &Book, spot: &Spot) -> Before {
    let (pairs, renames) = pairs(old, new);
    let is_it = |id: ItemId| ItemName::of(new, id) == spot.item && *new.file(id.file).path == *spot.path;
    let Some(pair) = pairs.into_iter().find(|pair| pair.new.is_some_and(is_it)) else {
        // It cannot be read here: a conflict, or bytes that are no text. What was before is as good a place to go on.
        return Before::Was(spot.clone(), Facts::default());
    };
    let (before, after) = (Computing::without_explanations(old), Computing::without_explanations(new));
    let changes = facts_between(pair.old.map(|id| (&before, id)), pair.new.map(|id| (&after, id)), &renames);
    match pair.old {
        Some(id) => {
            let was = Spot { path: old.file(id.file).path.to_string(), item: ItemName::of(old, id) };
            Before::Was(was, changes)
        }
        None => Before::Nothing(changes),
    }
}

fn named(book: &Book, item: &ItemName) -> Option<ItemId> {
    book.named(item.kind, &item.name).first().copied()
}

fn text(book: &Book, id: ItemId) -> &str {
    book.item(id).span.of(&book.file(id.file).text)
}

/// The only item of this name; `Err` when kinds have to be told apart.
fn only(book: &Book, name: &str, kind: Option<Kind>) -> Result<Option<ItemId>, Failure> {
    let mut found: Vec<ItemId> = book.items().filter(|id| is_asked_for(book.item(*id), name, kind)).collect();
    found.dedup_by_key(|id| book.item(*id).kind);
    match found.as_slice() {
        [] => Ok(None),
        [one] => Ok(Some(*one)),
        several => {
            let choices: Vec<String> = several.iter().map(|id| format!("--kind {}", book.item(*id).kind)).collect();
            Err(Failure::new(format!("\"{name}\" is the name of several items"))
                .help(format!("choose with {}", choices.join(" or "))))
        }
    }
}
