//! The edge to the system: arguments of any bytes, files that are none, disks that are full, runs that are killed.

use std::ffi::OsStr;
use std::fs;
use std::os::unix::ffi::OsStrExt;
use std::os::unix::fs::{MetadataExt, PermissionsExt, symlink};
use std::path::{Path, PathBuf};
use std::process::Command;
use std::time::{Duration, Instant};

use crate::support::cli::{BOOK, CLEAN, FAULTY, Folder, rotorbook};

const UNTIDY: &str = "masses   \"steel set\" {\n  values: 0.50 g, 1.00 g\n  uncertainty: 0.01 g\n}\n";

/// A pipe with nobody at its other end; whoever opens it to read waits for ever.
fn pipe(path: &Path) {
    assert!(Command::new("mkfifo").arg(path).status().unwrap().success());
}

#[test]
fn a_name_that_is_no_text_is_a_name() {
    let folder = Folder::with(&[("a.rotor", CLEAN)]);
    let odd = OsStr::from_bytes(b"caf\xe9.rotor");
    fs::write(folder.path("").join(odd), CLEAN).unwrap();
    for command in ["check", "fmt", "pin"] {
        let output = rotorbook(&folder.path("")).arg(command).arg(odd).output().unwrap();
        assert_eq!(output.status.code(), Some(0), "{command}: {}", String::from_utf8_lossy(&output.stderr));
    }
    for command in ["show", "explain", "--color", "new", "diff", "history", "lsp"] {
        let output = rotorbook(&folder.path("")).args([OsStr::new(command), odd]).output().unwrap();
        assert_eq!(output.status.code(), Some(2), "{command}: {}", String::from_utf8_lossy(&output.stderr));
        assert!(!String::from_utf8_lossy(&output.stderr).contains("panicked"));
    }
}

#[test]
fn nothing_but_files_is_read_and_nothing_is_waited_for() {
    let started = Instant::now();
    let folder = Folder::with(&[("book/book.rotor", BOOK), ("odd/q.rotor", CLEAN), ("t.csv", "name\na\n")]);
    pipe(&folder.path("a.rotor"));
    pipe(&folder.path("book/b.rotor"));
    pipe(&folder.path("odd/book.rotor"));
    pipe(&folder.path("pipe.csv"));
    let _socket = std::os::unix::net::UnixListener::bind(folder.path("s.rotor")).unwrap();
    symlink("/dev/zero", folder.path("zero.rotor")).unwrap();
    folder.run("check zero.rotor").is_misuse("is not a `.rotor` file");
    for arguments in ["check a.rotor", "check s.rotor", "check book", "fmt a.rotor"] {
        let ran = folder.run(arguments);
        ran.ends(1);
        let said = ran.stdout() + &ran.stderr();
        assert!(said.contains("no file"), "{arguments}: {said}");
    }
    folder.run("fmt odd/q.rotor").ends(0);
    folder.run("new rotor --from-csv pipe.csv").is_misuse("no file");
    assert!(started.elapsed() < Duration::from_secs(60));
}

/// A file that is a pipe one moment and a sheet the next.
#[test]
fn what_changes_while_it_is_looked_for_is_not_waited_for() {
    let folder = Folder::with(&[("book.rotor", BOOK), ("a.rotor", CLEAN)]);
    let path = folder.path("a.rotor");
    let stop = std::sync::atomic::AtomicBool::new(false);
    std::thread::scope(|scope| {
        scope.spawn(|| {
            while !stop.load(std::sync::atomic::Ordering::Relaxed) {
                fs::remove_file(&path).unwrap();
                pipe(&path);
                fs::remove_file(&path).unwrap();
                fs::write(&path, CLEAN).unwrap();
            }
        });
        for _ in 0..30 {
            let started = Instant::now();
            assert!(folder.run("check --format json").code() < 2);
            assert!(started.elapsed() < Duration::from_secs(20));
        }
        stop.store(true, std::sync::atomic::Ordering::Relaxed);
    });
}

#[test]
fn only_two_places_open_files() {
    let words = [
        ("src/disk/read.rs", ["File::open", "fs::read(", "read_to_string(", "OpenOptions", "File::options"]),
        ("src/cli/write.rs", ["File::create", "fs::write(", "fs::rename", "fs::copy", "NamedTempFile"]),
    ];
    for file in sources(&Path::new(env!("CARGO_MANIFEST_DIR")).join("src")) {
        let text = fs::read_to_string(&file).unwrap();
        let code = text.split("#[cfg(test)]").next().unwrap();
        for (place, words) in words {
            let found = words.iter().find(|word| code.contains(**word));
            // What writes opens its own locks and what it replaces, which is a file.
            let may = file.ends_with(place) || file.ends_with("src/cli/write.rs") || file.ends_with("tests.rs");
            assert!(found.is_none() || may, "{} has {found:?}, which belongs in {place}", file.display());
        }
    }
}

