//! What a setup takes over from another through `like`; the rules are the format's own.

use std::sync::Arc;

use rotorbook::book::{Book, Computed, Computing, Dropped, EffectiveBlock, SourceFile};
use rotorbook::check;
use rotorbook::sheet::FieldValue;
use rotorbook::syntax::Kind;
use rotorbook::vocabulary::{settings, setup};

const LIBRARY: &str = r#"
machine "soft bench" {
  supports: soft
  pulley: 80 mm
  channels: left, right
  readout {
    shows: div
    angles: none
  }
}
machine "other bench" {
  supports: soft
  readout {
    shows: div
    angles: none
  }
}
rotor wheel {
  mass: 5 kg
  plane hub {
    at: 0 mm
    radius: 60 mm
  }
  plane rim {
    at: 50 mm
    radius: 60 mm
  }
  tolerance {
    hub: 30 g·mm
    rim: 30 g·mm
  }
}
setup first {
  rotor: wheel
  machine: "soft bench"
  status: released
  revision: "A"
  by: "small parts bench"
  balancing speed: 1150 rpm
  belt runs on: 60 mm
  tolerance reads: 1 div
  indicates: heavy spot
  channel left: hub
  channel right: rim
  caution: "sharp edges"
  settings {
    "left strength": 64
    "right strength": 66
  }
  calibrate hub {
    mass: 2.00 g
    radius: 60.0 mm
    angle: 0 deg
    reading => 4.00 div
  }
  calibrate rim {
    radius: 60.0 mm
    reading: 5 div
  }
  check mass {
    plane: hub
    mass: 1 g
  }
  proof first {
    date: 2026-03-09
    start reading left: 0.4 div
  }
}
"#;

/// Calls `f` with the setup of this name as it holds, and with what was dropped.
fn setup<R>(more: &str, name: &str, f: impl FnOnce(&EffectiveBlock<'_>, &[Dropped], &Computed<'_>) -> R) -> R {
    let file = SourceFile::read("book.rotor", format!("{LIBRARY}{more}"));
    assert!(file.errors.is_empty() && file.sheet.problems.is_empty(), "{:?} {:?}", file.errors, file.sheet.problems);
    let book = Book::new(vec![Arc::new(file)]);
    let computing = Computing::new(&book);
    let id = book.find(Kind::Setup, name).expect("the test names a setup");
    let computed = computing.item(id);
    f(computed.effective(), computed.dropped(), &computed)
}

/// A second setup like the first, with these lines of its own.
fn second<R>(lines: &str, f: impl FnOnce(&EffectiveBlock<'_>, &[Dropped], &Computed<'_>) -> R) -> R {
    setup(&format!("setup second {{\n  like: first\n{lines}\n}}\n"), "second", f)
}

fn has(block: &EffectiveBlock<'_>, key: &str) -> bool {
    assert!(block.written.spec().key(key).is_some(), "{} has no key {key}", block.kind);
    block.fields.iter().any(|field| field.field.key.name == key)
}

fn calibrate<'e, 'b>(block: &'e EffectiveBlock<'b>, plane: &str) -> &'e EffectiveBlock<'b> {
    block.inner(Kind::Calibrate).find(|block| block.name_text() == plane).expect("the plane is calibrated")
}

#[test]
fn facts_and_blocks_are_taken_over() {
    second("", |block, dropped, computed| {
        for key in ["rotor", "machine", "balancing speed", "belt runs on", "tolerance reads", "indicates"] {
            assert!(has(block, key), "{key}");
        }
        assert_eq!(block.named(setup::CHANNEL).count(), 2);
        assert_eq!(block.inner(Kind::Settings).next().unwrap().named(settings::CONTROL).count(), 2);
        assert_eq!(block.inner(Kind::Calibrate).count(), 2);
        assert!(dropped.is_empty());
        let Computed::Setup(setup) = computed else { panic!() };
        assert_eq!(setup.calibration("hub").unwrap().reading.get().unwrap().value(), 4.0);
    });
}

#[test]
fn what_belongs_to_one_sheet_alone_is_not_taken_over() {
    second("", |block, _, computed| {
        for key in ["status", "revision", "by"] {
            assert!(!has(block, key), "{key}");
        }
        assert_eq!(block.inner(Kind::CheckMass).count() + block.inner(Kind::Proof).count(), 0);
        // Pins are no facts: the sheet's own block has none.
        assert!(calibrate(block, "hub").own.is_none());
        let Computed::Setup(setup) = computed else { panic!() };
        assert!(!setup.is_released());
    });
}

