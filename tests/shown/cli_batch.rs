//! `new record --from-csv`: the records of a batch.

use crate::cli_balance::{result, shop};
use crate::support::cli::{Folder, Ran};

/// Fifty wheels on this day, the last two left as they were found.
fn batch(folder: &Folder, date: &str, more: &[&str]) -> Ran {
    let mut table = "SN,L1,R1,L2,R2\n".to_owned();
    for n in 0..50 {
        let left = if n < 48 { "0.1 div @ 35 deg" } else { "4.4 div @ 310 deg" };
        table.push_str(&format!("26-{n:04},4.4 div @ {} deg,8.7 div @ 85 deg,{left},0.2 div @ 25 deg\n", n * 7));
    }
    folder.write("batch.csv", table.as_bytes());
    let columns = [
        "name=SN",
        "run found / reading left=L1",
        "run found / reading right=R1",
        "run final / reading left=L2",
        "run final / reading right=R2",
    ];
    let date = format!("date={date}");
    let sets = [
        "setup=fan wheel 315 on the soft bench",
        "order=\"77\"",
        &date,
        "run found / speed=1150 rpm",
        "run found / calibration masses=off",
        "run final / speed=1150 rpm",
        "run final / calibration masses=off",
    ];
    let mut arguments = vec!["new", "record", "--from-csv", "batch.csv", "-o", "batch"];
    columns.iter().for_each(|column| arguments.extend(["--column", *column]));
    sets.iter().chain(more).for_each(|set| arguments.extend(["--set", *set]));
    folder.run_with(&arguments)
}

const FAN: &str = "setups/fan-wheel-315-soft-bench.rotor";

#[test]
fn a_table_of_readings_gives_verdicts() {
    let folder = shop();
    // The proof of 2026-04-14 is the latest before that day, as `balance` writes it.
    let ran = batch(&folder, "2026-04-21", &[]);
    ran.ends(0);
    let one = folder.read("batch/26-0007.rotor");
    assert!(one.contains("  proof: \"2026-04-14\"\n") && one.contains("  order: \"77\"\n"), "{one}");
    assert_eq!(one.matches("correction not recorded: yes").count(), 1, "{one}");
    // Both planes of 48 rotors are far within at 0.1 and 0.2 div; 4.4 div is more than four times the tolerance.
    assert!(ran.stderr().contains("verdicts: 48 within") && ran.stderr().contains("2 over"), "{}", ran.stderr());
    assert!(!ran.stderr().contains("not bound"), "{}", ran.stderr());
    let certificate = folder.run_with(&["certificate", "--where", "order=77"]).ends(0).stdout();
    assert!(certificate.contains("50 records") && certificate.contains("26-0049"), "{certificate}");
    // What is listed has its limits beside it: 46.8 and 34.8 g·mm of the sheet; and the machine that it was run on.
    let words = certificate.split_whitespace().collect::<Vec<_>>().join(" ");
    for part in ["Left, hub, of 46.8 g·mm", "Left, rim, of 34.8 g·mm", "Machine tested on"] {
        assert!(words.contains(part), "{part}: {certificate}");
    }
    // A long table begins on the page that it is said on.
    folder.run_with(&["certificate", "--where", "order=77", "-o", "batch.svg"]).ends(0);
    let pages = folder.read("batch.svg");
    let (row, second) = (pages.find(">26-0000<").unwrap(), pages.find("continued: ").unwrap());
    assert!(row < second, "{row} {second}");
    // Another belt makes the calibration void for whoever works by the sheet now, and not for what was delivered.
    let sheet = folder.read(FAN);
    folder.write(FAN, sheet.replacen("  belt runs on: 60 mm", "  belt runs on: 75 mm", 1).as_bytes());
    assert!(folder.run("overview").stdout().contains("void: "));
    assert_eq!(result(&folder, "26-0007", &["verdict"]), "within");
}

/// A verdict is counted where its card shows it.
#[test]
fn a_record_with_an_error_is_not_counted_as_within() {
    let folder = shop();
    let table = "SN,L1\nS1,0.1 div @ 40 deg\nS2,0.1 mm/s @ 40 deg\n";
    folder.write("batch.csv", table.as_bytes());
    let ran = folder.run_with(&[
        "new",
        "record",
        "--from-csv",
        "batch.csv",
        "-o",
        "batch",
        "--column",
        "name=SN",
        "--column",
        "run final / reading left=L1",
        "--set",
        "setup=fan wheel 315 on the soft bench",
        "--set",
        "date=2026-04-21",
        "--set",
        "run final / speed=1150 rpm",
        "--set",
        "run final / calibration masses=off",
        "--set",
        "run final / reading right=0.2 div @ 10 deg",
    ]);
    assert!(ran.stderr().contains("1 not to be used"), "{}", ran.stderr());
}

/// Rotors that were taken out to be corrected were corrected all the same.
#[test]
fn a_rotor_that_was_taken_out_may_have_been_corrected() {
    let folder = shop();
    let ran = batch(&folder, "2026-04-21", &["run final / remounted=yes"]);
    let one = folder.read("batch/26-0007.rotor");
    assert_eq!(one.matches("correction not recorded: yes").count(), 1, "{one}");
    assert!(ran.stderr().contains("2 over") && !ran.stderr().contains("not shown"), "{}", ran.stderr());
    // One that says so was not.
    let folder = shop();
    batch(&folder, "2026-04-21", &["run final / remounted=yes", "run final / correction not recorded=no"]);
    let one = folder.read("batch/26-0007.rotor");
    assert!(one.contains("correction not recorded: no") && !one.contains("not recorded: yes"), "{one}");
}

#[test]
fn a_proof_that_is_named_stays_named() {
    let folder = shop();
    batch(&folder, "2026-04-21", &["proof=\"2026-04-14\""]).ends(0);
    let one = folder.read("batch/26-0007.rotor");
    assert_eq!(one.matches("proof: \"2026-04-14\"").count(), 1, "{one}");
}

/// No proof and no sheet is as old as that day: nothing tells what the rotors were run by.
#[test]
fn records_from_before_the_sheet_are_not_bound() {
    let folder = shop();
    let ran = batch(&folder, "2026-04-01", &[]);
    assert!(ran.stderr().contains("50 records not bound to what the rotor was run by"), "{}", ran.stderr());
    assert!(!folder.read("batch/26-0007.rotor").contains("proof:"));
}