fn sources(folder: &Path) -> Vec<PathBuf> {
    let entries = fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path());
    let files = entries.flat_map(|path| if path.is_dir() { sources(&path) } else { vec![path] });
    files.filter(|path| path.extension().is_some_and(|extension| extension == "rs")).collect()
}

/// The disk is as good as full: no file may grow beyond a few bytes.
fn with_little_room(folder: &Folder, arguments: &str) -> (i32, String) {
    let binary = assert_cmd::cargo::cargo_bin!("rotorbook");
    let command = format!("ulimit -f 0; trap '' XFSZ; exec {} {arguments}", binary.display());
    let output = Command::new("sh").args(["-c", &command]).current_dir(folder.path("")).output().unwrap();
    (output.status.code().unwrap_or(-1), String::from_utf8_lossy(&output.stderr).into_owned())
}

#[test]
fn a_full_disk_leaves_nothing_half_written() {
    let folder = Folder::with(&[]);
    for arguments in ["init .", "new rotor -o a.rotor", "new rotor -o new/folder/a.rotor"] {
        let (code, said) = with_little_room(&folder, arguments);
        assert_eq!(code, 2, "{arguments}: {said}");
    }
    assert!(!folder.path("book.rotor").exists() && !folder.path("a.rotor").exists());
    folder.write("b.rotor", UNTIDY.as_bytes());
    assert_eq!(with_little_room(&folder, "fmt b.rotor").0, 1);
    assert_eq!(folder.read("b.rotor"), UNTIDY);
    // Nothing is in the way of the next try.
    folder.run("new rotor -o a.rotor").ends(0);
    folder.run("new rotor -o more/folders/a.rotor").ends(0);
    assert!(
        fs::read_dir(folder.path(""))
            .unwrap()
            .all(|entry| { !entry.unwrap().file_name().to_string_lossy().starts_with(".rotorbook") })
    );
}

#[test]
fn what_a_killed_run_leaves_is_unknown_to_git_and_gone_with_the_next() {
    let folder = Folder::with(&[("a.rotor", UNTIDY)]);
    let git = |arguments: &[&str]| {
        let output = Command::new("git").args(arguments).current_dir(folder.path("")).output().unwrap();
        String::from_utf8(output.stdout).unwrap()
    };
    git(&["init", "-q"]);
    // As a run is killed between making its text and putting it in place.
    folder.write(".rotorbook-x1y2z3/.gitignore", b"*\n");
    folder.write(".rotorbook-x1y2z3/new", b"half a te");
    assert_eq!(git(&["status", "--porcelain", "-uall"]), "?? a.rotor\n");
    folder.run("fmt").ends(0);
    assert!(!folder.path(".rotorbook-x1y2z3").exists());
    assert_eq!(folder.read("a.rotor"), CLEAN);
}

#[test]
fn a_folder_that_holds_anything_else_is_somebodys_own() {
    let folder = Folder::with(&[("a.rotor", UNTIDY)]);
    for (name, text) in [
        (".rotorbook-archive/.gitignore", "private.txt\n"),
        (".rotorbook-archive/old/notes.txt", "kept"),
        (".rotorbook-a1B2c3/.gitignore", "*\n"),
        (".rotorbook-a1B2c3/notes.txt", "kept"),
        (".rotorbook-d4E5f6/.gitignore", "notes.txt\n"),
        (".rotorbook-d4E5f6/new", "kept"),
        ("elsewhere/.gitignore", "*\n"),
        ("elsewhere/new", "kept"),
    ] {
        fs::create_dir_all(folder.path(name).parent().unwrap()).unwrap();
        folder.write(name, text.as_bytes());
    }
    symlink(folder.path("elsewhere"), folder.path(".rotorbook-g7H8i9")).unwrap();
    folder.run("fmt a.rotor").ends(0);
    for kept in [
        ".rotorbook-archive/.gitignore",
        ".rotorbook-archive/old/notes.txt",
        ".rotorbook-a1B2c3/.gitignore",
        ".rotorbook-a1B2c3/notes.txt",
        ".rotorbook-d4E5f6/new",
        "elsewhere/.gitignore",
        "elsewhere/new",
    ] {
        assert!(folder.path(kept).exists(), "{kept}");
    }
}

#[test]
fn a_pipe_in_such_a_folder_is_not_waited_for() {
    let folder = Folder::with(&[("a.rotor", UNTIDY)]);
    fs::create_dir(folder.path(".rotorbook-a1B2c3")).unwrap();
    pipe(&folder.path(".rotorbook-a1B2c3/.gitignore"));
    let start = Instant::now();
    folder.run("fmt a.rotor").ends(0);
    assert!(start.elapsed() < Duration::from_secs(30));
    assert_eq!(folder.read("a.rotor"), CLEAN);
}

