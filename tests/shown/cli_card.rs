//! `card`, and sheets from a table: files, endings, and what is said when it cannot be.

use std::process::Command;

use crate::support::cli::{self, BOOK, FAN, Folder, rotorbook};

const SETUP: &str = "fan wheel 315 on the soft bench";

fn shop() -> Folder {
    let machine = "machine \"soft bench\" {\n  supports: soft\n\n  readout {\n    shows: div\n    full scale: 100 div\n    angles: none\n  }\n}\n";
    Folder::with(&[("book.rotor", BOOK), ("sheets/fan.rotor", FAN), ("machine.rotor", machine)])
}

#[test]
fn the_ending_says_what_is_written() {
    let shop = shop();
    let shown = shop.run_with(&["card", SETUP]).ends(0).stdout();
    assert!(shown.starts_with(&format!("Run card: {SETUP}\n*** DRAFT ***")), "{shown}");
    let endings = [("a.html", "<!DOCTYPE html>"), ("a.svg", "<?xml"), ("a.txt", "Run card: fan"), ("a.pdf", "%PDF-")];
    for (file, starts) in endings {
        let ran = shop.run_with(&["card", SETUP, "-o", file]);
        ran.ends(0);
        assert_eq!(ran.stderr(), format!("{file} written\n"));
        assert!(std::fs::read(shop.path(file)).unwrap().starts_with(starts.as_bytes()), "{file}");
    }
    shop.run_with(&["card", SETUP, "-o", "a.rotor"]).is_misuse("end it with .html, .pdf, .svg or .txt");
    shop.run_with(&["card", SETUP, "-o", "machine.rotor/a.html"]).is_misuse("its folder is a file");
    shop.run_with(&["card", "soft bench"]).is_misuse("a machine has no card");
    shop.run_with(&["card", "fan wheel 316 on the soft bench"]).is_misuse(SETUP);
    shop.run_with(&["card", "--all-released", "-o", "a.html"]).is_misuse("no released setup");
}

#[test]
fn the_sides_of_a_setup_can_be_chosen() {
    let shop = shop();
    let text = |more: &[&str]| shop.run_with(&[&["card", SETUP], more].concat()).ends(0).stdout().to_owned();
    assert!(text(&[]).contains("Set-up card:") && text(&[]).contains("Run card:"));
    assert!(!text(&["--run"]).contains("Set-up card:"));
    assert!(text(&["--set-up"]).starts_with("Set-up card:"));
    shop.run_with(&["card", "fan wheel 315", "--run"]).is_misuse("only a setup has a run card");
    let drawn = text(&["--drawings"]);
    assert!(drawn.starts_with("<?xml") && drawn.contains("<svg"), "{drawn:.200}");
}

const RECORDS: &str = "record \"one\" {\n  setup: \"fan wheel 315 on the soft bench\"\n  serial: \"A1\"\n  order: \"77\"\n  customer: \"Yard\"\n\n  \
    run found {\n    speed: 1150 rpm\n    calibration masses: off\n    reading left: 8.0 div\n  }\n}\n";

#[test]
fn a_certificate_is_of_one_record_or_of_several() {
    let shop = shop();
    let two = RECORDS.replace("record \"one\"", "record \"two\"").replace("A1", "A2");
    shop.write("records.rotor", format!("{RECORDS}{two}").as_bytes());
    let one = shop.run_with(&["certificate", "one"]).ends(0).stdout().to_owned();
    for said in ["Balancing certificate: one", "Serial number", "A1", "Yard", "77", "Signature"] {
        assert!(one.contains(said), "{said}: {one}");
    }
    let batch = shop.run_with(&["certificate", "--where", "order=77"]).ends(0).stdout().to_owned();
    assert!(batch.contains("2 records") && batch.contains("A1") && batch.contains("A2"), "{batch}");
    let both = shop.run_with(&["certificate", "one", "two", "-o", "batch.pdf"]);
    both.ends(0);
    assert_eq!(both.stderr(), "batch.pdf written\n");
    shop.run_with(&["certificate", "--where", "order=78"]).is_misuse("no record is as asked");
    shop.run_with(&["certificate", SETUP]).is_misuse("no record");
}

#[test]
fn the_foot_says_which_commit_and_whether_it_is_clean() {
    let shop = shop();
    let git = |arguments: &[&str]| {
        let mut command = Command::new("git");
        command.arg("-C").arg(shop.path(".")).args(["-c", "user.name=shop", "-c", "user.email=shop@example.org"]);
        command.args(arguments).output().is_ok_and(|output| output.status.success())
    };
    let foot = || shop.run_with(&["card", SETUP]).stdout().split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(foot().contains("uncommitted files"), "{}", foot());
    if !git(&["init", "-q"]) {
        return;
    }
    assert!(git(&["add", "."]) && git(&["commit", "-qm", "sheets"]));
    assert!(foot().contains("commit ") && !foot().contains("WITH CHANGES"), "{}", foot());
    shop.write("sheets/fan.rotor", FAN.replace("1150 rpm", "1160 rpm").as_bytes());
    assert!(foot().contains("WITH CHANGES that are not committed"), "{}", foot());
}