#[test]
fn own_facts_win_and_cautions_add_up() {
    second("  indicates: light spot", |block, _, _| {
        let first = block.field(setup::INDICATES).unwrap();
        assert_eq!(first.item, block.item);
        // The dials were set with the other one.
        assert_eq!(block.inner(Kind::Settings).count(), 0);
    });
    let lines = "  channel left: hub\n  caution: \"hot\"\n  settings {\n    \"left strength\": 12\n  }";
    second(lines, |block, _, _| {
        assert_eq!(block.named(setup::CHANNEL).count(), 2);
        assert_eq!(block.fields.iter().filter(|field| field.field.key.name == "caution").count(), 2);
        let settings = block.inner(Kind::Settings).next().unwrap();
        let own: Vec<bool> = settings.named(settings::CONTROL).map(|(_, field)| field.item == block.item).collect();
        assert_eq!(own, [true, false]);
    });
}

/// Which of mass, radius and reading are in a calibration.
fn members(lines: &str, plane: &str) -> Vec<&'static str> {
    second(&format!("  calibrate {plane} {{\n    {lines}\n  }}"), |block, _, _| {
        let block = calibrate(block, plane);
        ["mass", "radius", "diameter", "reading"].into_iter().filter(|key| has(block, key)).collect()
    })
}

#[test]
fn of_mass_radius_and_reading_the_inherited_one_yields() {
    // The first has mass and radius of the hub, radius and reading of the rim.
    assert_eq!(members("reading: 9 div", "hub"), ["radius", "reading"], "the mass yields to a reading");
    assert_eq!(members("mass: 3.00 g", "rim"), ["mass", "radius"], "the reading yields first");
    assert_eq!(members("mass: 3.00 g\n    reading: 9 div", "hub"), ["mass", "reading"], "then the radius");
    assert_eq!(members("mass: 3.00 g", "hub"), ["mass", "radius"]);
    assert_eq!(members("diameter: 90.0 mm", "hub"), ["mass", "diameter"], "one of a group displaces the others");
    assert_eq!(members("angle: 90 deg", "hub"), ["mass", "radius"]);
}

#[test]
fn what_is_left_out_is_not_taken_over() {
    second("  leave out: \"belt runs on\", \"calibrate rim\", \"channel right\"", |block, dropped, _| {
        assert!(!has(block, "belt runs on"));
        assert_eq!(block.named(setup::CHANNEL).count(), 1);
        assert_eq!(block.inner(Kind::Calibrate).map(EffectiveBlock::name_text).collect::<Vec<_>>(), ["hub"]);
        assert!(dropped.is_empty(), "nobody is told of what he left out himself");
    });
}

#[test]
fn dial_values_of_another_machine_or_speed_are_dropped_and_named_and_what_to_put_on_stays() {
    for (line, because) in [
        ("  balancing speed: 900 rpm", "balancing speed"),
        ("  machine: \"other bench\"", "machine"),
        ("  belt runs on: 80 mm", "belt runs on"),
        ("  channel left: rim\n  channel right: hub", "channel"),
    ] {
        second(line, |block, dropped, _| {
            assert_eq!(block.inner(Kind::Settings).count(), 0, "{because}");
            let facts: Vec<&str> = calibrate(block, "hub").fields.iter().map(|field| field.key.name).collect();
            assert_eq!(facts, ["mass", "radius", "angle"], "{because}");
            let facts: Vec<&str> = calibrate(block, "rim").fields.iter().map(|field| field.key.name).collect();
            assert_eq!(facts, ["radius"], "{because}");
            assert!(!has(block, "tolerance reads"));
            assert!(has(block, "indicates"), "the rest is taken over");
            let [dropped] = dropped else { panic!("{dropped:?}") };
            assert_eq!(dropped.because, [because]);
            for head in ["settings", "reading in calibrate rim", "tolerance reads"] {
                assert!(dropped.heads.iter().any(|dropped| dropped == head), "{head}: {:?}", dropped.heads);
            }
        });
    }
    second("  rotor: other", |block, _, _| {
        assert_eq!(block.inner(Kind::Settings).count() + block.inner(Kind::Calibrate).count(), 0);
    });
    // The same speed in another unit is the same speed.
    second("  balancing speed: 1.15e3 r/min", |block, dropped, _| {
        assert!(dropped.is_empty());
        assert_eq!(block.inner(Kind::Calibrate).count(), 2);
    });
}

