//! `history`: the life of an item through commits.

use crate::support::git::{ROTOR, Repo};
use serde_json::Value;

const SETUP: &str = "fan wheel 315 on the soft bench";

/// What each commit did, as `subject: change path, path`.
fn life(repo: &Repo, arguments: &[&str]) -> Vec<String> {
    let document = repo.json(&[&["history"], arguments].concat());
    let told = |step: &Value| {
        let subject = step["subject"].as_str().unwrap_or("not committed");
        let change = step["change"].as_str().unwrap();
        let path = |fact: &Value| {
            let path = fact["path"].as_array().unwrap().iter().map(|part| part.as_str().unwrap());
            path.collect::<Vec<_>>().join(" / ")
        };
        let facts: Vec<String> = match change {
            "added" | "back again" | "removed" | "oldest" => Vec::new(),
            _ => step["facts"].as_array().unwrap().iter().map(path).collect(),
        };
        format!("{subject}: {change} {}", facts.join(", ")).trim_end().to_owned()
    };
    document["commits"].as_array().unwrap().iter().map(told).collect()
}

#[test]
fn commits_that_changed_the_meaning_and_no_others() {
    let repo = Repo::with_shop("sheets");
    repo.edit("setups/fan-wheel-315.rotor", "    \"left strength\": 212", "    \"left strength\": 215");
    repo.commit("stronger");
    repo.edit("setups/fan-wheel-315.rotor", "\n  belt runs on: 60 mm", "\n  belt runs on:  6.0 cm # at the hub");
    repo.commit("another unit");
    repo.edit("rotors/fan-wheel-315.rotor", "330 mm", "331 mm");
    repo.commit("another item");
    repo.git_with(&["mv", "sheets/setups/fan-wheel-315.rotor", "sheets/setups/soft bench µ.rotor"]);
    repo.commit("another file");
    repo.edit("setups/soft bench µ.rotor", "    \"lamp delay\": 4 deg", "    \"lamp delay\": 5 deg");
    assert_eq!(
        life(&repo, &[SETUP]),
        [
            "not committed: changed settings / lamp delay",
            "stronger: changed settings / left strength",
            "the shop's book: added"
        ]
    );
    assert_eq!(life(&repo, &["fan wheel 315", "--kind", "rotor"]).len(), 2);
}

#[test]
fn renames_of_item_and_file_are_followed() {
    let repo = Repo::with_shop("");
    repo.edit("rotors/fan-wheel-315.rotor", "330 mm", "331 mm");
    repo.commit("larger");
    repo.git("mv rotors/fan-wheel-315.rotor rotors/accommodation.rotor");
    repo.edit("rotors/accommodation.rotor", "rotor \"fan wheel 315\"", "rotor \"accommodation fan\"");
    repo.edit("setups/fan-wheel-315.rotor", "rotor: \"fan wheel 315\"", "rotor: \"accommodation fan\"");
    repo.commit("renamed");
    // The old name is given to another wheel.
    repo.write("rotors/fan-wheel-315.rotor", "rotor \"fan wheel 315\" {\n  mass: 3 kg\n}\n");
    repo.commit("another wheel");
    repo.edit("rotors/accommodation.rotor", "331 mm", "332 mm");
    repo.commit("larger again");
    let all = [
        "larger again: changed largest diameter",
        "renamed: renamed",
        "larger: changed largest diameter",
        "the shop's book: added",
    ];
    assert_eq!(life(&repo, &["accommodation fan"]), all);
    assert_eq!(life(&repo, &["fan wheel 315"]), ["another wheel: added"]);
    // That its rotor has another name is no change of the setup.
    assert_eq!(life(&repo, &[SETUP]), ["the shop's book: added"]);
}

#[test]
fn the_life_of_one_fact() {
    let repo = Repo::with_shop("");
    repo.edit("rotors/fan-wheel-315.rotor", "330 mm", "331 mm");
    repo.commit("larger");
    repo.edit("rotors/fan-wheel-315.rotor", "141 mm", "140 mm");
    repo.commit("smaller rim");
    assert_eq!(
        life(&repo, &["fan wheel 315", "--facts", "plane rim / radius"]),
        ["smaller rim: changed plane rim / radius", "the shop's book: added"]
    );
    assert_eq!(life(&repo, &["fan wheel 315", "--facts", "largest diameter"]).len(), 2);
    repo.run(&["history", "fan wheel 315", "--facts", "no such key"]).is_misuse("never had a fact");
    repo.run(&["history", "fan wheel 315", "--facts", "largest diametre"])
        .is_misuse("did you mean `largest diameter`?");
    let text = repo.run(&["history", "fan wheel 315", "--facts", "largest diameter"]).ends(0).stdout;
    assert!(text.contains("  + largest diameter: 330 mm\n") && text.contains("330 mm → 331 mm"), "{text}");
}

