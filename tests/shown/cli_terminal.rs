//! At a terminal: the pager, `--watch`, and names that a shell completes.

use std::io::{BufRead, BufReader};
use std::path::Path;
use std::process::{Child, Command, Stdio};
use std::sync::mpsc::{Receiver, channel};
use std::time::{Duration, Instant};

use crate::support::cli::{BOOK, CLEAN, FAULTY, Folder, rotorbook};

fn program() -> &'static str {
    env!("CARGO_BIN_EXE_rotorbook")
}

fn shop() -> std::path::PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("examples/tern-quay")
}

/// Runs a command line in a terminal of its own, as `script` of util-linux makes one.
#[cfg(target_os = "linux")]
fn in_a_terminal(line: &str, pager: Option<&str>) -> String {
    let mut command = Command::new("script");
    command.args(["-qec", &format!("'{}' {line}", program()), "/dev/null"]).current_dir(shop());
    command.env_remove("ROTORBOOK_PAGER").env_remove("PAGER").env("TERM", "dumb").stdin(Stdio::null());
    if let Some(pager) = pager {
        command.env("PAGER", pager);
    }
    let output = command.output().expect("`script` of util-linux is needed by this test: install it");
    String::from_utf8(output.stdout).unwrap()
}

#[test]
#[cfg(target_os = "linux")]
fn long_output_goes_through_the_pager_of_a_terminal() {
    let mark = Some("sed 's/^/paged: /'");
    for line in ["list --kind machine", "explain unknown-key", "show 'fan wheel 315' --kind rotor"] {
        let said = in_a_terminal(line, mark);
        assert!(said.lines().filter(|line| !line.is_empty()).all(|line| line.starts_with("paged: ")), "{said}");
        assert!(!in_a_terminal(&format!("--no-pager {line}"), mark).contains("paged"), "{line}");
    }
    // What is said beside it waits until the pager has ended, and an error is seen however short it is.
    let said = in_a_terminal("show nobody", mark);
    assert!(said.contains("the book has no item \"nobody\"") && !said.contains("paged"), "{said}");
    for none in ["", "cat"] {
        assert!(in_a_terminal("list --kind machine", Some(none)).contains("soft bench"));
    }
    // Of itself it pages on no terminal that cannot move its cursor.
    assert!(in_a_terminal("list --kind machine", None).contains("soft bench"));
    // A check tells what it does while it does it.
    assert!(!in_a_terminal("check", mark).contains("paged"));
}

#[test]
fn nothing_is_paged_where_no_terminal_is() {
    let output =
        rotorbook(&shop()).args(["list", "--kind", "machine"]).env("PAGER", "sed s/^/paged:/").output().unwrap();
    assert!(!String::from_utf8(output.stdout).unwrap().contains("paged"));
}

/// The lines that a child says, as they come.
fn lines_of(child: &mut Child) -> Receiver<String> {
    let (tell, told) = channel();
    let said = BufReader::new(child.stderr.take().unwrap());
    std::thread::spawn(move || said.lines().map_while(Result::ok).all(|line| tell.send(line).is_ok()));
    told
}

/// A program that watches, and what it says, waited for.
struct Watching {
    child: Child,
    told: Receiver<String>,
}

impl Watching {
    fn begin(folder: &Folder, arguments: &[&str]) -> Self {
        let mut command = Command::new(program());
        command.args(arguments).current_dir(folder.path("")).stdout(Stdio::null()).stderr(Stdio::piped());
        let mut child = command.spawn().unwrap();
        let told = lines_of(&mut child);
        Self { child, told }
    }

    fn wait_for(&self, words: &str) {
        let mut lines = std::iter::from_fn(|| self.told.recv_timeout(Duration::from_secs(60)).ok());
        assert!(lines.any(|line| line.contains(words)), "it never says `{words}`");
    }
}

