//! `check --fix`: what has one obvious fix is put right.

use std::collections::BTreeSet;
use std::path::PathBuf;

use super::load::{self, Loaded};
use super::paths::{self, Target};
use super::report::counted;
use super::{Session, write};
use crate::book::FileId;
use crate::check::{self, Diagnostic, FileEdit};
use crate::ide;
use crate::text::{self, Edit};

/// A fix can bring another to light; nothing that is put right needs more rounds than this.
const ROUNDS: usize = 10;

/// Applies every fix of the files that are asked for which needs nobody's judgement, and says how many.
pub(super) fn apply(session: &mut Session, targets: &[Target]) {
    let (mut made, mut files) = (0, BTreeSet::new());
    for target in targets {
        let mut given_up: BTreeSet<PathBuf> = BTreeSet::new();
        for _ in 0..ROUNDS {
            let loaded = load::load(target);
            let edits = edits(&loaded);
            let mut is_changed = false;
            for file in loaded.asked() {
                let own: Vec<Edit> = edits.iter().filter(|one| one.file == file).map(|one| one.edit.clone()).collect();
                let (path, old) = (loaded.path(file), &loaded.book.file(file).text);
                if own.is_empty() || given_up.contains(path) {
                    continue;
                }
                let new = text::apply(old, &own).map_err(|_| "two fixes of it meet".to_owned());
                match new.and_then(|new| write::replace(path, old, &new)) {
                    Ok(()) => {
                        is_changed = true;
                        made += own.len();
                        files.insert(path.to_owned());
                    }
                    Err(why) => {
                        session.terminal.warn(&format!("{} is left as it is: {why}", paths::shown(path)));
                        given_up.insert(path.to_owned());
                    }
                }
            }
            if !is_changed {
                break;
            }
        }
    }
    let files = counted(files.len(), "file");
    session.terminal.say(&format!("{} made in {files}", counted(made, "edit")));
}

/// The edits of all fixes that can be made at once, and lie in files that are asked for.
fn edits(loaded: &Loaded) -> Vec<FileEdit> {
    let is_asked = |one: &Diagnostic| {
        let edits = one.fixes.iter().flat_map(|fix| &fix.edits);
        edits.map(|edit| edit.file).chain([one.place.file]).all(|file| loaded.is_asked_for(file))
    };
    let found: Vec<Diagnostic> = check::check(&loaded.book).into_iter().filter(is_asked).collect();
    let mut edits: Vec<FileEdit> = Vec::new();
    for file in loaded.asked().collect::<Vec<FileId>>() {
        let own = ide::fix_all(&found, file, None);
        let is_free = |new: &FileEdit| {
            edits.iter().all(|old: &FileEdit| old.file != new.file || !old.edit.span.touches(new.edit.span))
        };
        if own.iter().all(is_free) {
            edits.extend(own);
        }
    }
    edits
}
