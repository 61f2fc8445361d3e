//! A repository in a folder that is gone when the test is over, and the program run in it.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use serde_json::Value;
use tempfile::TempDir;

pub const SHOP: &str = "shop \"Tern Quay Rotor Shop\" {\n  format: 1\n}\n";

pub const ROTOR: &str = include_str!("../../examples/tern-quay/rotors/fan-wheel-315.rotor");
pub const SETUP: &str = include_str!("../../examples/tern-quay/setups/fan-wheel-315-soft-bench.rotor");
pub const MACHINE: &str = include_str!("../../examples/tern-quay/machines/soft-bench.rotor");
pub const MASSES: &str = include_str!("../../examples/tern-quay/masses.rotor");
pub const BOOK: &str = include_str!("../../examples/tern-quay/book.rotor");
pub const MATERIALS: &str = include_str!("../../examples/tern-quay/materials.rotor");

/// A small book, by path in it.
pub fn shop() -> Vec<(&'static str, &'static str)> {
    vec![
        ("book.rotor", BOOK),
        ("masses.rotor", MASSES),
        ("materials.rotor", MATERIALS),
        ("machines/soft-bench.rotor", MACHINE),
        ("rotors/fan-wheel-315.rotor", ROTOR),
        ("setups/fan-wheel-315.rotor", SETUP),
    ]
}

pub struct Repo {
    folder: TempDir,
    /// Where the program is started, below the top.
    pub below: String,
}

impl Repo {
    /// An empty repository.
    pub fn new() -> Self {
        let repo = Self { folder: tempfile::tempdir().unwrap(), below: String::new() };
        repo.git("init -q -b main");
        repo
    }

    /// One with the small book in a folder, committed.
    pub fn with_shop(below: &str) -> Self {
        let mut repo = Self::new();
        repo.below = below.to_owned();
        for (path, text) in shop() {
            repo.write(path, text);
        }
        repo.commit("the shop's book");
        repo
    }

    /// One with the whole example book, committed.
    pub fn with_tern_quay() -> Self {
        let repo = Self::new();
        let book = Path::new(env!("CARGO_MANIFEST_DIR")).join("examples/tern-quay");
        for folder in ["", "arbors", "machines", "records", "rotors", "setups"] {
            for file in fs::read_dir(book.join(folder)).unwrap().map(|file| file.unwrap().path()) {
                if file.extension().is_some_and(|ending| ending == "rotor") {
                    let path = file.strip_prefix(&book).unwrap().to_str().unwrap();
                    repo.write(path, &fs::read_to_string(&file).unwrap());
                }
            }
        }
        repo.commit("the shop's book");
        repo
    }

    pub fn top(&self) -> &Path {
        self.folder.path()
    }

    pub fn path(&self, path: &str) -> PathBuf {
        self.top().join(&self.below).join(path)
    }

    pub fn write(&self, path: &str, text: &str) {
        let path = self.path(path);
        fs::create_dir_all(path.parent().unwrap()).unwrap();
        fs::write(path, text).unwrap();
    }

    pub fn read(&self, path: &str) -> String {
        fs::read_to_string(self.path(path)).unwrap()
    }

    /// Replaces a piece that stands there, where it is first.
    pub fn edit(&self, path: &str, old: &str, new: &str) {
        let text = self.read(path);
        assert!(text.contains(old), "{path} has no {old}");
        self.write(path, &text.replacen(old, new, 1));
    }

    pub fn commit(&self, message: &str) {
        self.git("add -A");
        self.git_with(&["commit", "-q", "--no-verify", "-m", message]);
    }

    /// Git at the top; arguments are separated by spaces.
    pub fn git(&self, arguments: &str) -> String {
        self.git_with(&arguments.split(' ').collect::<Vec<_>>())
    }

    pub fn git_with(&self, arguments: &[&str]) -> String {
        let (code, text) = self.try_git(arguments);
        assert_eq!(code, 0, "git {arguments:?}: {text}");
        text
    }

    pub fn try_git(&self, arguments: &[&str]) -> (i32, String) {
        let output = git(self.top()).args(arguments).output().expect("git is needed by this test: install it");
        let text = [output.stdout, output.stderr].concat();
        (output.status.code().unwrap(), String::from_utf8(text).unwrap())
    }

    /// The program in the folder of the book.
    pub fn run(&self, arguments: &[&str]) -> Ran {
        run_in(&self.path(""), arguments)
    }