impl Drop for Watching {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

fn within_a_minute(holds: impl Fn() -> bool) {
    let until = Instant::now() + Duration::from_secs(60);
    while !holds() {
        assert!(Instant::now() < until, "it never comes");
        std::thread::sleep(Duration::from_millis(20));
    }
}

#[test]
fn a_card_that_is_watched_is_written_again_and_outlives_a_name_that_is_gone() {
    let rotor = |name: &str| format!("rotor {name} {{\n  mass: 4 kg\n}}\n");
    let folder = Folder::with(&[("book.rotor", BOOK), ("a.rotor", &rotor("fan"))]);
    let watching = Watching::begin(&folder, &["card", "fan", "--kind", "rotor", "-o", "card.txt", "--watch"]);
    watching.wait_for("watching for changes");
    assert!(folder.read("card.txt").contains("4 kg"));
    folder.write("a.rotor", rotor("pump").as_bytes());
    watching.wait_for("no rotor");
    folder.write("a.rotor", rotor("fan").replace("4 kg", "5 kg").as_bytes());
    // One change to a file may be seen as several, each with its own line: the card itself is waited for.
    within_a_minute(|| folder.read("card.txt").contains("5 kg"));
    drop(watching);
    let watching = Watching::begin(&folder, &["show", "fan", "--watch"]);
    watching.wait_for("watching for changes");
}

#[test]
fn a_check_that_watches_checks_again_when_a_sheet_has_changed() {
    let folder = Folder::with(&[("book.rotor", BOOK), ("a.rotor", FAULTY)]);
    let watching = Watching::begin(&folder, &["check", "--watch"]);
    watching.wait_for("1 error in 2 files");
    watching.wait_for("watching for changes");
    folder.write("a.rotor", CLEAN.as_bytes());
    watching.wait_for("nothing to report in 2 files");
    folder.write("more/b.rotor", FAULTY.replace("brass", "lead").as_bytes());
    watching.wait_for("1 error in 3 files");
    std::fs::remove_file(folder.path("more/b.rotor")).unwrap();
    watching.wait_for("nothing to report in 2 files");
    folder.run("check --watch --fix").is_misuse("cannot be used with");
    folder.run("check --watch --format json").is_misuse("cannot be used with");
}

fn completed(words: &[&str]) -> Vec<String> {
    let output = rotorbook(&shop()).args(["complete", "--"]).args(words).output().unwrap();
    assert!(output.status.success() && output.stderr.is_empty(), "{output:?}");
    String::from_utf8(output.stdout).unwrap().lines().map(str::to_owned).collect()
}

#[test]
fn names_are_completed_where_a_name_is_wanted() {
    assert_eq!(
        completed(&["show", "\"fan wheel 315 on the soft bench,"]),
        ["fan wheel 315 on the soft bench, five grams"]
    );
    assert_eq!(completed(&["show", "--kind", "rotor", "fan"]), ["fan wheel 315", "fan wheel 400", "fan wheel 560"]);
    assert_eq!(completed(&["trend", "st"]), ["stiff bench"]);
    assert_eq!(completed(&["new", "setup", "--for", "pump"]), ["pump impeller 125"]);
    assert_eq!(
        completed(&["show", "fan wheel 315 on the soft bench", "calibrate hub / reading at"]),
        ["calibrate hub / reading at tolerance"]
    );
    for nothing in [&["check", "fan"][..], &["show", "--format", ""], &["nobody", ""], &["--color", ""], &[""]] {
        assert!(completed(nothing).is_empty(), "{nothing:?}");
    }
    // Away from any book a shell hears nothing.
    let folder = Folder::with(&[]);
    let ran = folder.run_with(&["complete", "--", "show", ""]);
    assert_eq!((ran.code(), ran.stdout(), ran.stderr()), (0, String::new(), String::new()));
}

/// The script in zsh, at a terminal of its own, as one who types and presses Tab; nothing where there is no zsh.
#[test]
#[cfg(unix)]
fn zsh_completes_names_with_spaces() {
    if Command::new("zsh").arg("--version").output().is_err() {
        return;
    }
    let folder = Path::new(program()).parent().unwrap();
    let script = r#"zmodload zsh/zpty
        zpty shell zsh -f -i
        zpty -w shell 'PS1=; autoload -U compinit; compinit -u -D; source <(rotorbook completions zsh); print re''ady'
        zpty -r shell line '*ready*'
        zpty -w -n shell $'rotorbook show fan\\ wheel\\ 4\t'
        zpty -r shell line '*400*'
        print -r -- "$line""#;
    let path = format!("{}:{}", folder.display(), std::env::var("PATH").unwrap());
    let mut command = Command::new("timeout");
    let output =
        command.args(["60", "zsh", "-f", "-c", script]).current_dir(shop()).env("PATH", path).output().unwrap();
    let said = String::from_utf8_lossy(&output.stdout);
    assert!(said.contains("wheel\\ 400"), "{output:?}");
}

/// The script in bash, asked as bash asks it.
#[test]
#[cfg(unix)]
fn bash_completes_names_with_spaces() {
    let script = "source <(rotorbook completions bash)
        COMP_WORDS=(rotorbook show '\"fan wheel 4'); COMP_CWORD=2
        _rotorbook_names rotorbook 'fan wheel 4' show
        printf '%s|' \"${COMPREPLY[@]}\"
        COMP_WORDS=(rotorbook check --den); COMP_CWORD=2
        _rotorbook_names rotorbook --den check
        printf '%s|' \"${COMPREPLY[@]}\"";
    let folder = Path::new(program()).parent().unwrap();
    let path = format!("{}:{}", folder.display(), std::env::var("PATH").unwrap());
    let output =
        Command::new("bash").args(["--norc", "-c", script]).current_dir(shop()).env("PATH", path).output().unwrap();
    let said = String::from_utf8_lossy(&output.stdout);
    let expected = "fan wheel 400|fan wheel 400 on the soft bench|fan wheel 400, 26-0077|--deny|";
    assert_eq!(said, expected, "{output:?}");
}
