//! How git treats sheets: their line ends, and the heading over each piece of a difference.

use std::path::Path;

use super::{Done, cannot};
use crate::cli::{Failure, paths, write};
use crate::disk;
use crate::git::Repository;

/// Sheets end their lines alike everywhere. They are never merged line by line as a union: two values of one fact would
/// both stay.
const LINE: &str = "*.rotor text eol=lf diff=rotor";

/// The setting that the attribute `diff=rotor` asks for; git takes no such setting from a file of the repository.
const DRIVER: &str = "diff.rotor.xfuncname";

/// The line of an item, of which git shows kind and name. Blocks within it, however far they are indented, are none, and
/// neither are facts that begin like one: `rotor: "fan wheel"`, `record: "x {"`. Between brackets a backslash would stand
/// for itself, so that tabs are written as such.
const HEADING: &str = concat!(
    "^[ \t]*((shop|material|masses|machine|arbor|rotor|setup|record)",
    "([ \t]+(\"[^\"]*\"(\"[^\"]*\")*|[^]\"{}:=# \t[]+))?)[ \t]*\\{"
);

/// Adds the line to `.gitattributes`; lines that are there stay.
pub(super) fn write(folder: &Path) -> Result<Done, Failure> {
    let path = folder.join(".gitattributes");
    let shown = paths::shown(&path);
    let there = disk::text_if_there(&path).map_err(|why| cannot(&path, "read", &why))?.unwrap_or_default();
    let own = |line: &&str| line.split_whitespace().next() == Some("*.rotor");
    if let Some(line) = there.lines().find(own) {
        return Ok(match line.split_whitespace().eq(LINE.split_whitespace()) {
            true => Done::There(shown),
            false => Done::Left {
                what: format!("{shown} says something else of sheets, and is left as it is: `{line}`"),
                help: format!("write `{LINE}` there instead"),
            },
        });
    }
    let between = if there.is_empty() || there.ends_with('\n') { "" } else { "\n" };
    let text = format!("{there}{between}{LINE}\n");
    write::output(&path, text.as_bytes()).map_err(|why| cannot(&path, "written", &why))?;
    Ok(Done::Written(shown))
}

/// Sets the heading of differences in this clone.
pub(super) fn set_driver(repository: &Repository, overwrite: bool) -> Result<Done, Failure> {
    let what = format!("the setting {DRIVER} of this clone");
    match repository.setting(DRIVER) {
        Some(there) if there == HEADING => return Ok(Done::There(what)),
        Some(_) if !overwrite => {
            let what = format!("{what} is there already, and is left as it is");
            return Ok(Done::Left { what, help: "--overwrite replaces it".to_owned() });
        }
        _ => {}
    }
    repository.set(DRIVER, HEADING)?;
    Ok(Done::Written(what))
}
