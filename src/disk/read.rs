//! The bytes of files, and why some have none.

use std::fs::File;
use std::io::{self, Read};
use std::path::{Component, Path};

use crate::book::SourceFile;
use crate::limits::FILE_BYTES;

/// The file at `path` as part of the book in `root`. What cannot be read stands in the book with its reason.
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
    let read = || -> io::Result<Vec<u8>> {
        let mut bytes = Vec::new();
        File::open(path)?.take(FILE_BYTES + 1).read_to_end(&mut bytes)?;
        Ok(bytes)
    };
    match read() {
        Ok(bytes) if bytes.len() as u64 > FILE_BYTES => {
            Err(format!("it has more than {} MiB, too much for a sheet", FILE_BYTES / (1024 * 1024)))
        }
        Ok(bytes) => Ok(bytes),
        Err(error) => Err(reason(&error)),
    }
}

/// The system's reason in its own words, without its number.
pub fn reason(error: &io::Error) -> String {
    let text = match error.kind() {
        io::ErrorKind::PermissionDenied => "permission denied".to_owned(),
        io::ErrorKind::NotFound => "it is not there".to_owned(),
        _ => error.to_string(),
    };
    match text.split_once(" (os error") {
        Some((words, _)) => words.to_lowercase(),
        None => text,
    }
}
