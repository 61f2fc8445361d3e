//! Pinned results: compared to the digits that are written, and refreshed in the form they are written in.

use std::sync::Arc;

use rotorbook::book::{Book, Computing, SourceFile};
use rotorbook::check::{self, ItemContext, PinState};
use rotorbook::text::{Edit, apply};

/// 0.5 g at 1.14 in is 0.57 g·in, 22.8 times the tolerance, which reads 1 div; a setup with the lines of `pins` in its
/// calibration.
fn sheet(pins: &str) -> String {
    format!(
        "machine bench {{\n  supports: soft\n  readout {{\n    shows: div\n    angles: none\n  }}\n}}\n\
         rotor wheel {{\n  plane hub {{\n    at: 0 mm\n  }}\n  tolerance {{\n    hub: 0.025 g·in\n  }}\n}}\n\
         setup s {{\n  rotor: wheel\n  machine: bench\n  balancing speed: 1150 rpm\n  tolerance reads: 1 div\n\
         \x20 calibrate hub {{\n    mass: 0.5 g\n    radius: 1.14 in\n{pins}\n  }}\n}}\n"
    )
}

fn states(text: &str) -> Vec<PinState> {
    let book = Book::new(vec![Arc::new(SourceFile::read("s.rotor", text))]);
    let computing = Computing::new(&book);
    let mut states = Vec::new();
    for id in book.items() {
        let computed = computing.item(id);
        let context = ItemContext { computing: &computing, id, block: book.item(id), computed: &computed };
        states.extend(check::pins(&context).into_iter().map(|(_, state)| state));
    }
    states
}

fn state(pin: &str) -> PinState {
    let [state] = &states(&sheet(pin))[..] else { panic!("one pin") };
    state.clone()
}

fn refreshed(pin: &str) -> String {
    match state(pin) {
        PinState::Stale { refreshed, .. } | PinState::WrongDimension { refreshed, .. } => refreshed,
        other => panic!("`{pin}` is {other:?}"),
    }
}

#[test]
fn the_digits_that_are_written_are_compared() {
    for fresh in ["reading => 22.8 div", "reading => 23 div", "reading => 22.80 div", "reading => 2.28e1 div"] {
        assert_eq!(state(fresh), PinState::Fresh, "{fresh}");
    }
    for stale in ["reading => 22.7 div", "reading => 22 div", "reading => 22.81 div"] {
        assert!(matches!(state(stale), PinState::Stale { .. }), "{stale}");
    }
}

#[test]
fn a_refresh_keeps_unit_and_decimals() {
    for (pin, value) in [
        ("reading => 12.9 div", "22.8 div"),
        ("reading => 12.90 div", "22.80 div"),
        ("reading => 1.29e1 div", "2.28e1 div"),
        ("calibration unbalance => 12 g·mm", "14 g·mm"),
        // 0.57 g·in: two digits at least.
        ("calibration unbalance => 2 g*in", "0.57 g*in"),
        ("calibration unbalance => 0.3 g*in  # checked", "0.57 g*in"),
        ("calibration unbalance => 1 g * 2 in", "14.5 g·mm"),
    ] {
        assert_eq!(refreshed(pin), value, "{pin}");
    }
}

#[test]
fn the_uncertainty_is_compared_only_where_it_is_pinned() {
    // 0.5 g as written is ± 0.05 g, rectangular: 2 · 0.05 / √3 / 0.5 = 11.5 % with k = 2; the radius adds ± 0.5 %.
    assert_eq!(state("reading => 22.8 div ± 12 %"), PinState::Fresh);
    assert_eq!(refreshed("reading => 22.8 div ± 5 %"), "22.8 div ± 12 %");
    assert_eq!(refreshed("reading => 13.1 div ± 1.2 div"), "22.8 div ± 2.6 div");
}

#[test]
fn another_dimension_or_form_is_named() {
    let PinState::WrongDimension { found, .. } = state("reading => 22.8 g") else { panic!() };
    assert_eq!(found, "a mass");
    assert_eq!(refreshed("reading => 22.8 g"), "22.8 div");
    assert_eq!(refreshed("reading => 22.8"), "22.8 div");
    assert_eq!(refreshed("reading => \"about twenty\""), "22.8 div");
}

#[test]
fn names_and_holes() {
    let PinState::Unknown { suggestion, .. } = state("raeding => 22.8 div") else { panic!() };
    assert_eq!(suggestion, Some("reading"));
    let PinState::NotComputed { why, reported: false } = state("tolerance over residual => 3") else { panic!() };
    assert!(why.contains("smallest residual"), "{why}");
    assert_eq!(state("reading => 22.8 dvi"), PinState::Hole);
    let missing = sheet("reading => 22.8 div").replace("  tolerance reads: 1 div\n", "");
    let [PinState::NotComputed { why, reported: true }] = &states(&missing)[..] else { panic!() };
    assert!(why.contains("tolerance reads"), "{why}");
}

