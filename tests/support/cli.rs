//! A folder of sheets, and the program run in it.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Output;

use assert_cmd::Command;
use tempfile::TempDir;

/// A setup of the shop, complete enough for results.
pub const FAN: &str = include_str!("../data/fan-wheel.rotor");

pub const BOOK: &str = "shop \"Tern Quay Rotor Shop\" {\n  format: 1\n}\n";

/// A sheet with one error: `unknown-key`.
pub const FAULTY: &str = "masses \"brass set\" {\n  values: 0.50 g, 1.00 g\n  uncertanty: 0.01 g\n}\n";

/// A sheet without any.
pub const CLEAN: &str = "masses \"steel set\" {\n  values: 0.50 g, 1.00 g\n  uncertainty: 0.01 g\n}\n";

/// A folder that is gone when the test is over.
pub struct Folder(TempDir);

impl Folder {
    /// With these files in it, by path and content.
    pub fn with(files: &[(&str, &str)]) -> Self {
        let folder = Self(tempfile::tempdir().unwrap());
        for (path, text) in files {
            folder.write(path, text.as_bytes());
        }
        folder
    }

    pub fn path(&self, path: &str) -> PathBuf {
        self.0.path().join(path)
    }

    pub fn write(&self, path: &str, bytes: &[u8]) {
        let path = self.path(path);
        fs::create_dir_all(path.parent().unwrap()).unwrap();
        fs::write(path, bytes).unwrap();
    }

    pub fn read(&self, path: &str) -> String {
        fs::read_to_string(self.path(path)).unwrap()
    }

    /// Runs the program in the folder; the arguments are separated by spaces.
    pub fn run(&self, arguments: &str) -> Ran {
        self.run_with(&arguments.split_whitespace().collect::<Vec<_>>())
    }

    pub fn run_with(&self, arguments: &[&str]) -> Ran {
        Ran(rotorbook(self.0.path()).args(arguments).output().unwrap())
    }
}

/// The program in a folder, without what the environment says of colours.
pub fn rotorbook(folder: &Path) -> Command {
    let mut command = assert_cmd::cargo::cargo_bin_cmd!("rotorbook");
    command.current_dir(folder).env_remove("NO_COLOR").env_remove("TERM").env_remove("CLICOLOR_FORCE");
    command
}

pub struct Ran(Output);

impl Ran {
    /// Of a command that was run otherwise.
    pub fn of(output: Output) -> Self {
        Self(output)
    }

    pub fn code(&self) -> i32 {
        self.0.status.code().unwrap()
    }

    pub fn stdout(&self) -> String {
        String::from_utf8(self.0.stdout.clone()).unwrap()
    }

    pub fn stderr(&self) -> String {
        String::from_utf8(self.0.stderr.clone()).unwrap()
    }

    /// The only document on stdout.
    pub fn json(&self) -> serde_json::Value {
        serde_json::from_str(&self.stdout()).unwrap()
    }

    /// A document for each line of stdout.
    pub fn documents(&self) -> Vec<serde_json::Value> {
        self.stdout().lines().map(|line| serde_json::from_str(line).unwrap()).collect()
    }

    /// It ended as it should, with nothing on the other stream.
    pub fn ends(&self, code: i32) -> &Self {
        assert_eq!(self.code(), code, "stdout:\n{}stderr:\n{}", self.stdout(), self.stderr());
        self
    }

    /// It was asked for something that cannot be done, and says so on stderr alone.
    pub fn is_misuse(&self, says: &str) {
        self.ends(2);
        assert_eq!(self.stdout(), "");
        assert!(self.stderr().contains(says), "{}", self.stderr());
    }
}
