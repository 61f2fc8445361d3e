//! `card`, and sheets from a table: files, endings, and what is said when it cannot be.

use std::process::Command;

use crate::support::cli::{BOOK, FAN, Folder, rotorbook};

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
fn a_condition_that_nothing_can_hold_is_misuse_and_never_an_empty_table() {
    let shop = shop();
    for (condition, says) in [
        ("balancing speed > fast", "`fast` cannot be compared with `balancing speed`: it is not an amount"),
        ("balancing speed > 1000 kg", "`balancing speed` cannot be compared with `1000 kg`: it is `1150 rpm`"),
        ("date > 2026-13-45", "`2026-13-45` cannot be compared with `date`: it is not an amount"),
        ("status is relased", "did you mean `released`?"),
    ] {
        shop.run_with(&["list", "--where", condition]).is_misuse(says);
    }
    for (kind, condition, says) in [
        ("rotor", "void", "no calibration that could be void"),
        ("rotor", "overdue", "nothing of a rotor is due"),
        ("rotor", "status is released", "no rotor has a fact or result `status`"),
    ] {
        shop.run_with(&["list", "--kind", kind, "--where", condition]).is_misuse(says);
    }
    let count = |conditions: &[&str]| {
        let mut arguments = vec!["list", "--kind", "setup", "--format", "csv"];
        conditions.iter().for_each(|one| arguments.extend(["--where", *one]));
        let listed = shop.run_with(&arguments);
        listed.ends(0);
        listed.stdout().lines().count() - 1
    };
    let all = count(&[]);
    assert!(all > 0 && count(&["balancing speed > 1000 rpm"]) == all && count(&["balancing speed > 20 Hz"]) == 0);
    assert_eq!((count(&["machine is \"soft bench\""]), count(&["machine is soft bench"])), (all, all));
    // What no item states yet, of an item that is named.
    assert_eq!(count(&["machine / serviced is missing"]), all);
    shop.run_with(&["list", "--where", "machine / servised is missing"]).is_misuse("did you mean `serviced`?");
    // A block, and the days in blocks of one kind.
    assert_eq!((count(&["proof is missing"]), count(&["calibrate is not missing"])), (all, all));
    let proven = FAN.replacen("\n  calibrate hub {", "\n  proof \"one\" {\n    date: 2026-04-14\n  }\n\n  proof two {\n    date: 2026-03-02\n  }\n\n  calibrate hub {", 1);
    assert!(proven != FAN);
    shop.write("sheets/fan.rotor", proven.as_bytes());
    assert_eq!((count(&["proof / date > 2026-04-13"]), count(&["proof / date > 2026-04-14"])), (all, 0));
    assert_eq!(count(&["proof is missing"]), 0);
}

#[test]
fn records_that_were_run_on_a_void_calibration_are_found() {
    let book = concat!(env!("CARGO_MANIFEST_DIR"), "/examples/tern-quay");
    let folder = Folder::with(&[]);
    let copied = std::process::Command::new("cp").args(["-r", book]).arg(folder.path("shop")).status().unwrap();
    assert!(copied.success());
    let listed = |folder: &Folder| {
        let listed =
            folder.run_with(&["list", "--book", "shop", "--kind", "record", "--where", "void", "--column", "void"]);
        listed.ends(0);
        listed.stdout()
    };
    assert!(!listed(&folder).contains("fan wheel 315, 26-0419"));
    // Serviced between its proof of 14 April and its run of 21 April.
    let machine = folder.read("shop/machines/soft-bench.rotor");
    let serviced = machine.replacen("  tested: 2026-03-19\n", "  tested: 2026-03-19\n  serviced: 2026-04-18\n", 1);
    assert!(serviced != machine);
    folder.write("shop/machines/soft-bench.rotor", serviced.as_bytes());
    let text = listed(&folder);
    assert!(text.contains("fan wheel 315, 26-0419") && text.contains("serviced on 2026-04-18"), "{text}");
}

