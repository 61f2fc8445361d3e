//! `show` and `list`: what is computed, for people and for programs.

use crate::support::cli::{BOOK, FAN, Folder};
use serde_json::{Value, json};

const SETUP: &str = "fan wheel 315 on the soft bench";

const MACHINE: &str = "machine \"soft bench\" {\n  supports: soft\n  rotor mass: 0.5 kg to 40 kg\n\n  readout {\n    \
    shows: div\n    full scale: 100 div ± 1 div\n    angles: none\n  }\n}\n";

fn shop() -> Folder {
    Folder::with(&[("book.rotor", BOOK), ("sheets/fan.rotor", FAN), ("machine.rotor", MACHINE)])
}

fn result<'d>(document: &'d Value, path: &[&str]) -> &'d Value {
    let results = document["results"].as_array().unwrap();
    results.iter().find(|result| result["path"] == json!(path)).unwrap_or_else(|| panic!("no {path:?} in {document}"))
}

#[test]
fn the_document_has_its_documented_shape() {
    let document = shop().run_with(&["show", SETUP, "--format", "json"]).ends(0).json();
    assert_eq!(document["version"], 1);
    assert_eq!(document["item"], json!({"kind": "setup", "name": SETUP, "file": "sheets/fan.rotor"}));
    let reading = result(&document, &["calibrate hub", "reading"]);
    let mut keys: Vec<_> = reading.as_object().unwrap().keys().map(String::as_str).collect();
    keys.sort_unstable();
    let documented =
        ["formula", "inputs", "k", "name", "path", "source", "text", "uncertainty", "unit", "value", "with_numbers"];
    assert_eq!(keys, documented);
    assert_eq!((&reading["unit"], &reading["k"], &reading["name"]), (&"div".into(), &2.into(), &"reading".into()));
    // U_cal ÷ U_tol at one division, from the other results of the document.
    let ratio = result(&document, &["calibrate hub", "times tolerance"])["value"].as_f64().unwrap();
    assert!((reading["value"].as_f64().unwrap() / ratio - 1.0).abs() < 1e-12);
    let tolerance = json!({"item": {"kind": "rotor", "name": "fan wheel 315"}, "path": ["plane hub", "tolerance"]});
    assert!(reading["inputs"].as_array().unwrap().contains(&tolerance), "{reading}");
}

#[test]
fn a_table_is_rows_of_numbers_with_a_unit_for_each_column() {
    let document = shop().run_with(&["show", SETUP, "--format", "json"]).json();
    let table = result(&document, &["calibrate hub", "division table"]);
    let row = table["value"][0].as_array().unwrap();
    assert_eq!(row[0], 1.0);
    assert_eq!(table["unit"].as_array().unwrap().len(), row.len());
    assert_eq!(table["columns"].as_array().unwrap().len(), row.len());
}

#[test]
fn what_cannot_be_computed_says_what_is_missing() {
    let folder = Folder::with(&[("fan.rotor", &FAN.replace("  highest service speed: 3550 rpm\n", ""))]);
    let document = folder.run_with(&["show", "fan wheel 315", "--format", "json"]).ends(0).json();
    let missing = result(&document, &["tolerance", "permissible unbalance"]);
    assert_eq!(missing["value"], Value::Null);
    assert_eq!(missing["missing"][0]["path"], json!(["highest service speed"]));
    let tree = folder.run_with(&["show", "fan wheel 315", "--all"]).stdout();
    assert!(tree.contains("not computed: `highest service speed` in rotor \"fan wheel 315\" is missing"), "{tree}");
}

#[test]
fn an_item_without_results_shows_its_facts() {
    let document = shop().run_with(&["show", "soft bench", "--format", "json"]).json();
    let scale = result(&document, &["readout", "full scale"]);
    assert_eq!((&scale["value"], &scale["unit"]), (&100.0.into(), &"div".into()));
    // Limits ± a are a rectangle: u = a/√3 (GUM 4.3.7, from memory), shown with k = 2.
    assert!((scale["uncertainty"].as_f64().unwrap() - 2.0 / 3f64.sqrt()).abs() < 1e-12);
    assert_eq!(result(&document, &["rotor mass"])["value"], "0.5 kg to 40 kg");
}