#[test]
fn the_name_of_a_file_forges_no_line() {
    let forged = "y\n::warning::all sheets are in order\t\u{1b}[2J.rotor";
    let folder = Folder::with(&[("book.rotor", "shop s {\n  format: 1\n}\n"), (forged, UNTIDY)]);
    for command in ["check", "fmt --check .", "list --kind masses", "pin", "show steel", "fmt --diff ."] {
        let ran = folder.run(command);
        let all = format!("{}{}", ran.stdout(), ran.stderr());
        assert!(!all.lines().any(|line| line.starts_with("::")), "{command}: {all}");
        assert!(!all.contains('\u{1b}'), "{command}: {all}");
    }
    assert!(folder.run("check").stdout().contains("rename the file"));
    assert_eq!(folder.read(forged), UNTIDY);
}

#[test]
fn killed_at_any_moment_a_file_is_the_old_or_the_new() {
    let folder = Folder::with(&[]);
    let long = UNTIDY.replace("0.50 g, ", &"0.50 g, ".repeat(2_000));
    for round in 0..40u64 {
        folder.write("a.rotor", long.as_bytes());
        let binary = assert_cmd::cargo::cargo_bin!("rotorbook");
        let mut run = Command::new(binary).args(["fmt", "a.rotor"]).current_dir(folder.path("")).spawn().unwrap();
        std::thread::sleep(Duration::from_millis(round));
        run.kill().unwrap();
        run.wait().unwrap();
        let text = folder.read("a.rotor");
        assert!(text == long || text == long.replacen("masses   ", "masses ", 1), "round {round}");
    }
    folder.write("a.rotor", UNTIDY.as_bytes());
    folder.run("fmt a.rotor").ends(0);
    assert_eq!(fs::read_dir(folder.path("")).unwrap().count(), 1);
}

#[test]
fn attributes_stay_and_names_of_one_file_do_not_come_apart() {
    let folder = Folder::with(&[("a.rotor", UNTIDY), ("b.rotor", UNTIDY)]);
    let set = rustix::fs::setxattr(folder.path("a.rotor"), "user.shop", b"tern quay", rustix::fs::XattrFlags::empty());
    folder.run("fmt a.rotor").ends(0);
    assert_eq!(folder.read("a.rotor"), CLEAN);
    if set.is_ok() {
        let mut value = [0; 32];
        let length = rustix::fs::getxattr(folder.path("a.rotor"), "user.shop", &mut value).unwrap();
        assert_eq!(&value[..length], b"tern quay");
    }
    fs::hard_link(folder.path("b.rotor"), folder.path("c.rotor")).unwrap();
    let ran = folder.run("fmt b.rotor");
    ran.ends(1);
    assert!(ran.stderr().contains("hard links"), "{}", ran.stderr());
    assert_eq!(
        fs::metadata(folder.path("b.rotor")).unwrap().ino(),
        fs::metadata(folder.path("c.rotor")).unwrap().ino()
    );
}

#[test]
fn a_link_to_a_card_stays_one_and_folders_are_made() {
    let folder = Folder::with(&[("book.rotor", BOOK), ("r.rotor", "rotor \"r\" {\n  mass: 3.00 kg\n}\n")]);
    fs::write(folder.path("real.txt"), "old").unwrap();
    symlink(folder.path("real.txt"), folder.path("link.txt")).unwrap();
    fs::set_permissions(folder.path("real.txt"), fs::Permissions::from_mode(0o664)).unwrap();
    folder.run("card r -o link.txt").ends(0);
    assert!(folder.path("link.txt").is_symlink() && folder.read("real.txt").contains('r'));
    assert_eq!(fs::metadata(folder.path("real.txt")).unwrap().mode() & 0o777, 0o664);
    folder.run("card r -o cards/of/r.html").ends(0);
    assert!(folder.read("cards/of/r.html").contains("Content-Security-Policy"));
    symlink("nowhere", folder.path("lost.txt")).unwrap();
    folder.run("card r -o lost.txt").is_misuse("leads nowhere");
}

#[test]
fn a_new_sheet_is_read_back_before_it_is_written() {
    let folder = Folder::with(&[]);
    for name in ["a\"\n}\nrotor \"b", "a\u{1b}[2J", "a\tb", ""] {
        let ran = folder.run_with(&["new", "rotor", "--name", name, "-o", "a.rotor"]);
        ran.ends(2);
        assert!(!folder.path("a.rotor").exists(), "{name:?}");
        let ran = folder.run_with(&["init", "--name", name, "."]);
        ran.ends(2);
        assert!(!folder.path("book.rotor").exists(), "{name:?}");
    }
    let ran = folder.run_with(&["new", "rotor", "--name", "a \"b\" {} # c", "-o", "a.rotor"]);
    ran.ends(0);
    assert!(
        folder.run("check a.rotor --format json").json()["diagnostics"]
            .as_array()
            .unwrap()
            .iter()
            .all(|found| { found["severity"] != "error" || found["code"] == "unknown-name" })
    );
    folder.run_with(&["new", "rotor", "--set", "mass=3 potatoes"]).is_misuse("potatoes");
}

