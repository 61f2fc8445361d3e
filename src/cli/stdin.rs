//! A sheet on standard input, in the place of a file of its book: for editors and tools that hand a text on.

use std::io::{self, Read};
use std::path::{Path, PathBuf};

use clap::Args;

use super::Failure;
use super::paths::Target;
use crate::disk::{self, reason};
use crate::limits::FILE_BYTES;

/// The name of a sheet on standard input where none is given.
const UNNAMED: &str = "stdin.rotor";

#[derive(Args)]
pub(super) struct StdinArguments {
    /// With `-`: the name of the file, whether it exists or not; its book is read around it
    #[arg(long, value_name = "FILE")]
    stdin_filename: Option<PathBuf>,
}

/// A file that is read from standard input instead of from disk.
pub(super) struct Handed {
    pub path: PathBuf,
    pub bytes: Vec<u8>,
    /// Its book, of which nothing else is asked for.
    pub target: Target,
}

impl StdinArguments {
    /// The file on standard input, where `-` asks for one.
    pub fn handed(&self, paths: &[PathBuf], book: Option<&Path>) -> Result<Option<Handed>, Failure> {
        let is_asked = paths.iter().any(|path| path.as_os_str() == "-");
        match (is_asked, &self.stdin_filename) {
            (false, None) => return Ok(None),
            (false, Some(_)) => {
                return Err(Failure::new("`--stdin-filename` needs `-`: it names the sheet on standard input"));
            }
            (true, _) if paths.len() > 1 => {
                return Err(Failure::new("`-` is one sheet on standard input: give no other path with it"));
            }
            (true, _) => {}
        }
        let named = self.stdin_filename.as_deref().unwrap_or(Path::new(UNNAMED));
        let cannot = |why: String| Failure::new(format!("`{}` cannot be placed: {why}", named.display()));
        if !disk::is_rotor(named) {
            return Err(Failure::new(format!("`{}` is not a `.rotor` file", named.display())));
        }
        let path = std::path::absolute(named).map_err(|error| cannot(reason(&error)))?;
        let folder = path.parent().unwrap_or(Path::new("/"));
        let folder = folder.canonicalize().map_err(|error| cannot(format!("its folder: {}", reason(&error))))?;
        let path = folder.join(path.file_name().unwrap_or_default());
        let root = match book {
            Some(book) => Some(book.canonicalize().map_err(|error| cannot(reason(&error)))?),
            None => disk::book_above(&path),
        };
        let (root, single) = match root {
            Some(root) => (root, None),
            None => (folder, Some(path.clone())),
        };
        let target = Target { root, single, asked: vec![path.clone()] };
        let mut bytes = Vec::new();
        let read = io::stdin().lock().take(FILE_BYTES + 1).read_to_end(&mut bytes);
        read.map_err(|error| Failure::new(format!("standard input cannot be read: {}", reason(&error))))?;
        if bytes.len() as u64 > FILE_BYTES {
            return Err(Failure::new("what is on standard input is too long for a sheet"));
        }
        Ok(Some(Handed { path, bytes, target }))
    }
}
