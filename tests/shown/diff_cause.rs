//! Under which change a moved result is told, and what is no change worth telling.

use serde_json::Value;

use crate::support::git::Repo;

const SETUP: &str = "setups/fan-wheel-315.rotor";
const ROTOR: &str = "rotors/fan-wheel-315.rotor";
const MACHINE: &str = "machines/soft-bench.rotor";

fn item<'d>(document: &'d Value, kind: &str) -> &'d Value {
    let items = document["items"].as_array().unwrap();
    items.iter().find(|item| item["kind"] == kind).unwrap_or_else(|| panic!("no {kind}: {document:#}"))
}

/// The results of an item's section, with the facts that they were worked out from: `reading: calibrate hub / mass`.
fn because(item: &Value) -> Vec<String> {
    let words = |value: &Value| {
        let parts = value.as_array().unwrap().iter().map(|part| part.as_str().unwrap().to_owned());
        parts.collect::<Vec<_>>().join(" / ")
    };
    let of = |result: &Value| {
        let causes = result["because"].as_array().unwrap().iter().map(|cause| words(&cause["path"]));
        format!("{}: {}", words(&result["path"]), causes.collect::<Vec<_>>().join(", "))
    };
    item["results"].as_array().unwrap().iter().filter(|result| result["change"] == "value").map(of).collect()
}

#[test]
fn a_moved_result_stands_under_the_facts_that_it_was_worked_out_from() {
    let repo = Repo::with_shop("");
    // A remark in the rotor, a mass and a radius in the setup.
    repo.edit(ROTOR, "  datum", "  note: \"kept on the shelf\"\n  datum");
    repo.edit(SETUP, "    mass: 3.00 g\n    radius: 268.4", "    mass: 3.20 g\n    radius: 268.4");
    repo.edit(
        SETUP,
        "    radius: 141.0 mm\n    angle: 0 deg\n    shows",
        "    radius: 140.0 mm\n    angle: 0 deg\n    shows",
    );
    let document = repo.json(&["diff"]);
    assert_eq!(item(&document, "rotor")["results"], serde_json::json!([]), "nothing is under a remark");
    let told = because(item(&document, "setup"));
    for line in [
        "calibrate hub / calibration unbalance: calibrate hub / mass",
        "calibrate rim / calibration unbalance: calibrate rim / radius",
    ] {
        assert!(told.contains(&line.to_owned()), "{line}: {told:#?}");
    }
}

#[test]
fn all_causes_of_a_result_are_told() {
    let repo = Repo::with_shop("");
    repo.edit(ROTOR, "grade: G 6.3", "grade: G 2.5");
    repo.edit(ROTOR, "highest service speed: 3550 rpm", "highest service speed: 3000 rpm");
    let told = because(item(&repo.json(&["diff"]), "rotor"));
    let line = "tolerance / permissible unbalance: tolerance / grade, highest service speed";
    assert!(told.contains(&line.to_owned()), "{told:#?}");
}

#[test]
fn a_void_calibration_names_every_cause_and_is_told_once() {
    let repo = Repo::with_shop("");
    repo.edit(SETUP, "\n  balancing speed: 1150 rpm", "\n  balancing speed: 1100 rpm");
    repo.edit(SETUP, "    \"left strength\": 212", "    \"left strength\": 230");
    let document = repo.json(&["diff"]);
    let alerts = item(&document, "setup")["alerts"].as_array().unwrap();
    let void: Vec<&Value> = alerts.iter().filter(|alert| alert["code"] == "calibration-void").collect();
    assert_eq!(void.len(), 1, "{alerts:#?}");
    let causes = void[0]["new"].as_str().unwrap();
    assert!(causes.contains("1150 rpm") && causes.contains("left strength"), "{causes}");
    repo.commit("void");
    // What was void before is not told again, and a way back is none.
    repo.edit(SETUP, "    \"right strength\": 238", "    \"right strength\": 240");
    assert!(!repo.alerts(&[]).contains(&"calibration-void setup".to_owned()));
    repo.git("checkout -q -- .");
    let back = repo.json(&["diff", "HEAD", "HEAD~1"]);
    assert!(!back.to_string().contains("calibration-void"), "{back:#}");
}