    pub fn json(&self, arguments: &[&str]) -> Value {
        let ran = self.run(&[arguments, &["--format", "json"]].concat());
        serde_json::from_str(&ran.stdout).unwrap_or_else(|_| panic!("{}{}", ran.stdout, ran.stderr))
    }

    /// Every alert of a comparison, as `code item`.
    pub fn alerts(&self, arguments: &[&str]) -> Vec<String> {
        let document = self.json(&[&["diff"], arguments].concat());
        let items = document["items"].as_array().unwrap();
        let alerts = items.iter().flat_map(|item| item["alerts"].as_array().unwrap());
        let text =
            |alert: &Value| format!("{} {}", alert["code"].as_str().unwrap(), alert["item"]["kind"].as_str().unwrap());
        alerts.map(text).collect()
    }

    /// Every alert of one code, as `path: old → new, note`.
    pub fn alerts_of(&self, code: &str, arguments: &[&str]) -> Vec<String> {
        let document = self.json(&[&["diff"], arguments].concat());
        let items = document["items"].as_array().unwrap();
        let alerts = items.iter().flat_map(|item| item["alerts"].as_array().unwrap());
        let text = |alert: &Value| {
            let path: Vec<&str> = alert["path"].as_array().unwrap().iter().map(|p| p.as_str().unwrap()).collect();
            let side = |side: &str| alert[side].as_str().unwrap_or("–").to_owned();
            format!("{}: {} → {}, {}", path.join(" / "), side("old"), side("new"), side("note"))
        };
        alerts.filter(|alert| alert["code"] == code).map(text).collect()
    }

    /// Every changed fact of a comparison, as `item: path old → new`.
    pub fn facts(&self, arguments: &[&str]) -> Vec<String> {
        let document = self.json(&[&["diff"], arguments].concat());
        let mut facts = Vec::new();
        for item in document["items"].as_array().unwrap() {
            for fact in item["facts"].as_array().unwrap() {
                let path: Vec<&str> = fact["path"].as_array().unwrap().iter().map(|p| p.as_str().unwrap()).collect();
                let side = |side: &str| fact[side].as_str().unwrap_or("–").to_owned();
                let name = item["name"].as_str().unwrap();
                facts.push(format!("{name}: {} {} → {}", path.join(" / "), side("old"), side("new")));
            }
        }
        facts
    }
}

/// Git without the settings of machine and person.
pub fn git(folder: &Path) -> Command {
    let mut command = Command::new("git");
    isolated(&mut command);
    command.current_dir(folder);
    command
}

fn isolated(command: &mut Command) {
    command.env("GIT_CONFIG_NOSYSTEM", "1").env("GIT_CONFIG_GLOBAL", "/dev/null");
    for (who, name) in [("AUTHOR", "Tern"), ("COMMITTER", "Quay")] {
        command.env(format!("GIT_{who}_NAME"), name).env(format!("GIT_{who}_EMAIL"), "shop@tern-quay.example");
    }
    for variable in ["GIT_DIR", "GIT_WORK_TREE", "GIT_INDEX_FILE", "GIT_PREFIX"] {
        command.env_remove(variable);
    }
}

pub struct Ran {
    pub code: i32,
    pub stdout: String,
    pub stderr: String,
}

impl Ran {
    pub fn ends(self, code: i32) -> Self {
        assert_eq!(self.code, code, "stdout:\n{}\nstderr:\n{}", self.stdout, self.stderr);
        self
    }

    pub fn is_misuse(&self, says: &str) {
        assert_eq!((self.code, self.stdout.as_str()), (2, ""), "{}", self.stderr);
        assert!(self.stderr.contains(says), "{}", self.stderr);
    }
}

pub fn run_in(folder: &Path, arguments: &[&str]) -> Ran {
    run_with(folder, arguments, |_| {})
}

pub fn run_with(folder: &Path, arguments: &[&str], prepare: impl Fn(&mut Command)) -> Ran {
    let mut command = Command::new(env!("CARGO_BIN_EXE_rotorbook"));
    isolated(&mut command);
    command.current_dir(folder).args(arguments).env_remove("NO_COLOR");
    prepare(&mut command);
    let output = command.output().unwrap();
    let text = |bytes: Vec<u8>| String::from_utf8(bytes).unwrap();
    Ran { code: output.status.code().unwrap(), stdout: text(output.stdout), stderr: text(output.stderr) }
}