#[test]
fn a_refreshed_pin_is_fresh() {
    for pin in
        ["reading => 3 div", "times tolerance => 1.00", "centrifugal force => 1 N ± 9 N", "rim speed => 1e3 in/s"]
    {
        let text = sheet(pin);
        let value = refreshed(pin);
        let written = pin.split_once("=> ").unwrap().1;
        let at = text.find(written).unwrap() as u32;
        let span = rotorbook::text::Span::new(at, at + written.len() as u32);
        let text = apply(&text, &[Edit::replace(span, value)]).unwrap();
        assert_eq!(states(&text), [PinState::Fresh], "{text}");
    }
}

/// A record of a rotor whose tolerance is taken over from another one, which somebody is typing in.
#[test]
fn a_rejection_stands_while_a_fact_that_it_rests_on_cannot_be_read() {
    let folder = std::path::Path::new("examples/tern-quay");
    let mut files = Vec::new();
    for path in ["book", "masses", "materials", "arbors"] {
        files.push(format!("{path}.rotor"));
    }
    for folder_of in ["machines", "rotors", "setups"] {
        let entries = std::fs::read_dir(folder.join(folder_of)).unwrap();
        files.extend(entries.map(|entry| format!("{folder_of}/{}", entry.unwrap().file_name().to_str().unwrap())));
    }
    let record = "records/fan-wheel-400.rotor";
    files.push(record.to_owned());
    let book = |change: (&str, &str, &str)| {
        let read = |path: &String| {
            let text = std::fs::read_to_string(folder.join(path)).ok()?;
            let text = if path == change.0 { text.replace(change.1, change.2) } else { text };
            Some(Arc::new(SourceFile::read(path.as_str(), text)))
        };
        Book::new(files.iter().filter_map(read).collect())
    };
    let state = |change| {
        let book = book(change);
        let id = book.named(rotorbook::syntax::Kind::Record, "fan wheel 400, 26-0077")[0];
        let computing = Computing::new(&book);
        let computed = computing.item(id);
        let context = ItemContext { computing: &computing, id, block: book.item(id), computed: &computed };
        let state = check::pins(&context).into_iter().find(|(pin, _)| &*pin.name == "verdict").unwrap().1;
        let said = check::check(&book).into_iter().filter(|said| said.place.file == id.file && said.fixes.len() == 1);
        let said = said.filter(|said| said.rule.code != "record-not-bound");
        (state, said.map(|said| said.message).collect::<Vec<_>>())
    };
    assert_eq!(state(("", "", "")), (PinState::Fresh, Vec::new()));
    let typos = [
        ("rotors/fan-wheel-315.rotor", "3550 rpm", "3550 rp"),
        ("rotors/fan-wheel-400.rotor", "2900 rpm", "2900 rp"),
        ("setups/fan-wheel-400-soft-bench.rotor", "balancing speed: ", "balancing speed: x"),
        (record, "speed: 982 rpm", "speed: 982 rp"),
    ];
    for typo in typos {
        let (state, fixes) = state(typo);
        assert!(matches!(state, PinState::NotComputed { reported: true, .. }), "{typo:?}: {state:?}");
        assert!(!fixes.iter().any(|fix| fix.contains("verdict")), "{typo:?}: {fixes:?}");
    }
    // That nobody says whether the calibration masses were off is no slip of a key: the verdict is another one.
    let silent = state((record, "    speed: 982 rpm\n    calibration masses: off\n", "    speed: 982 rpm\n")).0;
    assert!(matches!(silent, PinState::Stale { .. }), "{silent:?}");
}

// By hand: 5.0 mil @ 120 deg less 3.5 mil @ 60 deg are 4.444 mil @ 163.0 deg, by 5 oz at 1 in: 0.889 mil for 1 oz·in.
#[test]
fn what_is_read_for_an_unbalance_is_pinned_in_a_unit_of_the_trade() {
    let sheet = std::fs::read_to_string("tests/data/sheets/single-plane-trial-mass.rotor").unwrap();
    let with = |pin: &str| {
        let line = "  channel near: disc\n";
        let found = states(&sheet.replace(line, &format!("{line}  influence \"near, disc\" => {pin}\n")));
        let [state] = &found[..] else { panic!("{found:?}") };
        state.clone()
    };
    assert_eq!(with("0.889 mil per oz·in @ 163.0 deg"), PinState::Fresh);
    let PinState::Stale { refreshed, .. } = with("0.900 mil per oz·in @ 163.0 deg") else { panic!("not stale") };
    assert_eq!(refreshed, "0.889 mil per oz·in @ 163.0 deg");
    let PinState::Open { filled } = with("?") else { panic!("not open") };
    assert!(filled.contains(" mil per kg·mm @ 16"), "{filled}");
    assert_eq!(with(&filled), PinState::Fresh);
    assert!(matches!(with("0.889 mil @ 163.0 deg"), PinState::WrongDimension { .. }));
}
