//! How git treats sheets: their line ends, and the heading over each piece of a difference.

use std::path::Path;

use super::{Done, cannot};
use crate::cli::{Failure, paths, write};
use crate::disk;
use crate::git::Repository;

/// Sheets end their lines alike everywhere. Where a clone has no driver of this name, git merges them as lines.
const LINE: &str = "*.rotor text eol=lf diff=rotor merge=rotor";

/// What `init` wrote before sheets were merged by what they say.
const FORMER: &str = "*.rotor text eol=lf diff=rotor";

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
    let is_former = |line: &str| line.split_whitespace().eq(FORMER.split_whitespace());
    if let Some(line) = there.lines().find(own) {
        if is_former(line) {
            let text = there.replacen(line, LINE, 1);
            write::output(&path, text.as_bytes()).map_err(|why| cannot(&path, "written", &why))?;
            return Ok(Done::Written(shown));
        }
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

/// What the attribute `merge=rotor` asks for.
const MERGE: &str = "merge.rotor.driver";
const MERGE_NAME: (&str, &str) = ("merge.rotor.name", "setup sheets, fact by fact");

/// Sets the heading of differences in this clone, and how its sheets are merged.
pub(super) fn set_drivers(repository: &Repository, overwrite: bool) -> Result<[Done; 2], Failure> {
    let driver = format!("{} merge %O %A %B --path %P --marker-size %L --ours %X --theirs %Y", super::hook::program());
    let merge = set(repository, MERGE, &driver, overwrite)?;
    if matches!(merge, Done::Written(_)) {
        repository.set(MERGE_NAME.0, MERGE_NAME.1)?;
    }
    Ok([set(repository, DRIVER, HEADING, overwrite)?, merge])
}

fn set(repository: &Repository, setting: &str, value: &str, overwrite: bool) -> Result<Done, Failure> {
    let what = format!("the setting {setting} of this clone");
    match repository.setting(setting) {
        Some(there) if there == value => return Ok(Done::There(what)),
        Some(_) if !overwrite => {
            let what = format!("{what} is there already, and is left as it is");
            return Ok(Done::Left { what, help: "--overwrite replaces it".to_owned() });
        }
        _ => {}
    }
    repository.set(setting, value)?;
    Ok(Done::Written(what))
}
