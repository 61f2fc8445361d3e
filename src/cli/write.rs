//! Writing a file so that it is the old one or the new one at every moment, and never half of each.

use std::fs::{self, File, Metadata};
use std::io::{self, Write};
use std::path::Path;

use crate::disk::reason;

/// Replaces the text of a file.
///
/// The new text goes into a temporary file beside it, which takes its place in one step and has its permissions. `Err`
/// says why the file was left as it is: it may not be written, or it is no longer the text that `old` was read from.
/// `path` is no link: paths of the command line have been followed to the file they mean.
pub(super) fn replace(path: &Path, old: &str, new: &str) -> Result<(), String> {
    let metadata = fs::metadata(path).map_err(|error| reason(&error))?;
    if metadata.permissions().readonly() {
        return Err("it is read-only".to_owned());
    }
    let folder = path.parent().ok_or("it lies in no folder")?;
    let written = temporary(folder, &metadata, new).map_err(|error| format!("its folder: {}", reason(&error)))?;
    let now = fs::read(path).map_err(|error| reason(&error))?;
    if now != old.as_bytes() {
        return Err("it has been changed in the meantime".to_owned());
    }
    written.persist(path).map(|_| ()).map_err(|error| reason(&error.error))
}

/// A file beside the one it will replace, gone again unless it does. It is hidden, and no `.rotor` file.
fn temporary(folder: &Path, metadata: &Metadata, text: &str) -> io::Result<tempfile::NamedTempFile> {
    let mut written = tempfile::Builder::new().prefix(".rotorbook-").suffix(".tmp").tempfile_in(folder)?;
    written.write_all(text.as_bytes())?;
    keep_owner(written.as_file(), metadata);
    written.as_file().set_permissions(metadata.permissions())?;
    written.as_file().sync_all()?;
    Ok(written)
}

/// Gives the file to the owner of the one it replaces, as far as that is allowed.
#[cfg(unix)]
fn keep_owner(file: &File, metadata: &Metadata) {
    use std::os::unix::fs::{MetadataExt, fchown};
    let own = file.metadata().map(|own| (own.uid(), own.gid())).ok();
    if own != Some((metadata.uid(), metadata.gid())) {
        // Only the superuser may give files away; everybody else's new file is their own.
        let _ = fchown(file, Some(metadata.uid()), Some(metadata.gid()));
    }
}

#[cfg(not(unix))]
fn keep_owner(_: &File, _: &Metadata) {}

/// Writes a new file; `Err` says why not, for one when something of that name is there already.
pub(super) fn create(path: &Path, text: &str) -> Result<(), String> {
    let mut file = File::create_new(path).map_err(|error| match error.kind() {
        io::ErrorKind::AlreadyExists => "it is there already".to_owned(),
        io::ErrorKind::NotFound => "its folder is not there".to_owned(),
        _ => reason(&error),
    })?;
    file.write_all(text.as_bytes()).map_err(|error| reason(&error))
}

/// Writes what the program has made, in one step; what was there before is gone.
pub(super) fn output(path: &Path, bytes: &[u8]) -> Result<(), String> {
    let folder = path.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."));
    let write = || -> io::Result<()> {
        let mut written = tempfile::Builder::new().prefix(".rotorbook-").suffix(".tmp").tempfile_in(folder)?;
        written.write_all(bytes)?;
        readable_by_all(written.as_file())?;
        written.persist(path).map_err(|error| error.error)?;
        Ok(())
    };
    write().map_err(|error| match error.kind() {
        io::ErrorKind::NotFound => "its folder is not there".to_owned(),
        _ => reason(&error),
    })
}

/// Temporary files are their owner's alone; a card is for everybody.
#[cfg(unix)]
fn readable_by_all(file: &File) -> io::Result<()> {
    use std::os::unix::fs::PermissionsExt;
    file.set_permissions(fs::Permissions::from_mode(0o644))
}

#[cfg(not(unix))]
fn readable_by_all(_: &File) -> io::Result<()> {
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_file_that_was_changed_meanwhile_is_left_alone() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("a.rotor");
        fs::write(&path, "changed").unwrap();
        assert_eq!(replace(&path, "old", "new"), Err("it has been changed in the meantime".to_owned()));
        assert_eq!(fs::read_to_string(&path).unwrap(), "changed");
        assert_eq!(replace(&path, "changed", "new"), Ok(()));
        assert_eq!(fs::read_to_string(&path).unwrap(), "new");
        assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 1, "no temporary file stays");
    }

    #[test]
    fn a_new_file_replaces_nothing() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("a.rotor");
        assert_eq!(create(&path, "new"), Ok(()));
        assert_eq!(create(&path, "newer"), Err("it is there already".to_owned()));
        assert!(create(&path.join("b"), "new").is_err());
        assert_eq!(fs::read_to_string(&path).unwrap(), "new");
    }
}