#[test]
fn the_day_can_be_stated() {
    let shop = shop();
    let output = rotorbook(&shop.path(".")).env("SOURCE_DATE_EPOCH", "86400").args(["card", SETUP]).output().unwrap();
    let shown = String::from_utf8(output.stdout).unwrap();
    assert!(shown.split_whitespace().collect::<Vec<_>>().join(" ").contains("printed 1970-01-02"), "{shown}");
}

const TABLE: &str = "Sheet;Rotor;n [rpm];m hub [g];r hub;Remark;Page\n\
    fan A;fan wheel 315;1150;3,00;134.2 mm;\"says \"\"x\"\"\";1\n\
    fan B;fan wheel 315;1150;abc;134.2 mm;;2\n\
    ;fan wheel 315;1150;3.00;134.2 mm;;3\n\
    fan A;fan wheel 315;1150;3.00;134.2 mm;;4\n\
    fan C;fan wheel 315;1150;3,00;134.2 kg;;5\n\
    fan D;fan wheel 315\n\
    fan E;fan wheel 315;980;;0.1205 m;;7\n";

const MAPPING: [&str; 14] = [
    "--column",
    "name=Sheet",
    "--column",
    "rotor=Rotor",
    "--column",
    "balancing speed=n [rpm]",
    "--column",
    "calibrate hub / mass=m hub [g]",
    "--column",
    "calibrate hub / radius=r hub",
    "--column",
    "note=Remark",
    "--set",
    "machine=soft bench",
];

fn import(shop: &Folder, more: &[&str]) -> cli::Ran {
    let arguments = [&["new", "setup", "--from-csv", "old.csv"], &MAPPING[..], more].concat();
    shop.run_with(&arguments)
}

#[test]
fn every_row_of_a_table_is_a_sheet_or_is_said_not_to_be() {
    let shop = shop();
    shop.write("old.csv", TABLE.as_bytes());
    shop.write("setups/keep.txt", b"");
    let ran = import(&shop, &["--decimal-comma", "-o", "setups"]);
    ran.ends(1);
    let said = ran.stderr();
    for part in [
        "line 3 not taken: `m hub [g]`: `abc`",
        "line 4 not taken: it has no name",
        "line 5 not taken: there is a setup \"fan A\" already",
        "line 6 not taken: `r hub`: `134.2 kg`",
        "line 7 not taken: it has 2 cells where the heads have 7",
        "columns not read: Page",
        "7 rows read, 2 sheets written (setups/fan-a.rotor, setups/fan-e.rotor), 5 rows not taken",
    ] {
        assert!(said.contains(part), "{part}: {said}");
    }
    let sheet = shop.read("setups/fan-a.rotor");
    for line in [
        "setup \"fan A\" {",
        "  machine: \"soft bench\"",
        "  status: draft",
        "  balancing speed: 1150 rpm # old.csv, line 2, n [rpm]",
        "  note: \"says \"\"x\"\"\" # old.csv, line 2, Remark",
        "    mass: 3.00 g # old.csv, line 2, m hub [g]",
    ] {
        assert!(sheet.lines().any(|own| own == line), "{line}: {sheet}");
    }
    assert!(!shop.read("setups/fan-e.rotor").contains("mass:"), "an empty cell states nothing");
    shop.run("fmt --check").ends(0);
    // What it wrote once it does not write over.
    let again = import(&shop, &["--decimal-comma", "-o", "setups"]);
    assert!(again.stderr().contains("line 2 not taken: there is a setup \"fan A\" already"), "{}", again.stderr());
    assert_eq!(shop.read("setups/fan-a.rotor"), sheet);
}

#[test]
fn rows_are_named_by_the_lines_of_the_file() {
    let shop = shop();
    let new = |table: &str, more: &[&str]| {
        shop.write("old.csv", table.as_bytes());
        shop.run_with(&[&["new", "setup", "--from-csv", "old.csv", "--column", "name=Sheet"], more].concat())
    };
    let ran = new("Sheet;balancing speed\r\n\r\n\r\nA;abc\r\n\r\nB;980 rpm\r\n", &[]);
    assert!(ran.stderr().contains("line 4 not taken"), "{}", ran.stderr());
    assert!(ran.stderr().contains("2 rows read, 1 sheet written, 1 row not taken"), "{}", ran.stderr());
    assert!(ran.stdout().contains("# old.csv, line 6, balancing speed"), "{}", ran.stdout());
    // A quote that is not closed takes in what follows.
    let ran = new("Sheet;note\nA;\"six inches\nB;x\nC;y\n", &[]);
    ran.ends(1);
    let said = "line 2 not taken: a quote is opened and not closed; it takes in all up to line 4";
    assert!(ran.stderr().contains(said), "{}", ran.stderr());
    let ran = new("Sheet;note;by\nA;\"6;x\nB;7\";y;z\nC;y;z\n", &[]);
    assert!(ran.stderr().contains("it takes in lines 2 to 3, so a quote may be left open"), "{}", ran.stderr());
    // A point beside decimal commas is no clearer than a comma beside decimal points.
    let ran = new("Sheet;balancing speed [rpm]\nA;1.150\n", &["--decimal-comma"]);
    ran.ends(1);
    assert!(ran.stderr().contains("`1.150` may have a decimal point or a point between thousands"), "{}", ran.stderr());
}

