//! How the readings of a setup become unbalances: one answer for cards, rules, questions at the bench and rehearsal.

use std::path::Path;
use std::sync::Arc;

use rotorbook::book::{Book, Computing, SourceFile, WorkedBy};
use rotorbook::syntax::Kind;

use crate::support::books;

/// The fan that is balanced in place by trial runs, with this before the end of its setup, and one text for another.
fn fan(more: &str, from: &str, to: &str) -> Book {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("examples/recipes/trial-runs-with-phase");
    let book = books::book_in(&folder);
    let setup = book.find(Kind::Setup, "extract fan 500 in place").unwrap();
    let file = book.file(setup.file);
    assert!(file.text.contains(from), "{from}");
    let text = file.text.replace(from, to);
    let text = format!("{}{more}\n}}\n", text.trim_end().strip_suffix('}').unwrap());
    let (path, readable) = (file.path.clone(), books::book(&text));
    assert!(readable.files().all(|(_, file)| file.errors.is_empty()), "{text}");
    book.with_file(Arc::new(SourceFile::read(&*path, text)))
}

fn worked_by(book: &Book) -> WorkedBy {
    let setup = book.items().find(|id| book.item(*id).kind == Kind::Setup).unwrap();
    Computing::new(book).setup(setup).unwrap().worked_by
}

// Trials at one speed, in both planes, with angles, tell both; a mass that is set up in one plane alone does not replace them.
#[test]
fn one_calibrated_plane_leaves_a_sheet_by_trials_what_it_is() {
    let calibrated = "\n  calibrate \"back ring\" {\n    mass: 30 g\n    radius: 180 mm\n    angle: 0 deg\n  }\n";
    for more in ["", calibrated] {
        let book = fan(more, "", "");
        assert_eq!(worked_by(&book), WorkedBy::Trials, "{more}");
    }
}

#[test]
fn trial_runs_that_nobody_has_made_are_to_be_made() {
    let open = fan("", "reading \"drive end\": 4.1 mm/s @ 330 deg", "reading \"drive end\": ?");
    assert_eq!(worked_by(&open), WorkedBy::TrialsToMake);
    assert!(worked_by(&open).is_by_trials());
}

#[test]
fn sheets_of_the_shop_are_worked_by_their_dials() {
    let book = books::book_in(&Path::new(env!("CARGO_MANIFEST_DIR")).join("examples/tern-quay"));
    let by = |name: &str| Computing::new(&book).setup(book.find(Kind::Setup, name).unwrap()).unwrap().worked_by;
    assert_eq!(by("fan wheel 315 on the soft bench"), WorkedBy::Dials);
    // Hard supports that are told the places, and show unbalance, with no line that says which plane a channel reads.
    assert!(!by("blower shaft 41 on the stiff bench").is_by_trials());
}