#[test]
fn nobody_loosens_a_tolerance_in_a_digit_that_nobody_sets() {
    let repo = Repo::with_shop("");
    repo.edit(ROTOR, "highest service speed: 3550 rpm", "highest service speed: 59.2 Hz");
    // 59.2 Hz are 3552 rpm: another last digit, which loosens nothing.
    let alerts = repo.alerts(&[]);
    assert!(!alerts.iter().any(|alert| alert.starts_with("tolerance") || alert.starts_with("speed")), "{alerts:?}");
    repo.git("checkout -q -- .");
    repo.edit(ROTOR, "grade: G 6.3", "grade: G 16");
    let text = repo.run(&["diff"]).stdout;
    assert!(text.contains("(×2.54)"), "16 / 6.3: {text}");
}

#[test]
fn the_headline_counts_what_a_check_since_counts() {
    let repo = Repo::with_shop("");
    repo.edit(MACHINE, "belt slip: 1.5 %", "belt slip: 5 %");
    let document = repo.json(&["diff"]);
    let since = repo.json(&["check", "--since", "HEAD"]);
    let all = since["diagnostics"].as_array().unwrap();
    let errors = all.iter().filter(|one| one["severity"] == "error").count();
    assert!(errors > 0, "{since:#}");
    assert_eq!(document["totals"]["errors"], errors);
    let text = repo.run(&["diff"]).stdout;
    assert!(text.contains("pinned result is stale") || text.contains("pinned results are stale"), "{text}");
}

#[test]
fn names_that_are_changed_throughout_are_one_line_and_void_nothing() {
    let repo = Repo::with_shop("");
    for (path, old, new) in
        [(MACHINE, "lamp delay", "strobe delay"), (MACHINE, "channels: left, right", "channels: near, far")]
    {
        repo.edit(path, old, new);
    }
    let rotor = repo.read(ROTOR).replace("plane rim {", "plane lip {");
    repo.write(ROTOR, &rotor);
    let setup = repo.read(SETUP).replace("lamp delay", "strobe delay").replace("rim", "lip");
    let setup = setup.replace("channel left", "channel near").replace("channel right", "channel far");
    let setup = setup.replace("reading left", "reading near").replace("reading right", "reading far");
    let setup = setup.replace("start left", "start near").replace("start right", "start far");
    let setup = setup.replace("remounted left", "remounted near").replace("remounted right", "remounted far");
    repo.write(SETUP, &setup);
    let document = repo.json(&["diff"]);
    assert_eq!(
        repo.facts(&[]),
        [
            "soft bench: channels left, right → near, far",
            "soft bench: control strobe delay control lamp delay → control strobe delay",
            "fan wheel 315: plane lip plane rim → plane lip",
        ],
    );
    assert_eq!(document["totals"]["results"], 0, "{document:#}");
    // The card has the new names, and no other revision.
    assert_eq!(repo.alerts(&[]), ["released-without-new-revision setup"]);
}

#[test]
fn a_proof_with_another_name_is_one_line() {
    let repo = Repo::with_shop("");
    let setup = repo.read(SETUP);
    let (before, rest) = setup.split_once("  proof \"").expect("the sheet is proven");
    let (name, after) = rest.split_once('"').unwrap();
    let renamed = format!("{before}  proof \"first\"{}", after);
    repo.write(SETUP, &renamed);
    assert_eq!(repo.facts(&[]), [format!("fan wheel 315 on the soft bench: proof first proof {name} → proof first")]);
}

#[test]
fn a_released_sheet_that_gains_a_warning_says_so() {
    let repo = Repo::with_shop("");
    repo.edit(SETUP, "  tolerance reads: 1 div\n", "  tolerance reads: 2 div\n");
    assert_eq!(repo.alerts(&[]), ["released-warned setup"]);
}

/// The sheets still say the old name: they are wrong now, but nothing in them or their proofs was changed.
#[test]
fn a_control_that_is_renamed_on_the_machine_alone_changes_no_sheet() {
    let repo = Repo::with_shop("");
    repo.edit(MACHINE, "control \"cradle lock\"", "control \"cradle pin\"");
    assert_eq!(repo.facts(&[]), ["soft bench: control cradle pin control cradle lock → control cradle pin"]);
    assert!(!repo.alerts(&[]).contains(&"proof-rewritten setup".to_owned()), "{:?}", repo.alerts(&[]));
    let document = repo.json(&["diff"]);
    let said = document.to_string();
    assert!(!said.contains("proof-rewritten"), "{document:#}");
    // The sheet follows, and its proof does not: what was read with it is what it was.
    repo.edit(SETUP, "  setting \"cradle lock\": free", "  setting \"cradle pin\": free");
    assert!(!repo.alerts(&[]).contains(&"proof-rewritten setup".to_owned()), "{:?}", repo.alerts(&[]));
}