#[test]
fn a_column_that_nothing_has_is_misuse() {
    let shop = shop();
    shop.run_with(&["list", "--column", "balancing sped"]).is_misuse("did you mean `balancing speed`?");
    shop.run_with(&["list", "--where", "nosuch=1"]).is_misuse("`nosuch`");
    shop.run_with(&["list", "--column", "calibrte hub / mass"]).is_misuse("`calibrte hub`");
    shop.run_with(&["list", "--column", "calibrate hub / times tolerance"]).ends(0);
    shop.run_with(&["list", "--column", "drawing", "--kind", "record"]).ends(0);
}

#[test]
fn what_may_be_read_two_ways_is_not_read() {
    let shop = shop();
    shop.write("old.csv", TABLE.as_bytes());
    let ran = import(&shop, &[]);
    ran.ends(1);
    assert!(
        ran.stderr().contains("line 2 not taken: `m hub [g]`: `3,00` may have a decimal comma"),
        "{}",
        ran.stderr()
    );
    assert!(ran.stdout().contains("setup \"fan A\" {") && ran.stdout().contains("# old.csv, line 5"));
}

#[test]
fn a_mapping_that_means_nothing_is_misuse() {
    let shop = shop();
    shop.write("old.csv", TABLE.as_bytes());
    let new = |arguments: &[&str]| shop.run_with(&[&["new", "setup", "--from-csv", "old.csv"], arguments].concat());
    new(&[]).is_misuse("no column says what each item is called");
    new(&["--column", "name=Sheat"]).is_misuse("did you mean `Sheet`?");
    new(&["--column", "name=Sheet", "--column", "ballancing speed=n [rpm]"])
        .is_misuse("did you mean `balancing speed`?");
    new(&["--column", "name=Sheet", "--column", "plane hub / at=r hub"]).is_misuse("a setup has no block `plane hub`");
    new(&["--column", "name=Sheet", "--unit", "balancing speed=rpm"]).is_misuse("which no column holds");
    shop.run_with(&["new", "setup", "--from-csv", "none.csv"]).is_misuse("none.csv");
}

#[test]
fn tolerances_of_a_table_become_rotors() {
    let shop = shop();
    shop.write("old.csv", "name,mass [kg],G,n max\nwheel 1,4.82,6.3,3550\nwheel 2,2.1,2.5,1480\n".as_bytes());
    let ran = shop.run_with(&[
        "new",
        "rotor",
        "--from-csv",
        "old.csv",
        "--column",
        "tolerance / grade=G",
        "--column",
        "highest service speed=n max",
        "--unit",
        "highest service speed=rpm",
    ]);
    ran.ends(0);
    let sheets = ran.stdout();
    assert!(sheets.contains("  mass: 4.82 kg # old.csv, line 2, mass [kg]"), "{sheets}");
    assert!(sheets.contains("    grade: G 6.3 # old.csv, line 2, G"), "{sheets}");
    assert!(sheets.contains("  highest service speed: 1480 rpm # old.csv, line 3, n max"), "{sheets}");
}

#[test]
fn the_list_is_filtered_and_has_columns() {
    let shop = shop();
    let listed = shop.run_with(&[
        "list",
        "--where",
        "rotor=FAN wheel",
        "--column",
        "balancing speed",
        "--column",
        "calibrate hub / times tolerance",
        "--format",
        "csv",
    ]);
    listed.ends(0);
    let lines: Vec<String> = listed.stdout().lines().map(str::to_owned).collect();
    assert_eq!(lines[0], "kind,name,file,line,balancing speed,calibrate hub / times tolerance");
    assert_eq!(lines.len(), 2, "{lines:?}");
    assert!(lines[1].contains(",1150 rpm,"), "{lines:?}");
    let json = shop
        .run_with(&["list", "--where", "name=soft", "--kind", "setup", "--column", "status", "--format", "json"])
        .json();
    assert_eq!(json["items"].as_array().unwrap().len(), 1);
    assert!(json["items"][0]["columns"].get("status").is_some(), "{json}");
    assert_eq!(shop.run_with(&["list", "--where", "status=released", "--format", "csv"]).stdout().lines().count(), 1);
}

#[test]
fn the_card_of_a_withdrawn_sheet_says_that_it_is_not_to_be_used() {
    let shop = shop();
    shop.write("sheets/fan.rotor", FAN.replace("status: draft", "status: withdrawn").as_bytes());
    let shown = shop.run_with(&["card", SETUP]).ends(0).stdout();
    assert!(shown.starts_with(&format!("Run card: {SETUP}\n*** NOT TO BE USED *** the sheet is withdrawn")), "{shown}");
}