// The dials were set with 2.00 g in the hub and a tolerance that reads 1 div.
#[test]
fn dial_values_are_not_taken_over_beside_another_mass_or_another_mark() {
    for (lines, because) in [
        ("  calibrate hub {\n    mass: 5.00 g\n  }", "calibrate"),
        ("  calibrate hub {\n    radius: 55.0 mm\n  }", "calibrate"),
        ("  tolerance reads: 2 div", "tolerance reads"),
    ] {
        second(lines, |block, dropped, _| {
            assert_eq!(block.inner(Kind::Settings).count(), 0, "{because}");
            assert!(has(calibrate(block, "hub"), "mass") && has(calibrate(block, "hub"), "angle"), "{because}");
            assert_eq!(has(calibrate(block, "rim"), "reading"), because == "calibrate");
            let [dropped] = dropped else { panic!("{dropped:?}") };
            assert_eq!(dropped.because, [because]);
            assert!(dropped.heads.iter().any(|head| head == "settings"), "{:?}", dropped.heads);
        });
    }
    second("  calibrate hub {\n    mass: 2000 mg\n  }", |block, dropped, _| {
        assert_eq!(block.inner(Kind::Settings).count(), 1, "the same mass in another unit");
        assert!(dropped.is_empty());
    });
}

/// The first setup once more, with all that is measured or keyed in when a rotor is put into a machine.
const FOUND: &str = r#"
rotor impeller {
  mass: 6 kg
}
arbor "taper arbor" {
  mass: 0.8 kg
}
setup found {
  like: first
  pulley: 80 mm
  motor speed: 860 rpm
  resonance found at: 310 rpm
  supports at: -40 mm, 90 mm
  layout: planes between supports
  left support to left plane: 40 mm
  between planes: 50 mm
  right plane to right support: 40 mm
  left radius: 60 mm
  right radius: 60 mm
  pre-balance to: 5 div
}
"#;

/// Which of the facts in [`FOUND`] a setup still has that is like it but for one line.
fn still_there(line: &str) -> Vec<&'static str> {
    const KEYS: [&str; 10] = [
        "motor speed",
        "resonance found at",
        "supports at",
        "layout",
        "left support to left plane",
        "between planes",
        "right plane to right support",
        "left radius",
        "right radius",
        "pre-balance to",
    ];
    setup(&format!("{FOUND}setup third {{\n  like: found\n{line}\n}}\n"), "third", |block, dropped, _| {
        let (kept, gone): (Vec<&str>, Vec<&str>) = KEYS.into_iter().partition(|key| has(block, key));
        for key in gone {
            assert!(
                line.contains(key) || dropped[0].heads.iter().any(|head| head == key),
                "nobody says that {key} went"
            );
        }
        kept
    })
}

#[test]
fn what_was_found_for_another_rotor_or_machine_is_dropped() {
    assert_eq!(still_there("").len(), 10);
    assert!(still_there("  rotor: impeller").is_empty());
    assert!(still_there("  machine: \"other bench\"").is_empty());
    // Another speed asks for another motor speed; where the supports stand and what resounds stays as it was.
    let places = [
        "resonance found at",
        "supports at",
        "layout",
        "left support to left plane",
        "between planes",
        "right plane to right support",
        "left radius",
        "right radius",
    ];
    assert_eq!(still_there("  balancing speed: 900 rpm"), places);
    assert_eq!(still_there("  pulley: 100 mm"), places);
    // Other places of the supports make other distances and another resonance, the belt drive stays.
    assert_eq!(still_there("  supports at: -50 mm, 100 mm"), ["motor speed", "supports at"]);
    assert_eq!(still_there("  arbor: \"taper arbor\""), still_there(""), "an arbor that only one of them has is added");
}