/// A plane has another name from some commit on, and so have the lines that name it.
#[test]
fn the_life_of_a_fact_goes_on_where_what_it_is_of_had_another_name() {
    let repo = Repo::with_shop("");
    let (rotor, setup) = ("rotors/fan-wheel-315.rotor", "setups/fan-wheel-315.rotor");
    repo.edit(rotor, "    hole diameter: 8 mm", "    hole diameter: 7 mm");
    repo.edit(setup, "    residual at calibration: 0.5 div", "    residual at calibration: 0.6 div");
    repo.commit("smaller");
    repo.write(rotor, &repo.read(rotor).replace("plane hub", "plane nave"));
    let text = repo.read(setup);
    repo.write(setup, &text.replace(" hub {", " nave {").replace(" hub:", " nave:").replace("left: hub", "left: nave"));
    repo.commit("nave");
    repo.edit(rotor, "    hole diameter: 7 mm", "    hole diameter: 9 mm");
    repo.edit(setup, "    residual at calibration: 0.6 div", "    residual at calibration: 0.7 div");
    repo.commit("larger");
    let of = |name: &str, kind: &str, fact: &str| life(&repo, &[name, "--kind", kind, "--facts", fact]);
    let hole = [
        "larger: changed plane nave / hole diameter",
        "smaller: changed plane hub / hole diameter",
        "the shop's book: added",
    ];
    assert_eq!(of("fan wheel 315", "rotor", "plane nave / hole diameter"), hole);
    let residual = [
        "larger: changed calibrate nave / residual at calibration",
        "smaller: changed calibrate hub / residual at calibration",
        "the shop's book: added",
    ];
    assert_eq!(of(SETUP, "setup", "calibrate nave / residual at calibration"), residual);
    // That alone is no change of the setup.
    assert!(!life(&repo, &[SETUP]).iter().any(|step| step.starts_with("nave")), "{:?}", life(&repo, &[SETUP]));
}

#[test]
fn a_merge_counts_only_for_what_neither_side_had() {
    let repo = Repo::with_shop("");
    repo.git("checkout -q -b side");
    repo.edit("rotors/fan-wheel-315.rotor", "330 mm", "331 mm");
    repo.commit("on the side");
    repo.git("checkout -q main");
    repo.edit("rotors/fan-wheel-315.rotor", "radius: 141 mm", "radius: 140 mm");
    repo.commit("on main");
    repo.git_with(&["merge", "-q", "--no-edit", "side"]);
    let merged = life(&repo, &["fan wheel 315"]);
    assert_eq!(merged.len(), 3, "{merged:?}");
    repo.git("checkout -q -b other HEAD~1");
    repo.edit("rotors/fan-wheel-315.rotor", "radius: 140 mm", "radius: 139 mm");
    repo.commit("other");
    repo.git("checkout -q main");
    repo.edit("rotors/fan-wheel-315.rotor", "radius: 140 mm", "radius: 138 mm");
    repo.commit("ours");
    assert_eq!(repo.try_git(&["merge", "other"]).0, 1);
    repo.write("rotors/fan-wheel-315.rotor", &ROTOR.replace("141 mm", "137 mm").replace("330 mm", "331 mm"));
    repo.commit("settled by a third value");
    assert_eq!(life(&repo, &["fan wheel 315"])[0], "settled by a third value: changed plane rim / radius");
}

#[test]
fn an_item_that_is_gone_has_a_history() {
    let repo = Repo::with_shop("");
    repo.edit("setups/fan-wheel-315.rotor", "    \"left strength\": 212", "    \"left strength\": 215");
    repo.commit("stronger");
    repo.git("rm -q setups/fan-wheel-315.rotor");
    repo.commit("no longer used");
    assert_eq!(
        life(&repo, &[SETUP]),
        ["no longer used: removed", "stronger: changed settings / left strength", "the shop's book: added"]
    );
    repo.run(&["history", "fan wheel 316"]).is_misuse("did you mean \"fan wheel 315\"?");
}

#[test]
fn a_sheet_with_a_conflict_committed_does_not_end_the_history() {
    let repo = Repo::with_shop("");
    let text = repo.read("rotors/fan-wheel-315.rotor");
    let conflict = "<<<<<<< a\n  largest diameter: 330 mm\n=======\n  largest diameter: 340 mm\n>>>>>>> b\n";
    repo.write("rotors/fan-wheel-315.rotor", &text.replace("  largest diameter: 330 mm\n", conflict));
    repo.commit("a conflict left in");
    repo.write("rotors/fan-wheel-315.rotor", &text.replace("330 mm", "340 mm"));
    repo.commit("settled");
    assert_eq!(life(&repo, &["fan wheel 315"]), ["settled: changed largest diameter", "the shop's book: added"]);
}

#[test]
fn what_was_removed_and_came_back_has_one_life() {
    let repo = Repo::with_shop("");
    repo.edit("setups/fan-wheel-315.rotor", "    \"left strength\": 212", "    \"left strength\": 215");
    repo.commit("stronger");
    repo.git("rm -q setups/fan-wheel-315.rotor");
    repo.commit("no longer used");
    repo.edit("rotors/fan-wheel-315.rotor", "330 mm", "331 mm");
    repo.commit("meanwhile");
    repo.git("revert --no-edit HEAD~1");
    assert_eq!(
        life(&repo, &[SETUP]),
        [
            "Revert \"no longer used\": back again",
            "no longer used: removed",
            "stronger: changed settings / left strength",
            "the shop's book: added"
        ]
    );
    assert!(repo.run(&["history", SETUP]).ends(0).stdout.contains("  back again in setups/fan-wheel-315.rotor, with "));
}
