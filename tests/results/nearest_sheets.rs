//! The nearest proven sheet of the example book for rotors that it has not, judged by hand.

use std::path::Path;
use std::sync::Arc;

use rotorbook::book::{Book, Computing, SourceFile};
use rotorbook::check::{self, Severity};
use rotorbook::ide;
use rotorbook::likeness::{self, Near};
use rotorbook::syntax::Kind;

use crate::support::books;

struct New {
    name: &'static str,
    /// Lines of the rotor, then of its planes.
    facts: &'static str,
    nearest: &'static str,
    /// Of what differs.
    differs: &'static str,
}

const FAN: &str = "fan wheel 315 on the soft bench";
const IMPELLER: &str = "pump impeller 125 on the stiff bench";
const SPINDLE: &str = "grinding spindle 30 on the stiff bench";
const SHAFT: &str = "blower shaft 41 on the stiff bench";
const BILGE: &str = "bilge pump rotor 4 in on the soft bench";
const ARMATURE: &str = "armature 90 on the soft bench";

/// Drilled hub and clips on the rim between two bearings.
macro_rules! fan {
    ($mass:literal, $span:literal, $hub:literal, $rim:literal, $diameter:literal) => {
        concat!(
            "mass: ",
            $mass,
            "\n  mass centre: 70 mm\n  bearings: 0 mm, ",
            $span,
            "\n  highest service speed: 3000 rpm\n  largest diameter: ",
            $diameter,
            "\n  plane hub {\n    at: ",
            $hub,
            "\n    radius: 130 mm\n    correct: remove\n    method: drilling\n  }\n  plane rim {\n    at: ",
            $rim,
            "\n    radius: 140 mm\n    correct: add\n    method: clamping\n  }\n  tolerance {\n    grade: G 6.3\n  }\n"
        )
    };
}

/// Ground on both shrouds, on an arbor.
macro_rules! impeller {
    ($mass:literal, $second:literal, $diameter:literal) => {
        concat!(
            "mass: ", $mass, "\n  mass centre: 25 mm\n  highest service speed: 2950 rpm\n  largest diameter: ", $diameter,
            "\n  plane suction {\n    at: 8 mm\n    radius: 120 mm\n    correct: remove\n    method: grinding\n  }\n  plane back {\n    at: ",
            $second, "\n    radius: 120 mm\n    correct: remove\n    method: grinding\n  }\n  tolerance {\n    grade: G 6.3\n  }\n"
        )
    };
}

const NEW: [New; 10] = [
    New {
        name: "fan wheel 330",
        facts: fan!("5.6 kg", "170 mm", "36 mm", "126 mm", "345 mm"),
        nearest: FAN,
        differs: "mass",
    },
    New {
        name: "fan wheel 250",
        facts: fan!("2.9 kg", "140 mm", "30 mm", "100 mm", "265 mm"),
        nearest: FAN,
        differs: "diameter",
    },
    New {
        name: "pump impeller 150",
        facts: impeller!("9.4 kg", "52 mm", "310 mm"),
        nearest: IMPELLER,
        differs: "mass",
    },
    New {
        name: "pump impeller 100",
        facts: impeller!("4.1 kg", "38 mm", "212 mm"),
        nearest: IMPELLER,
        differs: "diameter",
    },
    New {
        name: "grinding spindle 40",
        facts: "mass: 11 kg\n  mass centre: 170 mm\n  bearings: 0 mm, 360 mm\n  highest service speed: 3600 rpm\n  largest diameter: 150 mm\n  plane wheel {\n    at: -50 mm\n    radius: 60 mm\n    correct: either\n    method: sliding weights\n  }\n  plane pulley {\n    at: 420 mm\n    radius: 40 mm\n    correct: add\n    method: set screws\n  }\n  tolerance {\n    grade: G 1\n  }\n",
        nearest: SPINDLE,
        differs: "between bearings",
    },
    New {
        name: "blower shaft 50",
        facts: "mass: 4.4 kg\n  mass centre: 115 mm\n  bearings: 0 mm, 240 mm\n  highest service speed: 3550 rpm\n  largest diameter: 74 mm\n  plane drive {\n    at: 36 mm\n    radius: 29 mm\n    correct: add\n    method: set screws\n  }\n  plane tail {\n    at: 215 mm\n    radius: 29 mm\n    correct: add\n    method: set screws\n  }\n  tolerance {\n    total: 25 g·mm\n  }\n",
        nearest: SHAFT,
        differs: "mass",
    },
    New {
        name: "bilge pump rotor 5 in",
        facts: "mass: 14 kg\n  mass centre: 140 mm\n  bearings: 0 mm, 320 mm\n  highest service speed: 1750 rpm\n  largest diameter: 190 mm\n  plane ring {\n    at: 80 mm\n    radius: 65 mm\n    correct: remove\n    method: drilling\n  }\n  plane impeller {\n    at: 240 mm\n    radius: 85 mm\n    correct: remove\n    method: drilling\n  }\n  tolerance {\n    total: 50 g·mm\n  }\n",
        nearest: BILGE,
        differs: "mass",
    },
    New {
        name: "fire pump rotor",
        facts: "mass: 24 kg\n  mass centre: 160 mm\n  bearings: 0 mm, 340 mm\n  highest service speed: 2900 rpm\n  largest diameter: 230 mm\n  plane ring {\n    at: 90 mm\n    radius: 80 mm\n    correct: remove\n    method: drilling\n  }\n  plane impeller {\n    at: 250 mm\n    radius: 100 mm\n    correct: remove\n    method: drilling\n  }\n  tolerance {\n    total: 70 g·mm\n  }\n",
        nearest: BILGE,
        differs: "service speed",
    },
    New {
        name: "blower shaft 41 long",
        facts: "mass: 3.6 kg\n  mass centre: 130 mm\n  bearings: 0 mm, 270 mm\n  highest service speed: 3550 rpm\n  largest diameter: 62 mm\n  plane drive {\n    at: 40 mm\n    radius: 24.5 mm\n    correct: add\n    method: set screws\n  }\n  plane tail {\n    at: 245 mm\n    radius: 24.5 mm\n    correct: add\n    method: set screws\n  }\n  tolerance {\n    total: 22 g·mm\n  }\n",
        nearest: SHAFT,
        differs: "between bearings",
    },
    New { name: "armature 100", facts: ARMATURE_100, nearest: ARMATURE, differs: "mass" },
];

