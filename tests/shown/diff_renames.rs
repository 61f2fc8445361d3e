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
    holds(5);
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