#[test]
fn names_lead_to_one_item_or_to_a_choice() {
    let folder = shop();
    folder.write("twin.rotor", b"masses \"soft bench\" {\n  values: 1.00 g\n}\n");
    folder.run_with(&["show", "soft bench"]).is_misuse("choose with --kind machine or --kind masses");
    folder.run_with(&["show", "soft bench", "--kind", "masses"]).ends(0);
    folder.run_with(&["show", "soft bench", "--kind", "rotor"]).is_misuse("it has a machine of this name");
    folder.run_with(&["show", "fan whel 315"]).is_misuse("did you mean \"fan wheel 315\"?");
    folder.run_with(&["show", "something else"]).is_misuse("`rotorbook list` shows what there is");
    folder.write("twin.rotor", MACHINE.as_bytes());
    folder.run_with(&["show", "soft bench"]).is_misuse("machine in machine.rotor:1, machine in twin.rotor:1");
}

#[test]
fn the_tree_shows_formula_numbers_and_source() {
    let tree = shop().run_with(&["show", SETUP, "--all"]).ends(0).stdout();
    let lines: Vec<_> = tree.lines().collect();
    let line = FAN.lines().position(|line| line.starts_with("setup ")).unwrap() + 1;
    assert_eq!(lines[0], format!("setup \"{SETUP}\"  sheets/fan.rotor:{line}"));
    assert_eq!(lines[1], "± is the expanded uncertainty, k = 2");
    let at = lines.iter().position(|line| line.starts_with("    calibration unbalance  ")).unwrap();
    assert_eq!(lines[at + 1], "        U_cal = m · r");
    assert_eq!(lines[at + 2], "              = 3 g · 134.2 mm");
    assert!(lines.iter().all(|line| line.trim_end() == *line), "no blanks at the end of a line");
    let too_long = lines.iter().find(|line| line.chars().count() > 100);
    assert_eq!(too_long, None);
}

#[test]
fn csv_has_a_row_for_each_result() {
    let ran = shop().run_with(&["show", "fan wheel 315", "--format", "csv"]);
    let stdout = ran.ends(0).stdout();
    let mut reader = csv::Reader::from_reader(stdout.as_bytes());
    assert_eq!(reader.headers().unwrap().iter().take(4).collect::<Vec<_>>(), ["block", "result", "value", "unit"]);
    let rows: Vec<csv::StringRecord> = reader.records().map(Result::unwrap).collect();
    let mass = rows.iter().find(|row| &row[1] == "mass").unwrap();
    assert_eq!((mass[2].parse::<f64>().unwrap(), &mass[3]), (4.82, "kg"), "2.73 kg and 2.09 kg, weighed");
}

#[test]
fn the_list_names_items_with_their_main_facts() {
    let folder = shop();
    let document = folder.run("list --kind machine --format json").ends(0).json();
    let headline = "soft supports, 0.5 kg to 40 kg, shows div";
    let item =
        json!({"kind": "machine", "name": "soft bench", "file": "machine.rotor", "line": 1, "headline": headline});
    assert_eq!(document, json!({"version": 1, "items": [item]}));
    let table = folder.run("list").ends(0).stdout();
    assert!(table.contains("rotor    fan wheel 315"), "{table}");
    let csv = folder.run("list --format csv --kind shop").stdout();
    assert_eq!(csv, "kind,name,file,line,headline\nshop,Tern Quay Rotor Shop,book.rotor,1,format 1\n");
}