const ARMATURE_100: &str = "mass: 9.2 kg\n  mass centre: 140 mm\n  bearings: 0 mm, 290 mm\n  highest service speed: 3000 rpm\n  largest diameter: 100 mm\n  plane band {\n    at: 85 mm\n    radius: 45 mm\n    correct: add\n    method: putty\n  }\n  plane slots {\n    at: 215 mm\n    radius: 47 mm\n    correct: add\n    method: slot filler\n  }\n  tolerance {\n    total: 60 g·mm\n  }\n";

fn found(new: &New) -> (Book, Vec<Near>) {
    let book = books::book_in(&Path::new(env!("CARGO_MANIFEST_DIR")).join("examples/tern-quay"));
    let text = format!("rotor \"{}\" {{\n  {}}}\n", new.name, new.facts);
    let file = SourceFile::read("rotors/new.rotor", text);
    assert!(file.errors.is_empty() && file.sheet.problems.is_empty(), "{}: {:?}", new.name, file.sheet.problems);
    let book = book.with_file(Arc::new(file));
    let near = {
        let id = book.find(Kind::Rotor, new.name).unwrap();
        likeness::nearest(&Computing::without_explanations(&book), id)
    };
    (book, near)
}

#[test]
fn the_nearest_proven_sheet_is_the_one_that_a_person_would_take() {
    for new in &NEW {
        let (_, near) = found(new);
        let order: Vec<String> = near.iter().map(|one| format!("{} {:.2}", one.name, one.distance)).collect();
        assert_eq!(near[0].name, new.nearest, "{}: {order:#?}", new.name);
        assert!(near[0].is_near(), "{}: {order:#?}", new.name);
        let differs = near[0].differs.join("; ");
        assert!(differs.contains(new.differs), "{}: {differs}", new.name);
    }
}

/// The soft bench takes 0.5 kg to 60 kg, turns 900 mm and has 90 mm to 1400 mm between its supports; the fan wheel counts its
/// angles with rotation.
#[test]
fn a_machine_that_cannot_take_the_rotor_is_said_and_a_sense_that_differs() {
    let facts = fan!("64 kg", "1500 mm", "36 mm", "126 mm", "950 mm").replacen(
        "  tolerance",
        "  angles count: against rotation\n  tolerance",
        1,
    );
    let facts: &'static str = facts.leak();
    let (_, near) = found(&New { name: "long fan", facts, nearest: FAN, differs: "" });
    let differs = near.iter().find(|one| one.name == FAN).unwrap().differs.join("; ");
    for words in [
        "its machine does not take the mass of this one, 64.0 kg, but 0.500 kg to 60.0 kg",
        "its machine does not take the diameter of this one, 950 mm, but no more than 900 mm",
        "its machine does not take the distance between bearings of this one, 1500 mm, but 90.0 mm to 1400 mm",
        "angles count with rotation, this one against rotation",
    ] {
        assert!(differs.contains(words), "{words}\n{differs}");
    }
}

#[test]
fn dials_of_soft_supports_are_not_taken_over_without_a_word() {
    let (_, near) = found(&NEW[0]);
    assert!(near[0].dials.contains("on soft supports strength and separation go by mass"), "{}", near[0].dials);
    let (_, near) = found(&NEW[2]);
    assert!(near[0].dials.contains("the machine is set up by places and radii"), "{}", near[0].dials);
}

/// A sheet begun from a proven one is sound for every rotor of the book, and says where that one is void.
#[test]
fn what_is_begun_from_a_proven_sheet_has_no_error() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("examples/tern-quay");
    let book = books::book_in(&root);
    let computing = Computing::without_explanations(&book);
    let (mut begun, mut void) = (0, 0);
    for rotor in book.items().filter(|id| book.item(*id).kind == Kind::Rotor) {
        for near in likeness::nearest(&computing, rotor) {
            let Some(new) = ide::like_proven(&book, &near, rotor, None) else { continue };
            let whole = book.with_file(Arc::new(SourceFile::read(new.path.as_str(), new.text.as_str())));
            let file = whole.file_at(&new.path).unwrap();
            let said = check::check(&whole).into_iter().filter(|said| said.place.file == file);
            let errors: Vec<String> =
                said.filter(|said| said.severity == Severity::Error).map(|said| said.message).collect();
            assert!(errors.is_empty(), "{errors:#?}\n{}", new.text);
            // The speed is decided anew; the machine is the one that the other sheet is proven on.
            assert!(new.text.contains("balancing speed: ?") && !new.text.contains("machine: ?"), "{}", new.text);
            assert_eq!(new.text.contains("\n# Its calibration is VOID: "), !near.void.is_empty(), "{}", new.text);
            begun += 1;
            void += usize::from(!near.void.is_empty());
        }
    }
    assert!(begun > 20 && void > 0, "{begun} begun, {void} of them from a void one");
}
