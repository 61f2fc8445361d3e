//! Writing a file so that it is the old one or the new one at every moment, and never half of each. The one place that
//! writes.
//!
//! The new text is put into a folder of its own beside the file, and takes the file's place in one step. The folder
//! hides itself from git; one that a killed run has left is taken away by the next run that writes there.

use std::fs::{self, File};
use std::io::{self, Read, Write};
use std::path::{Path, PathBuf};

use tempfile::{TempDir, TempPath};

use crate::disk::{self, reason};

/// What the folders begin with; they are hidden, and no walk enters them.
const WORKSHOP: &str = ".rotorbook-";

/// What git is told of such a folder, and what marks it as one.
const IGNORED: (&str, &str) = (".gitignore", "*\n");

/// How many letters and digits by chance follow in the name of such a folder.
const RANDOM: usize = 6;

/// What will take the place of a file.
const NEW: &str = "new";

/// Replaces the text of a file.
///
/// It keeps its owner, permissions and attributes. `Err` says why the file was left as it is: it may not be written,
/// it cannot be replaced whole, or it is no longer the text that `old` was read from.
pub(super) fn replace(path: &Path, old: &str, new: &str) -> Result<(), String> {
    let path = followed(path)?;
    let workshop = Workshop::beside(&path)?;
    let written = workshop.write(new.as_bytes(), Some(&path))?;
    if disk::bytes(&path)? != old.as_bytes() {
        return Err("it has been changed in the meantime".to_owned());
    }
    written.persist(&path).map_err(|error| reason(&error.error))?;
    settle(&path);
    Ok(())
}

/// Makes the step by which a file took its place outlast a power failure, where folders can be asked for that.
fn settle(path: &Path) {
    let folder = path.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."));
    // The file is whole in any case.
    let _ = File::open(folder).and_then(|folder| folder.sync_all());
}

/// Writes a new file, and the folders it lies in; `Err` says why not, for one when something of that name is there
/// already.
pub(super) fn create(path: &Path, text: &str) -> Result<(), String> {
    let there = || "it is there already".to_owned();
    if path.symlink_metadata().is_ok() {
        return Err(there());
    }
    let workshop = Workshop::beside(path)?;
    let written = workshop.write(text.as_bytes(), None)?;
    match written.persist_noclobber(path) {
        Ok(()) => {
            settle(path);
            Ok(())
        }
        Err(failed) if failed.error.kind() == io::ErrorKind::AlreadyExists => Err(there()),
        // Some disks of other systems know no such step.
        Err(failed) if path.symlink_metadata().is_err() => {
            failed.path.persist(path).map_err(|error| reason(&error.error))
        }
        Err(failed) => Err(reason(&failed.error)),
    }
}

/// Writes what the program has made, and the folders it lies in. What was there before is gone; a link stays one.
pub(super) fn output(path: &Path, bytes: &[u8]) -> Result<(), String> {
    put(path, bytes, false)
}

/// The same for a program that git runs.
pub(super) fn script(path: &Path, text: &str) -> Result<(), String> {
    put(path, text.as_bytes(), true)
}

fn put(path: &Path, bytes: &[u8], runs: bool) -> Result<(), String> {
    let there = path.symlink_metadata().is_ok();
    let path = if there { followed(path)? } else { path.to_owned() };
    let workshop = Workshop::beside(&path)?;
    let written = workshop.write(bytes, there.then_some(&path))?;
    if runs {
        let may_run = runnable(&written).map_err(|error| reason(&error));
        may_run?;
    }
    written.persist(&path).map_err(|error| reason(&error.error))
}

/// The file that a path means, when it can be replaced whole.
fn followed(path: &Path) -> Result<PathBuf, String> {
    let real = path.canonicalize().map_err(|error| match error.kind() {
        io::ErrorKind::NotFound if path.is_symlink() => "it is a link that leads nowhere".to_owned(),
        _ => reason(&error),
    })?;
    let metadata = real.metadata().map_err(|error| reason(&error))?;
    if metadata.is_dir() {
        return Err("it is a folder".to_owned());
    }
    if !metadata.is_file() {
        return Err("the file cannot be replaced".to_owned());
    }
    if metadata.permissions().readonly() {
        return Err("it is read-only".to_owned());
    }
    match kept::names(&metadata) {
        0 | 1 => Ok(real),
        // What replaces it would be another file, and the others would keep the old text.
        names => Err(format!("it is one file under {names} names (hard links), which would come apart")),
    }
}

/// A folder beside a file, in which what will take its place is made. Gone again at the end.
struct Workshop {
    folder: TempDir,
    /// Held as long as somebody works here.
    _lock: File,
}