#[test]
fn an_item_fits_on_one_screen() {
    let book = concat!(env!("CARGO_MANIFEST_DIR"), "/examples/tern-quay");
    let folder = Folder::with(&[]);
    let items = folder.run_with(&["list", "--book", book, "--format", "json"]).ends(0).json();
    let items = items["items"].as_array().unwrap();
    assert!(items.len() > 30, "{items:?}");
    // One in six: each is two starts of the program.
    for item in items.iter().step_by(6) {
        let (kind, name) = (item["kind"].as_str().unwrap(), item["name"].as_str().unwrap());
        let shown = folder.run_with(&["show", name, "--kind", kind, "--book", book]).ends(0).stdout();
        let table = folder.run_with(&["show", name, "--kind", kind, "--book", book, "--format", "table"]).stdout();
        for line in shown.lines().chain(table.lines()) {
            assert!(line.chars().count() <= 100, "{name}: {line}");
            assert_eq!(line.trim_end(), line, "{name}");
        }
        if matches!(kind, "setup" | "rotor") {
            assert!(shown.lines().count() <= 40, "{name}: {}\n{shown}", shown.lines().count());
        }
    }
}

#[test]
fn a_screen_says_what_is_set_and_what_is_read() {
    let shown = shop().run_with(&["show", SETUP]).ends(0).stdout();
    for part in ["rotor \"fan wheel 315\"; 4.82 kg", "1150 rpm", "never proven", "3 g at 134.2 mm", "tolerance"] {
        assert!(shown.contains(part), "{part}: {shown}");
    }
    assert!(!shown.contains("U_cal"), "{shown}");
    let one = shop().run_with(&["show", SETUP, "calibrate hub / reading"]).ends(0).stdout();
    assert!(one.contains("source: ") && !one.contains("rim speed"), "{one}");
    let both = shop().run_with(&["show", SETUP, "one division"]).ends(0).stdout();
    assert!(both.contains("calibrate hub") && both.contains("calibrate rim"), "{both}");
    shop().run_with(&["show", SETUP, "readng"]).is_misuse("did you mean `reading`?");
}

fn words(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// The readings of a trial series that nobody has made yet are missing, and are not readings without an angle.
#[test]
fn an_open_reading_is_a_hole_before_it_is_an_amount_without_an_angle() {
    let folder = super::cli_balance::shop();
    let path = "setups/fan-wheel-560-soft-bench.rotor";
    let text = folder.read(path);
    let open = |line: &str, all: bool| match line.trim_start().split_once(": ") {
        Some((head, _)) if head.starts_with("reading ") && (all || line.contains("16.6 mark")) => {
            format!("    {head}: ?\n")
        }
        _ => format!("{line}\n"),
    };
    for all in [true, false] {
        folder.write(path, text.lines().map(|line| open(line, all)).collect::<String>().as_bytes());
        let setup = "fan wheel 560 on the soft bench";
        let shown = words(&folder.run_with(&["show", setup, "--kind", "setup", "--all"]).stdout());
        let found = words(&folder.run("check").stdout());
        for said in [&shown, &found] {
            for wrong in ["without angles", "no run as found", "has no angle"] {
                assert!(!said.contains(wrong), "{wrong}: {said}");
            }
        }
        let of = if all { "as found" } else { "clip on the shroud" };
        assert!(
            shown.contains(&format!("`reading left` of trial {of}")) && shown.contains("is not known yet"),
            "{shown}"
        );
    }
}

/// Two planes that two channels read together: what is left is an unbalance, and no readout shows it.
#[test]
fn what_may_be_left_is_said_as_what_it_is() {
    let folder = super::cli_balance::shop();
    let setup = "fan wheel 560 on the soft bench";
    let shown = folder.run_with(&["show", setup, "--kind", "setup"]).stdout();
    assert!(shown.contains("residual at most") && !shown.contains("read at most"), "{shown}");
    let row = |shown: &str| shown.lines().find(|line| line.trim_start().starts_with("shroud")).map(str::to_owned);
    let most = row(&shown).unwrap().rsplit("  ").next().unwrap().trim().to_owned();
    assert!(most.ends_with("g·mm"), "{shown}");
    let card = words(&folder.run_with(&["card", setup, "--run"]).stdout());
    assert!(card.contains(&format!("shroud {most}")), "{most}: {card}");
    for head in ["residual at most", "read at most"] {
        let one = folder.run_with(&["show", setup, head, "--kind", "setup"]).ends(0).stdout();
        assert!(one.contains("limit to read shroud"), "{head}: {one}");
    }
}