#[test]
fn rows_get_files_that_every_system_can_hold() {
    let folder = Folder::with(&[("t.csv", "name\nbook\nCon\nnul\ncom1\nfan\n")]);
    let ran = folder.run("new rotor --from-csv t.csv -o rotors");
    ran.ends(0);
    let mut names: Vec<String> = fs::read_dir(folder.path("rotors"))
        .unwrap()
        .map(|entry| entry.unwrap().file_name().into_string().unwrap())
        .collect();
    names.sort();
    assert_eq!(names, ["book-sheet.rotor", "com1-sheet.rotor", "con-sheet.rotor", "fan.rotor", "nul-sheet.rotor"]);
    assert!(ran.stderr().contains("\"book\" is written to `rotors/book-sheet.rotor`"), "{}", ran.stderr());
    let heads: Vec<String> = (0..5_000).map(|n| format!("column {n} {}", "x".repeat(200))).collect();
    folder.write("wide.csv", format!("{}\n", heads.join(",")).as_bytes());
    let ran = folder.run_with(&["new", "rotor", "--from-csv", "wide.csv", "--column", "name=Sheet"]);
    ran.ends(2);
    assert!(ran.stderr().len() < 4_000 && ran.stderr().contains("and 4980 more"), "{}", ran.stderr().len());
}

#[test]
fn findings_of_every_format_are_few_and_say_how_many_more_there_are() {
    let folder = Folder::with(&[("a.rotor", &"}\n".repeat(30_000)), ("b.rotor", FAULTY)]);
    let document = folder.run("check a.rotor --format json").json();
    assert_eq!(document["diagnostics"].as_array().unwrap().len(), 1_000);
    assert_eq!(document["more"][0]["count"], 29_000);
    assert_eq!(document["summary"]["errors"], 30_000);
    let all = folder.run("check a.rotor --format json --all").json();
    assert_eq!((all["diagnostics"].as_array().unwrap().len(), &all["more"][0]["count"]), (10_000, &20_000.into()));
    let sarif = folder.run("check a.rotor --format sarif").json();
    let told = &sarif["runs"][0]["invocations"][0]["toolExecutionNotifications"][0]["message"]["text"];
    assert!(told.as_str().unwrap().starts_with("29000 more stray-close in a.rotor"), "{told}");
    let github = folder.run("check a.rotor --format github").stdout();
    assert_eq!(github.lines().count(), 1_001);
    assert!(github.lines().last().unwrap().contains("29000 more stray-close"));
    assert!(folder.run("check a.rotor").stdout().contains("29980 more stray-close in a.rotor, shown by --all"));
    assert!(folder.run("check b.rotor --format json").json().get("more").is_none());
}

#[test]
fn no_output_for_people_drives_a_terminal() {
    let hostile = "rotor \"a\u{1b}]0;title\u{7}\u{202e}b\" {\n  mass:   3.00 kg\n  note: \"\u{1b}[2J\u{9b}1m\"\n  colour\u{1b}[31m: 3\n}\n";
    let folder = Folder::with(&[("book.rotor", BOOK), ("e\u{1b}[1m.rotor", hostile)]);
    let name = "a\u{1b}]0;title\u{7}\u{202e}b";
    let every: [&[&str]; 12] = [
        &["fmt", "--diff"],
        &["fmt", "--check"],
        &["check"],
        &["check", "--format", "github"],
        &["list"],
        &["list", "--format", "csv"],
        &["show", name],
        &["show", name, "--format", "csv"],
        &["show", name, "--format", "table"],
        &["card", name],
        &["show", "no\u{1b}[1m such"],
        &["check", "no\u{1b}[1m such"],
    ];
    for arguments in every {
        let ran = folder.run_with(arguments);
        let said = ran.stdout() + &ran.stderr();
        let driving = said.chars().find(|c| c.is_control() && !matches!(c, '\n' | '\t') || *c == '\u{202e}');
        assert_eq!(driving, None, "{arguments:?}: {said:?}");
    }
}

#[test]
fn no_cell_of_a_table_is_a_formula() {
    let folder =
        Folder::with(&[("book.rotor", BOOK), ("a.rotor", "rotor \"=cmd|' /C calc'!A0\" {\n  mass: 3.00 kg\n}\n")]);
    let list = folder.run("list --format csv").stdout();
    assert!(list.contains("rotor,'=cmd|' /C calc'!A0,a.rotor,1,"), "{list}");
}
