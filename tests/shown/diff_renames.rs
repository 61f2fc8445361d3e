//! A name within an item that is another everywhere is one fact, and stays one where something beside it changes.

use std::path::Path;
use std::sync::Arc;

use crate::support::books;
use crate::support::git::Repo;
use rotorbook::book::{Book, FileId, SourceFile, head_of};
use rotorbook::check::FileEdit;
use rotorbook::diff::{AlertCode, compare_and_judge};
use rotorbook::ide;
use rotorbook::sheet::{Block, Field, FieldValue};
use rotorbook::syntax::Kind;
use rotorbook::text::{Edit, apply};
use rotorbook::vocabulary::NameOf;

/// A block that is declared in an item, and a fact of it that can be another.
struct Declared {
    file: FileId,
    at: u32,
    what: String,
    kind: Kind,
    other: Option<(Edit, String)>,
}

fn declared(book: &Book) -> Vec<Declared> {
    let mut all = Vec::new();
    for id in book.items() {
        let item = book.item(id);
        gather(item, id.file, &book.file(id.file).text, item.name_text(), &mut all);
    }
    all
}

fn gather(block: &Block, file: FileId, text: &str, item: &str, all: &mut Vec<Declared>) {
    for inner in &block.blocks {
        if let Some(name) = inner.name.as_ref().filter(|_| inner.spec().name == Some(NameOf::Own)) {
            let what = format!("{item}: {} {}", inner.kind, name.text);
            let amounts: Vec<&Field> = inner
                .fields
                .iter()
                .filter(|field| matches!(field.value, FieldValue::Quantity(_) | FieldValue::Reading(_)))
                .collect();
            // Of a block with two facts, one changed and a new name leave half.
            let other = amounts.last().filter(|_| inner.fields.len() > 2).and_then(|field| {
                let written = field.value_span.of(text);
                let at = written.find(|c: char| ('1'..='8').contains(&c))?;
                let digit = written[at..].chars().next()?.to_digit(10)? + 1;
                let value = format!("{}{digit}{}", &written[..at], &written[at + 1..]);
                Some((Edit::replace(field.value_span, value), head_of(field)))
            });
            all.push(Declared { file, at: name.span.start, what, kind: inner.kind, other });
        }
        gather(inner, file, text, item, all);
    }
}

fn with(book: &Book, edits: &[FileEdit]) -> Book {
    let read = |(id, file): (FileId, &SourceFile)| {
        let own: Vec<Edit> = edits.iter().filter(|edit| edit.file == id).map(|edit| edit.edit.clone()).collect();
        Arc::new(SourceFile::read(&*file.path, apply(&file.text, &own).unwrap()))
    };
    Book::new(book.files().map(read).collect())
}

/// What a comparison finds in facts, and what it alerts to but for the cards of released sheets, which have the name.
fn found(old: &Book, new: &Book) -> (Vec<String>, Vec<String>) {
    let diff = compare_and_judge(old, new);
    let facts = diff.items.iter().flat_map(|item| &item.facts).map(|fact| fact.path.join(" / ")).collect();
    let alerts = diff.alerts().into_iter().filter(|alert| alert.code != AlertCode::ReleasedWithoutNewRevision);
    (facts, alerts.map(|alert| format!("{}: {:?}", alert.code.code(), alert.path)).collect())
}