impl Workshop {
    fn beside(path: &Path) -> Result<Self, String> {
        let folder = path.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."));
        fs::create_dir_all(folder).map_err(|error| of_folder(&error))?;
        sweep(folder);
        let made = || -> io::Result<Self> {
            let folder = tempfile::Builder::new().prefix(WORKSHOP).rand_bytes(RANDOM).tempdir_in(folder)?;
            let path = folder.path().join(IGNORED.0);
            let mut lock = File::create_new(&path)?;
            // Somebody who sweeps may have come between.
            if !kept::lock(&lock) || path.symlink_metadata().is_err() {
                return Err(io::ErrorKind::NotFound.into());
            }
            lock.write_all(IGNORED.1.as_bytes())?;
            Ok(Self { folder, _lock: lock })
        };
        let again = |error: io::Error| if error.kind() == io::ErrorKind::NotFound { made() } else { Err(error) };
        made().or_else(again).or_else(again).map_err(|error| of_folder(&error))
    }

    /// Writes what will take the place of `old`, with its owner, permissions and attributes.
    fn write(&self, bytes: &[u8], old: Option<&Path>) -> Result<TempPath, String> {
        let path = self.folder.path().join(NEW);
        let mut file = File::create_new(&path).map_err(|error| of_folder(&error))?;
        let written = TempPath::try_from_path(path).map_err(|error| reason(&error))?;
        file.write_all(bytes).map_err(|error| reason(&error))?;
        if let Some(old) = old {
            kept::keep(old, &file)?;
        }
        file.sync_all().map_err(|error| reason(&error))?;
        Ok(written)
    }
}

fn of_folder(error: &io::Error) -> String {
    match error.kind() {
        io::ErrorKind::AlreadyExists | io::ErrorKind::NotADirectory => "its folder is a file".to_owned(),
        _ => format!("its folder: {}", reason(error)),
    }
}

/// Takes away what a run that was killed has left in a folder. Whatever else may fail, that is not worth a word.
fn sweep(folder: &Path) {
    for entry in fs::read_dir(folder).into_iter().flatten().flatten() {
        if !entry.file_type().is_ok_and(|kind| kind.is_dir()) || !is_of_workshop(&entry.file_name()) {
            continue;
        }
        let path = entry.path();
        match disk::open(&path.join(IGNORED.0)) {
            // Held until it is gone.
            Ok(mark) if is_made_here(&mark, &path) && kept::is_left(&mark, &path) => {
                let _ = fs::remove_file(path.join(NEW));
                let _ = fs::remove_file(path.join(IGNORED.0));
                let _ = fs::remove_dir(&path);
            }
            Ok(_) => {}
            // Only an empty one goes: nothing has been made there yet.
            Err(_) => _ = fs::remove_dir(&path),
        }
    }
}

/// `.rotorbook-a1B2c3`
fn is_of_workshop(name: &std::ffi::OsStr) -> bool {
    let random = name.to_str().and_then(|name| name.strip_prefix(WORKSHOP));
    random.is_some_and(|random| random.len() == RANDOM && random.bytes().all(|byte| byte.is_ascii_alphanumeric()))
}

/// Whether nothing is in a folder but what is made in a workshop, so that nobody's own files are lost with it.
fn is_made_here(mark: &File, folder: &Path) -> bool {
    let mut text = String::new();
    // One that was killed may have written the beginning alone.
    let is_mark = mark.take(1024).read_to_string(&mut text).is_ok() && IGNORED.1.starts_with(&text);
    let is_known = |name: &std::ffi::OsStr| name == IGNORED.0 || name == NEW;
    is_mark && fs::read_dir(folder).is_ok_and(|all| all.flatten().all(|entry| is_known(&entry.file_name())))
}

#[cfg(unix)]
fn runnable(path: &Path) -> io::Result<()> {
    use std::os::unix::fs::PermissionsExt;
    fs::set_permissions(path, fs::Permissions::from_mode(0o755))
}

#[cfg(not(unix))]
fn runnable(_: &Path) -> io::Result<()> {
    Ok(())
}

/// What of a file is more than its text.
#[cfg(unix)]
mod kept {
    use std::ffi::{CStr, CString};
    use std::fs::{File, Metadata};
    use std::io;
    use std::os::unix::fs::{MetadataExt, fchown};
    use std::path::Path;

    use rustix::buffer::spare_capacity;
    use rustix::fs::{FlockOperation, XattrFlags, fgetxattr, flistxattr, flock, fremovexattr, fsetxattr};
    use rustix::io::Errno;

    use crate::disk::{self, reason};

    /// How many names the file has.
    pub fn names(metadata: &Metadata) -> u64 {
        metadata.nlink()
    }

    /// Marks that somebody works here; `false` when somebody else does.
    pub fn lock(file: &File) -> bool {
        // Where there are no locks, only the age of a folder tells that it was left.
        flock(file, FlockOperation::NonBlockingLockExclusive) != Err(Errno::WOULDBLOCK)
    }