#[test]
fn what_is_past_its_interval_or_void_is_found() {
    let shop = shop();
    let machine = "machine \"stiff bench\" {\n  supports: hard\n  serviced: 2026-01-10\n  serviced every: 365 d\n  tested every: 90 d\n}\n";
    shop.write("stiff.rotor", machine.as_bytes());
    let check = "  check mass {\n    plane: hub\n    mass: 3.00 g\n    radius: 134.2 mm\n    checked: 2026-05-04, 12.0 div\n    checked every: 30 d\n  }\n}\n";
    let text = FAN.replacen("    mass => 2.9 g\n  }\n}\n", &format!("    mass => 2.9 g\n  }}\n\n{check}"), 1);
    shop.write("sheets/fan.rotor", text.as_bytes());
    let on = |day: &str, conditions: &[&str]| {
        let seconds = noon_of(day);
        let mut command = rotorbook(&shop.path("."));
        command.env("SOURCE_DATE_EPOCH", seconds).args(["list", "--column", "overdue", "--format", "csv"]);
        conditions.iter().for_each(|one| {
            command.args(["--where", *one]);
        });
        let output = command.output().unwrap();
        String::from_utf8(output.stdout).unwrap().lines().skip(1).map(str::to_owned).collect::<Vec<_>>()
    };
    // 30 days after 4 May are 3 June; 365 after 10 January the same day of the next year.
    assert_eq!(on("2026-06-03", &["overdue"]).len(), 1);
    let june = on("2026-06-04", &["overdue"]);
    assert!(
        june.iter()
            .any(|line| line.contains("fan wheel 315 on the soft bench") && line.ends_with("checked since 2026-06-03")),
        "{june:?}"
    );
    assert!(
        june.iter().any(|line| line.contains("stiff bench") && line.ends_with("\"tested, never done\"")),
        "{june:?}"
    );
    let later = on("2027-01-11", &["overdue", "name is stiff bench"]);
    assert!(later[0].contains("serviced since 2027-01-10, tested, never done"), "{later:?}");
    assert_eq!(on("2026-06-03", &["not overdue"]).len(), on("2026-06-03", &[]).len() - 1);
    shop.run_with(&["list", "--where", "void"]).ends(0);
}

/// Noon of a day as seconds since 1970.
fn noon_of(day: &str) -> String {
    let date = Command::new("date").args(["-u", "-d", &format!("{day} 12:00"), "+%s"]).output().unwrap();
    String::from_utf8(date.stdout).unwrap().trim().to_owned()
}

#[test]
fn the_card_of_a_withdrawn_sheet_says_that_it_is_not_to_be_used() {
    let shop = shop();
    shop.write("sheets/fan.rotor", FAN.replace("status: draft", "status: withdrawn").as_bytes());
    let shown = shop.run_with(&["card", SETUP]).ends(0).stdout();
    assert!(shown.starts_with(&format!("Run card: {SETUP}\n*** NOT TO BE USED *** the sheet is withdrawn")), "{shown}");
}

/// Counted in the text of the sheets.
#[test]
fn one_of_several_values_that_fits_is_enough() {
    let book = concat!(env!("CARGO_MANIFEST_DIR"), "/examples/tern-quay");
    let listed = |conditions: &[&str]| {
        let mut command = rotorbook(std::path::Path::new(book));
        command.args(["list", "--format", "csv"]);
        conditions.iter().for_each(|one| {
            command.args(["--where", *one]);
        });
        let output = command.output().unwrap();
        assert!(output.status.success(), "{conditions:?}");
        String::from_utf8(output.stdout).unwrap().lines().count() - 1
    };
    let mut texts = String::new();
    for file in std::fs::read_dir(format!("{book}/records")).unwrap() {
        texts += &std::fs::read_to_string(file.unwrap().path()).unwrap();
        texts.push('\n');
    }
    let is_slow = |record: &&str| {
        let speeds = record.lines().filter_map(|line| line.strip_prefix("    speed: ")?.strip_suffix(" rpm"));
        speeds.map(|speed| speed.parse::<f64>().unwrap()).any(|speed| speed < 1100.0)
    };
    let slow = texts.split("\nrecord ").filter(is_slow).count();
    assert!(slow > 1 && listed(&["run / speed < 1100 rpm"]) == slow, "{slow}");
    // 34 mm and 121 mm.
    let fan = "name is fan wheel 315";
    let one = |condition: &str| listed(&[fan, condition]);
    assert_eq!(["plane / at > 100 mm", "plane / at < 100 mm", "plane / at > 122 mm"].map(one), [1, 1, 0]);
    shop().run_with(&["list", "--where", "status is draft OR void"]).is_misuse("a condition asks one thing");
}
