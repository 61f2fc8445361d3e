//! A folder of sheets that goes when the test ends.

use std::fs;
use std::path::{Path, PathBuf};

use tempfile::TempDir;

pub struct Folder {
    root: PathBuf,
    _folder: TempDir,
}

impl Folder {
    pub fn of<'a>(files: impl IntoIterator<Item = (&'a str, &'a str)>) -> Self {
        let folder = tempfile::tempdir().expect("a folder can be made");
        let root = folder.path().canonicalize().expect("the folder is there");
        let folder = Self { root, _folder: folder };
        for (path, text) in files {
            folder.write(path, text);
        }
        folder
    }

    pub fn root(&self) -> &Path {
        &self.root
    }

    pub fn path(&self, path: &str) -> PathBuf {
        self.root.join(path)
    }

    pub fn write(&self, path: &str, text: &str) -> PathBuf {
        let path = self.path(path);
        fs::create_dir_all(path.parent().expect("it lies in the folder")).expect("folders can be made");
        fs::write(&path, text).expect("the file can be written");
        path
    }
}