    /// Whether nobody works in a folder any more.
    pub fn is_left(lock: &File, folder: &Path) -> bool {
        match flock(lock, FlockOperation::NonBlockingLockExclusive) {
            Ok(()) => true,
            Err(Errno::WOULDBLOCK) => false,
            Err(_) => super::is_old(folder),
        }
    }

    /// Gives `new` owner, permissions and attributes of the file at `old`; `Err` when it cannot be given all of them.
    pub fn keep(old: &Path, new: &File) -> Result<(), String> {
        let failed = |error: io::Error| reason(&error);
        let old = disk::open(old).map_err(failed)?;
        let metadata = old.metadata().map_err(failed)?;
        let own = new.metadata().map_err(failed)?;
        if (own.uid(), own.gid()) != (metadata.uid(), metadata.gid()) {
            // Only the superuser may give files away; everybody else's new file is their own.
            let _ = fchown(new, Some(metadata.uid()), Some(metadata.gid()));
        }
        new.set_permissions(metadata.permissions()).map_err(failed)?;
        let wanted = attributes(&old).map_err(failed)?;
        let made = attributes(new).map_err(failed)?;
        for name in made.iter().filter(|name| !wanted.contains(name) && !is_of_the_system(name)) {
            // Taken over from the folder's defaults.
            fremovexattr(new, name).map_err(|error| lost(name, error))?;
        }
        for name in &wanted {
            let copied = value(&old, name).and_then(|value| fsetxattr(new, name, &value, XattrFlags::empty()));
            if let Err(error) = copied
                && !is_of_the_system(name)
            {
                return Err(lost(name, error));
            }
        }
        Ok(())
    }

    /// Labels that the system itself gives to every file by its own rules.
    fn is_of_the_system(name: &CStr) -> bool {
        name.to_bytes().starts_with(b"security.") || name.to_bytes().starts_with(b"com.apple.")
    }

    fn lost(name: &CStr, error: Errno) -> String {
        format!("its attribute `{}` would be lost: {}", name.to_string_lossy(), reason(&error.into()))
    }

    /// The names of a file's extended attributes, lists of access rights among them.
    fn attributes(file: &File) -> io::Result<Vec<CString>> {
        let mut names: Vec<u8> = Vec::with_capacity(64 * 1024);
        match flistxattr(file, spare_capacity(&mut names)) {
            Ok(_) => {}
            Err(Errno::NOTSUP | Errno::NOSYS) => return Ok(Vec::new()),
            Err(error) => return Err(error.into()),
        }
        let names = names.split(|byte| *byte == 0).filter(|name| !name.is_empty());
        Ok(names.filter_map(|name| CString::new(name).ok()).collect())
    }

    fn value(file: &File, name: &CStr) -> Result<Vec<u8>, Errno> {
        let mut value = Vec::with_capacity(64 * 1024);
        fgetxattr(file, name, spare_capacity(&mut value))?;
        Ok(value)
    }
}

#[cfg(not(unix))]
mod kept {
    use std::fs::{File, Metadata};
    use std::path::Path;

    use crate::disk::reason;

    pub fn names(_: &Metadata) -> u64 {
        1
    }

    pub fn lock(_: &File) -> bool {
        true
    }

    pub fn is_left(_: &File, folder: &Path) -> bool {
        super::is_old(folder)
    }

    pub fn keep(old: &Path, new: &File) -> Result<(), String> {
        let kept = old.metadata().and_then(|metadata| new.set_permissions(metadata.permissions()));
        kept.map_err(|error| reason(&error))
    }
}

/// Whether a folder was made so long ago that nobody works in it any more.
fn is_old(folder: &Path) -> bool {
    const LONG: std::time::Duration = std::time::Duration::from_secs(600);
    let modified = folder.symlink_metadata().and_then(|metadata| metadata.modified());
    modified.is_ok_and(|modified| modified.elapsed().is_ok_and(|age| age > LONG))
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
        assert_eq!(create(&folder.path().join("new/folders/a.rotor"), "new"), Ok(()));
    }

    #[test]
    fn what_a_killed_run_has_left_is_swept_away_and_what_is_in_use_stays() {
        let folder = tempfile::tempdir().unwrap();
        let left = folder.path().join(".rotorbook-l3fT01");
        fs::create_dir(&left).unwrap();
        fs::write(left.join(IGNORED.0), IGNORED.1).unwrap();
        let in_use = Workshop::beside(&folder.path().join("a.rotor")).unwrap();
        assert!(cfg!(not(unix)) || !left.exists());
        assert_eq!(create(&folder.path().join("b.rotor"), "new"), Ok(()));
        assert!(in_use.folder.path().exists());
    }
}
