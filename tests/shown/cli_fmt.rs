//! `fmt` and what it does to files.

use std::fs;

use crate::support::cli::{BOOK, CLEAN, Folder};

const UNTIDY: &str = "masses   \"steel set\" {\n\n\tvalues: 0.50 g, 1.00 g\r\n      uncertainty: 0.01 g\n}";

const CONFLICT: &str =
    "masses \"steel set\" {\n<<<<<<< ours\n   values: 0.50 g\n=======\n  values: 1.00 g\n>>>>>>> theirs\n}\n";

#[test]
fn sheets_are_laid_out_and_named() {
    let folder = Folder::with(&[("book.rotor", BOOK), ("a.rotor", UNTIDY), ("b.rotor", CLEAN)]);
    let ran = folder.run("fmt");
    assert_eq!(ran.ends(0).stdout(), "a.rotor\n");
    assert_eq!(ran.stderr(), "1 of 3 files formatted\n");
    assert_eq!(folder.read("a.rotor"), CLEAN);
    assert_eq!(folder.run("fmt").ends(0).stdout(), "");
}

#[test]
fn looking_changes_nothing() {
    let folder = Folder::with(&[("book.rotor", BOOK), ("a.rotor", UNTIDY)]);
    assert_eq!(folder.run("fmt --check").ends(1).stdout(), "a.rotor\n");
    let difference = folder.run("fmt --diff a.rotor").ends(1).stdout();
    assert!(difference.starts_with("--- a.rotor\n+++ a.rotor\n@@ -1,5 +1,4 @@\n"), "{difference}");
    assert_eq!(folder.read("a.rotor"), UNTIDY);
    assert_eq!(folder.run("fmt --check book.rotor").ends(0).stdout(), "");
}

#[test]
fn what_cannot_be_laid_out_is_left_alone_and_named() {
    let folder = Folder::with(&[("book.rotor", BOOK), ("a.rotor", CONFLICT), ("c.rotor", UNTIDY)]);
    let latin = b"masses \"\xb1\" {\n     values: 1.00 g\n}\n";
    folder.write("b.rotor", latin);
    let ran = folder.run("fmt");
    assert_eq!(ran.ends(1).stdout(), "c.rotor\n");
    assert_eq!(
        ran.stderr(),
        "warning: a.rotor is left as it is: a conflict is not resolved on line 2\n\
         warning: b.rotor is left as it is: the byte B1 on line 1 is not UTF-8\n1 of 4 files formatted\n"
    );
    assert_eq!(folder.read("a.rotor"), CONFLICT);
    assert_eq!(fs::read(folder.path("b.rotor")).unwrap(), latin);
    folder.run("fmt no-such").is_misuse("there is no `no-such`");
}

#[cfg(unix)]
#[test]
fn permissions_stay_and_a_read_only_file_is_not_written() {
    use std::os::unix::fs::PermissionsExt;
    let folder = Folder::with(&[("a.rotor", UNTIDY), ("b.rotor", UNTIDY)]);
    let set = |path, mode| fs::set_permissions(folder.path(path), fs::Permissions::from_mode(mode)).unwrap();
    let mode = |path| fs::metadata(folder.path(path)).unwrap().permissions().mode() & 0o7777;
    set("a.rotor", 0o664);
    set("b.rotor", 0o444);
    let ran = folder.run("fmt");
    ran.ends(1);
    assert!(ran.stderr().contains("b.rotor is left as it is: it is read-only"), "{}", ran.stderr());
    assert_eq!((folder.read("a.rotor"), mode("a.rotor")), (CLEAN.to_owned(), 0o664));
    assert_eq!((folder.read("b.rotor"), mode("b.rotor")), (UNTIDY.to_owned(), 0o444));
    assert_eq!(fs::read_dir(folder.path("")).unwrap().count(), 2, "no temporary file stays");
}

#[cfg(unix)]
#[test]
fn a_link_that_is_named_stays_a_link() {
    let folder = Folder::with(&[("real/a.rotor", UNTIDY)]);
    std::os::unix::fs::symlink(folder.path("real/a.rotor"), folder.path("link.rotor")).unwrap();
    folder.run("fmt link.rotor").ends(0);
    assert!(fs::symlink_metadata(folder.path("link.rotor")).unwrap().is_symlink());
    assert_eq!(folder.read("real/a.rotor"), CLEAN);
}
