//! `workspace/willRenameFiles`: what is to be changed in sheets when files move.

use std::path::{Path, PathBuf};

use crate::book::FileId;
use crate::ide;
use crate::server::convert;
use crate::server::protocol::{RenameFilesParams, Url, WorkspaceEdit};
use crate::server::snapshot::{BookKey, BookView, FileView, View, path_of};

pub(in crate::server) fn will_move(view: &View, params: &RenameFilesParams) -> Option<WorkspaceEdit> {
    let path = |uri: &str| Url::parse(uri).ok().map(|url| path_of(&url));
    let moves = params.files.iter().filter_map(|file| Some((path(&file.old_uri)?, path(&file.new_uri)?)));
    let moves: Vec<(PathBuf, PathBuf)> = moves.collect();
    // Of several books the first that is concerned: an editor moves what lies together.
    view.books.iter().find_map(|book| in_book(view, book, &moves))
}

fn in_book(view: &View, in_book: &BookView, moves: &[(PathBuf, PathBuf)]) -> Option<WorkspaceEdit> {
    let BookKey::Folder(root) = &in_book.key else { return None };
    let moves: Vec<(String, String)> = moves
        .iter()
        .filter(|(old, new)| old.starts_with(root) && new.starts_with(root))
        .map(|(old, new)| (in_book.key.relative(old), in_book.key.relative(new)))
        .collect();
    if moves.is_empty() {
        return None;
    }
    let new_path = |path: &str| moves.iter().find_map(|(old, new)| moved(path, old, new));
    let is_there = |path: &str| root.join(path).is_file();
    let edits = ide::moved(&in_book.book, &new_path, &is_there);
    let file = FileView { view, in_book, file: edits.first().map_or(FileId(0), |edit| edit.file) };
    (!edits.is_empty()).then(|| convert::workspace_edit(file, &edits))?
}

/// Where a file goes when it, or a folder that it lies in, moves.
fn moved(path: &str, old: &str, new: &str) -> Option<String> {
    let rest = Path::new(path).strip_prefix(old).ok()?;
    match rest.as_os_str().is_empty() {
        true => Some(new.to_owned()),
        false => Some(format!("{new}/{}", rest.to_str()?)),
    }
}
