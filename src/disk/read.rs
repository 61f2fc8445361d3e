//! The bytes of files, and why some have none. The one place that opens a file for reading.

use std::fs::File;
use std::io::{self, Read};
use std::path::{Component, Path};

use crate::book::SourceFile;
use crate::limits::FILE_BYTES;

/// The file at `path` as part of the book in `root`. What cannot be read is in the book with its reason.
pub fn source(path: &Path, root: &Path) -> SourceFile {
    let relative = relative(path, root);
    match bytes(path) {
        Ok(bytes) => SourceFile::from_bytes(relative, bytes),
        Err(why) => SourceFile::unreadable(relative, why),
    }
}

/// The path of a file in the book in `root`, with `/`.
pub fn relative(path: &Path, root: &Path) -> String {
    match path.strip_prefix(root) {
        Ok(relative) if relative.as_os_str().is_empty() => ".".to_owned(),
        Ok(relative) => slashes(relative),
        Err(_) => slashes(path),
    }
}

/// A path with `/` between its parts, whatever the system writes.
pub fn slashes(path: &Path) -> String {
    if cfg!(not(windows)) {
        return path.to_string_lossy().into_owned();
    }
    let parts = path.components().filter(|part| !matches!(part, Component::RootDir));
    parts.map(|part| part.as_os_str().to_string_lossy().into_owned()).collect::<Vec<_>>().join("/")
}

/// The bytes of a file, or why there are none.
pub fn bytes(path: &Path) -> Result<Vec<u8>, String> {
    match all_bytes(path, FILE_BYTES + 1) {
        Ok(bytes) if bytes.len() as u64 > FILE_BYTES => {
            Err(format!("it has more than {} MiB, too much for a sheet", FILE_BYTES / (1024 * 1024)))
        }
        Ok(bytes) => Ok(bytes),
        Err(error) => Err(reason(&error)),
    }
}

/// The text of a file that need not be there.
pub fn text_if_there(path: &Path) -> Result<Option<String>, String> {
    match all_bytes(path, FILE_BYTES) {
        Ok(bytes) => String::from_utf8(bytes).map(Some).map_err(|_| "it is not UTF-8".to_owned()),
        Err(error) if error.kind() == io::ErrorKind::NotFound => Ok(None),
        Err(error) => Err(reason(&error)),
    }
}

/// The first bytes of a file, at most so many.
pub fn all_bytes(path: &Path, most: u64) -> io::Result<Vec<u8>> {
    let mut bytes = Vec::new();
    open(path)?.take(most).read_to_end(&mut bytes)?;
    Ok(bytes)
}

/// Opens a regular file. Anything else is refused, and never waited for: what it is is asked of the open file, for what
/// lies at a path may change from one moment to the next.
pub fn open(path: &Path) -> io::Result<File> {
    let file = at_once(path)?;
    let kind = file.metadata()?.file_type();
    match kind.is_file() {
        true => Ok(file),
        false if kind.is_dir() => Err(io::Error::other("is a directory")),
        false => Err(no_file()),
    }
}

/// Why a pipe, a socket or a device is not read.
pub(super) fn no_file() -> io::Error {
    io::Error::other("it is a pipe, a socket or a device, and no file")
}

#[cfg(unix)]
fn at_once(path: &Path) -> io::Result<File> {
    use std::os::unix::fs::OpenOptionsExt;

    use rustix::fs::OFlags;
    use rustix::io::Errno;
    let flags = OFlags::NONBLOCK | OFlags::NOCTTY;
    let opened = File::options().read(true).custom_flags(flags.bits().cast_signed()).open(path);
    match opened {
        // Another host has leased it for writing and is asked for it back, which takes a moment.
        Err(error) if error.kind() == io::ErrorKind::WouldBlock && path.metadata()?.is_file() => File::open(path),
        Err(error) if error.raw_os_error() == Some(Errno::NXIO.raw_os_error()) => Err(no_file()),
        opened => opened,
    }
}

#[cfg(not(unix))]
fn at_once(path: &Path) -> io::Result<File> {
    File::open(path)
}

/// The system's reason in its own words, without its number.
pub fn reason(error: &io::Error) -> String {
    let text = match error.kind() {
        io::ErrorKind::PermissionDenied => "permission denied".to_owned(),
        io::ErrorKind::NotFound => "it is not there".to_owned(),
        io::ErrorKind::StorageFull | io::ErrorKind::QuotaExceeded => "the disk is full".to_owned(),
        io::ErrorKind::ReadOnlyFilesystem => "the disk is read-only".to_owned(),
        _ => error.to_string(),
    };
    match text.split_once(" (os error") {
        Some((words, _)) => words.to_lowercase(),
        None => text,
    }
}