#[test]
fn a_chain_takes_over_the_nearest_first() {
    let more = "setup second {\n  like: first\n  indicates: light spot\n}\nsetup third {\n  like: second\n}\n";
    setup(more, "third", |block, _, _| {
        let indicates = block.field(setup::INDICATES).unwrap();
        assert_eq!(indicates.item.index, block.item.index - 1);
        assert!(has(block, "rotor"));
        assert_eq!(block.inner(Kind::Calibrate).count(), 2);
    });
    // A speed that only the second has makes the first's dial values void for the third too.
    let more = "setup second {\n  like: first\n  balancing speed: 900 rpm\n}\nsetup third {\n  like: second\n}\n";
    setup(more, "third", |block, dropped, _| {
        assert_eq!(block.inner(Kind::Settings).count(), 0);
        assert_eq!(dropped.len(), 1);
    });
}

#[test]
fn a_circle_ends_where_it_began() {
    let more = "setup second {\n  like: third\n  rotor: wheel\n}\nsetup third {\n  like: second\n  machine: \"soft bench\"\n}\n";
    for name in ["second", "third"] {
        setup(more, name, |block, _, _| assert!(has(block, "rotor") && has(block, "machine")));
    }
    setup("setup alone {\n  like: alone\n  rotor: wheel\n}\n", "alone", |block, _, _| assert!(has(block, "rotor")));
}

#[test]
fn what_is_not_known_here_is_not_filled_by_the_other_setup_and_is_not_taken_over() {
    second("  belt runs on: ?\n  calibrate hub {\n    mass: ?\n  }", |block, dropped, _| {
        // Where the belt runs is not known to be where it ran.
        assert_eq!(dropped.len(), 1);
        assert_eq!(block.field(setup::BELT_RUNS_ON).unwrap().field.value, FieldValue::Unknown);
        let hub = calibrate(block, "hub");
        assert_eq!(hub.field(rotorbook::vocabulary::calibrate::MASS).unwrap().field.value, FieldValue::Unknown);
        assert!(has(hub, "radius"));
    });
    let third = "setup open {\n  like: first\n  same speed within: ?\n}\nsetup third {\n  like: open\n}\n";
    setup(third, "third", |block, _, _| assert!(!has(block, "same speed within")));
}

/// 60 mm ÷ 25.4 = 2.36220 in; 1150 ÷ 60 = 19.1667 Hz.
#[test]
fn the_same_in_another_unit_is_no_difference() {
    second("  belt runs on: 2.3622 in\n  balancing speed: 19.167 Hz", |block, dropped, _| {
        assert_eq!(dropped, []);
        assert!(block.inner(Kind::Settings).next().is_some() && has(block, "tolerance reads"));
    });
    second("  belt runs on: 2.37 in", |_, dropped, _| assert!(!dropped.is_empty()));
}

/// A setup of the fan that is like one of the wheel, with this line.
fn of_the_fan(line: &str) -> Book {
    let fan = "rotor fan {\n  mass: 5 kg\n  mass centre: 50 mm\n  bearings: 0 mm, 100 mm\n  plane hub {\n    at: 0 mm\n  }\n  plane rim \
               {\n    at: 50 mm\n  }\n  tolerance {\n    grade: G 6.3\n  }\n}\n";
    let setup = format!("setup second {{\n  rotor: fan\n  like: first\n{line}}}\n");
    let file = SourceFile::read("book.rotor", format!("{LIBRARY}{fan}{setup}"));
    assert!(file.errors.is_empty() && file.sheet.problems.is_empty(), "{:?} {:?}", file.errors, file.sheet.problems);
    Book::new(vec![Arc::new(file)])
}

#[test]
fn what_is_left_out_is_nowhere_looked_up_all_the_same() {
    let related = |book: &Book| {
        let found = check::check(book).into_iter().find(|found| found.rule.code == "service-speed-missing");
        found.expect("a grade needs a service speed").related.len()
    };
    let machine = |book: &Book| {
        let users = book.users().setups(book.find(Kind::Machine, "soft bench").unwrap());
        users.iter().map(|id| book.item(*id).name_text().to_owned()).collect::<Vec<_>>()
    };
    let book = of_the_fan("");
    assert_eq!((related(&book), machine(&book)), (1, vec!["first".to_owned(), "second".to_owned()]));
    let book = of_the_fan("  leave out: \"balancing speed\", machine\n");
    assert_eq!((related(&book), machine(&book)), (0, vec!["first".to_owned()]));
}