fn holds(step: usize) {
    let book = books::book_in(&Path::new(env!("CARGO_MANIFEST_DIR")).join("examples/tern-quay"));
    let all = declared(&book);
    let kinds: std::collections::BTreeSet<String> = all.iter().map(|one| one.kind.to_string()).collect();
    assert!(all.len() > 60 && kinds.len() >= 7, "{} of {kinds:?}", all.len());
    let (mut renamed, mut wrong) = (0, Vec::new());
    // A sheet that leaves out `calibrate hub` says so with the name; sheets that are like each other have one name for it.
    let is_of_name = |fact: &String| fact.contains("renamed one") || fact == "leave out";
    for one in all.iter().step_by(step) {
        // Some names are not free: those of the ends of a rotor.
        let Ok(mut edits) = ide::rename(&book, one.file, one.at, "renamed one") else { continue };
        renamed += 1;
        let (facts, alerts) = found(&book, &with(&book, &edits));
        if facts.is_empty() || !facts.iter().all(is_of_name) || !(alerts.is_empty() || one.kind == Kind::Run) {
            wrong.push(format!("{}: {facts:?} {alerts:?}", one.what));
        }
        let Some((edit, head)) = &one.other else { continue };
        edits.push(FileEdit { file: one.file, edit: edit.clone() });
        let (more, _) = found(&book, &with(&book, &edits));
        let is_other = |fact: &&String| fact.ends_with(&format!(" / {head}"));
        if more.len() != facts.len() + 1 || !more.iter().all(is_of_name) || more.iter().filter(is_other).count() != 1 {
            wrong.push(format!("{} with {head}: {more:?}", one.what));
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
    assert!(renamed > 60 / step, "{renamed}");
}

#[test]
fn a_named_block_may_be_called_otherwise_with_one_change_beside_it() {
    holds(13);
}

#[test]
#[ignore = "takes minutes: every named block of the example book"]
fn any_named_block_may_be_called_otherwise_with_one_change_beside_it() {
    holds(1);
}

fn edit_all(repo: &Repo, folder: &str, old: &str, new: &str) {
    for file in std::fs::read_dir(repo.path(folder)).unwrap() {
        let path = file.unwrap().path();
        let text = std::fs::read_to_string(&path).unwrap().replace(old, new);
        std::fs::write(&path, text).unwrap();
    }
}

#[test]
fn a_plane_that_moves_and_has_another_name_is_the_plane_it_was() {
    let repo = Repo::with_tern_quay();
    let rotor = "rotors/blower-shaft-41.rotor";
    for (path, old, new) in [
        (rotor, "plane \"tail collar\"", "plane \"end collar\""),
        (rotor, "\"tail collar\": 10.0", "\"end collar\": 10.0"),
        (rotor, "at: 188 mm", "at: 186 mm"),
        ("records/blower-41.rotor", "correction \"tail collar\"", "correction \"end collar\""),
    ] {
        repo.edit(path, old, new);
    }
    let sheet = "setups/blower-shaft-41-stiff-bench.rotor";
    repo.write(sheet, &repo.read(sheet).replace("\"tail collar\"", "\"end collar\""));
    let facts = [
        "blower shaft 41: plane end collar plane tail collar → plane end collar",
        "blower shaft 41: plane end collar / at 188 mm → 186 mm",
    ];
    assert_eq!(repo.facts(&[]), facts);
    let alerts = repo.alerts(&[]).join(", ");
    for code in ["proof-rewritten", "convention-changed", "limit-loosened", "record-altered"] {
        assert!(!alerts.contains(code), "{alerts}");
    }
    // 2 mm further from where it was proven.
    assert!(alerts.contains("calibration-void setup"), "{alerts}");
    assert!(!repo.run(&["check", "--since", "HEAD"]).stdout.contains("proof-rewritten"));
}

#[test]
fn a_run_with_another_name_and_another_reading_is_told_by_both() {
    let repo = Repo::with_tern_quay();
    repo.edit("records/fan-wheel-315.rotor", "run corrected {", "run \"after first correction\" {");
    repo.edit("records/fan-wheel-315.rotor", "reading left: 0.1 div @ 35 deg", "reading left: 0.3 div @ 35 deg");
    let altered = [
        "run after first correction: run corrected → run after first correction, –",
        "run after first correction / reading left: 0.1 div @ 35 deg → 0.3 div @ 35 deg, –",
    ];
    assert_eq!(repo.alerts_of("record-altered", &[]), altered);
}

#[test]
fn a_scale_and_a_position_that_are_called_otherwise_alter_nothing_that_was_read_or_set() {
    let repo = Repo::with_tern_quay();
    let bench = "machines/soft-bench.rotor";
    repo.edit(bench, "scale fine {", "scale low {");
    ["setups", "records"].into_iter().for_each(|folder| edit_all(&repo, folder, "mark on fine", "mark on low"));
    assert_eq!(repo.facts(&[]), ["soft bench: readout / scale low scale fine → scale low"]);
    for code in ["record-altered", "proof-rewritten", "measurement-altered"] {
        assert_eq!(repo.alerts_of(code, &[]), Vec::<String>::new(), "{code}");
    }
    // One sheet that was overlooked is told by the check, and none of its readings is another.
    repo.git("checkout -q -- records");
    assert_eq!(repo.facts(&[]), ["soft bench: readout / scale low scale fine → scale low"]);
    repo.git("checkout -q -- .");
    // A reading that truly was on the other scale is another reading.
    repo.edit("records/fan-wheel-315.rotor", "8.8 mark on fine", "8.8 mark on coarse");
    assert_eq!(repo.alerts_of("record-altered", &[]).len(), 1);
    repo.git("checkout -q -- .");
    let switch = repo.read(bench);
    let line = switch.lines().find(|line| line.contains("positions: ") && line.contains("free")).unwrap().to_owned();
    repo.edit(bench, &line, &line.replace("free", "loose"));
    edit_all(&repo, "setups", "\"cradle lock\": free", "\"cradle lock\": loose");
    edit_all(&repo, "setups", "setting cradle lock: free", "setting cradle lock: loose");
    let facts = repo.facts(&[]);
    assert!(
        matches!(facts.as_slice(), [one] if one.starts_with("soft bench: control cradle lock / positions ")),
        "{facts:#?}"
    );
}

// An arbor of two facts, one of them another, under another name in the sheet that it serves.
#[test]
fn a_small_item_is_followed_by_who_names_it() {
    let repo = Repo::with_shop("");
    let sheet = "setups/fan-wheel-315.rotor";
    let arbor = "arbor \"stub\" {\n  mass: 1.20 kg\n  fit clearance: 0.005 mm\n}\n";
    repo.write("arbors.rotor", arbor);
    repo.edit(sheet, "  masses: \"brass set\"\n", "  masses: \"brass set\"\n  arbor: \"stub\"\n");
    repo.commit("an arbor");
    repo.write("arbors.rotor", &arbor.replace("stub", "short arbor").replace("1.20 kg", "1.22 kg"));
    repo.edit(sheet, "arbor: \"stub\"", "arbor: \"short arbor\"");
    assert_eq!(repo.facts(&[]), ["short arbor: mass 1.20 kg → 1.22 kg"]);
    // Another arbor beside the old one is none of that.
    repo.git("checkout -q -- .");
    repo.write("arbors.rotor", &format!("{arbor}\n{}", arbor.replace("stub", "short arbor")));
    repo.edit(sheet, "arbor: \"stub\"", "arbor: \"short arbor\"");
    assert!(
        repo.facts(&[]).iter().any(|fact| fact.contains("arbor \"stub\" → \"short arbor\"")),
        "{:?}",
        repo.facts(&[])
    );
}

const BENCH: &str = "machines/soft-bench.rotor";
const WHEEL: &str = "rotors/fan-wheel-315.rotor";
const SHEET: &str = "setups/fan-wheel-315.rotor";

fn sorted(mut lines: Vec<String>) -> Vec<String> {
    lines.sort();
    lines
}

/// Replaces each name by another, all of them at once.
fn call_otherwise(repo: &Repo, path: &str, names: &[(&str, &str)]) {
    let mut text = repo.read(path);
    for (n, (was, _)) in names.iter().enumerate() {
        text = text.replace(was, &format!("\u{1}{n}\u{1}"));
    }
    for (n, (_, is)) in names.iter().enumerate() {
        text = text.replace(&format!("\u{1}{n}\u{1}"), is);
    }
    repo.write(path, &text);
}

// Who sets a control tells which it is, not its place on the panel.
#[test]
fn two_controls_that_change_names_and_places_are_what_their_sheets_set() {
    let repo = Repo::with_shop("");
    let names = [("left strength", "strength of left"), ("right strength", "strength of right")];
    call_otherwise(&repo, SHEET, &names);
    call_otherwise(&repo, BENCH, &[(names[0].0, names[1].1), (names[1].0, names[0].1)]);
    let facts = repo.facts(&[]);
    assert!(facts[0].starts_with("soft bench: order of controls "), "{facts:#?}");
    let renamed = [
        "soft bench: control strength of right control right strength → control strength of right",
        "soft bench: control strength of left control left strength → control strength of left",
    ];
    assert_eq!(facts[1..], renamed);
    assert_eq!(repo.alerts(&[]), ["released-without-new-revision setup"]);
}

// Two planes that differ in nothing but their place, each now called otherwise and where the other was: what is read in them
// tells which they are, and so do the sheets that correct in them.
#[test]
fn planes_that_change_names_and_places_void_their_calibration() {
    let repo = Repo::with_shop("");
    let text = repo.read(WHEEL);
    let (before, rest) = text.split_once("  # The thick ring").unwrap();
    let (_, after) = rest.split_once("  keyway").unwrap();
    let plane = |name: &str, at: &str| {
        format!(
            "  plane {name} {{\n    at: {at}\n    radius: 134.2 mm\n    correct: remove\n    method: drilling\n  }}\n\n"
        )
    };
    let planes =
        |hub: &str, rim: &str| format!("{before}{}{}  keyway{after}", plane(hub, "34 mm"), plane(rim, "121 mm"));
    repo.write(WHEEL, &planes("hub", "rim"));
    repo.commit("two planes alike");
    repo.write(WHEEL, &planes("front", "back"));
    let places = [("plane hub: 34 mm", "plane back: 121 mm"), ("plane rim: 121 mm", "plane front: 34 mm")];
    call_otherwise(&repo, SHEET, &[places[0], places[1], ("hub", "back"), ("rim", "front")]);
    let moved = |name: &str, was: &str, at: &str| {
        let plane = format!("fan wheel 315: plane {name}");
        [format!("{plane} plane {was} → plane {name}"), format!("{plane} / at {at}")]
    };
    let proven = "fan wheel 315 on the soft bench: proof 2026-04-14 / proven with / plane";
    let proven = [format!("{proven} back 34 mm → 121 mm"), format!("{proven} front 121 mm → 34 mm")];
    let told = [moved("front", "rim", "121 mm → 34 mm"), moved("back", "hub", "34 mm → 121 mm"), proven].concat();
    assert_eq!(sorted(repo.facts(&[])), sorted(told));
    let alerts = repo.alerts(&[]);
    for code in ["calibration-void setup", "proof-rewritten setup"] {
        assert!(alerts.iter().any(|alert| alert == code), "{code}: {alerts:?}");
    }
}

#[test]
fn positions_are_what_their_sheets_set() {
    let repo = Repo::with_shop("");
    // `loose` is where `locked` was, and the sheets set it where they set `free`.
    repo.edit(BENCH, "positions: locked, free", "positions: loose, shut");
    call_otherwise(&repo, SHEET, &[("\"cradle lock\": free", "\"cradle lock\": loose")]);
    assert_eq!(repo.facts(&[]), ["soft bench: control cradle lock / positions locked, free → loose, shut"]);
    repo.git("checkout -q -- .");
    // One sheet by itself, and not its proof: the lock may be set otherwise, or be called otherwise.
    repo.edit(BENCH, "positions: locked, free", "positions: loose, shut");
    repo.edit(SHEET, "    \"cradle lock\": free", "    \"cradle lock\": loose");
    let told = "fan wheel 315 on the soft bench: settings / cradle lock free → loose".to_owned();
    assert!(repo.facts(&[]).contains(&told), "{:?}", repo.facts(&[]));
    assert!(repo.alerts(&[]).contains(&"calibration-void setup".to_owned()), "{:?}", repo.alerts(&[]));
}

#[test]
fn controls_that_nothing_tells_apart_are_gone_and_come() {
    let repo = Repo::with_shop("");
    call_otherwise(&repo, SHEET, &[("\"left strength\": 212", "\"left strength\": 238")]);
    repo.commit("one strength for both");
    let names = [("left strength", "strength of left"), ("right strength", "strength of right")];
    call_otherwise(&repo, SHEET, &names);
    call_otherwise(&repo, BENCH, &names);
    let facts = repo.facts(&[]);
    for (was, is) in names {
        for fact in [format!("settings / {was} 238 → –"), format!("settings / {is} – → 238")] {
            assert!(facts.contains(&format!("fan wheel 315 on the soft bench: {fact}")), "{facts:#?}");
        }
    }
    assert!(repo.alerts(&[]).contains(&"calibration-void setup".to_owned()), "{:?}", repo.alerts(&[]));
}

// Two arbors that are alike but for their mass: who uses which tells more than what is said of them.
#[test]
fn items_that_change_names_are_what_names_them() {
    let repo = Repo::with_shop("");
    let arbor = |name: &str, mass: &str| {
        format!("arbor \"{name}\" {{\n  mass: {mass}\n  fit clearance: 0.005 mm\n  runout: 0.003 mm\n}}\n")
    };
    let arbors = |one: &str, other: &str| format!("{}\n{}", arbor(one, "1.20 kg"), arbor(other, "1.20 kg"));
    repo.write("arbors.rotor", &arbors("short", "long"));
    repo.edit(SHEET, "  masses: \"brass set\"\n", "  masses: \"brass set\"\n  arbor: \"short\"\n");
    repo.commit("two arbors");
    repo.write("arbors.rotor", &arbors("arbor 2", "arbor 1"));
    repo.edit(SHEET, "arbor: \"short\"", "arbor: \"arbor 1\"");
    let renamed = |repo: &Repo| {
        let document = repo.json(&["diff"]);
        let items = document["items"].as_array().unwrap().iter();
        let was = |item: &serde_json::Value| Some(format!("{} → {}", item["was"].as_str()?, item["name"].as_str()?));
        sorted(items.filter_map(was).collect())
    };
    assert_eq!(renamed(&repo), ["long → arbor 2", "short → arbor 1"]);
    // Nobody names either.
    repo.git("checkout -q -- .");
    repo.edit(SHEET, "  arbor: \"short\"\n", "");
    repo.commit("without one");
    repo.write("arbors.rotor", &arbors("arbor 2", "arbor 1"));
    assert_eq!(renamed(&repo), Vec::<String>::new());
}

// The plane has the name that its channel had; a switch and a caution have the same word. A card is read with names as they
// are now where it has them as names, each once and all at once.
#[test]
fn names_on_a_card_are_names_and_no_other_words() {
    let repo = Repo::with_shop("");
    let caution = "caution: \"lock the cradle before the belt comes off";
    repo.edit(SHEET, caution, &format!("{caution} on the left"));
    repo.commit("a caution with a side");
    call_otherwise(&repo, BENCH, &[("channels: left, right", "channels: near, far")]);
    call_otherwise(&repo, WHEEL, &[("hub", "left")]);
    let heads = ["channel", "reading", "start", "remounted"];
    let heads = heads.iter().flat_map(|head| [("left", "near"), ("right", "far")].map(|(was, is)| (head, was, is)));
    let heads: Vec<[String; 2]> =
        heads.map(|(head, was, is)| [format!("{head} {was}"), format!("{head} {is}")]).collect();
    let mut names: Vec<(&str, &str)> = heads.iter().map(|[was, is]| (&**was, &**is)).collect();
    names.push(("hub", "left"));
    call_otherwise(&repo, SHEET, &names);
    let told = |repo: &Repo| {
        let items = repo.json(&["diff"])["items"].as_array().unwrap().clone();
        let cards = items.iter().flat_map(|item| item["cards"].as_array().unwrap());
        let changes = cards.flat_map(|card| card["changes"].as_array().unwrap().clone());
        let side = |change: &serde_json::Value, side: &str| change[side].as_str().unwrap_or("–").to_owned();
        let line = |change: serde_json::Value| {
            format!("{}: {} → {}", side(&change, "of"), side(&change, "old"), side(&change, "new"))
        };
        sorted(changes.map(line).collect())
    };
    let renamed = [": hub → left", ": left → near", ": right → far"];
    assert_eq!(told(&repo), renamed);
    repo.edit(SHEET, "\"needle side\": left", "\"needle side\": right");
    repo.edit(SHEET, "comes off on the left", "is off on the left");
    let told = told(&repo);
    for line in [
        "set needle side: left → right",
        "caution: lock the cradle before the belt comes off on the left → lock the cradle before the belt is off on the left",
    ] {
        assert!(told.iter().any(|one| one.trim_end_matches('.') == line), "{line}: {told:#?}");
    }
}
