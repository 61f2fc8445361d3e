//! Names in a book: what is said where one leads nowhere, and where nothing may be said.

use proptest::prelude::*;

use crate::support::books;
use crate::support::cli::FAN;
use rotorbook::book::Computing;
use rotorbook::check::{self, ItemContext};

/// The rules on names and on what must stand; whatever else is judged is not asked for here.
const ASKED: [&str; 23] = [
    "missing-fact",
    "unknown-name",
    "name-of-other-kind",
    "name-used-twice",
    "unknown-plane",
    "unknown-channel",
    "unknown-control",
    "unknown-instrument",
    "unknown-run",
    "unknown-scale",
    "like-in-a-circle",
    "rotor-made-of-itself",
    "no-shop",
    "shop-twice",
    "shop-not-at-root",
    "format-newer",
    "severity-without-reason",
    "unknown-code",
    "name-is-a-key",
    "like-dropped",
    "inherited-nothing",
    "unknown-key",
    "needs-quotes",
];

const ROTOR: &str = "rotor fan {\n mass: 4.82 kg\n plane hub {\n  at: 34 mm\n }\n plane rim {\n  at: 121 mm\n }\n}\n";
const MACHINE: &str = "machine bench {\n supports: soft\n channels: left, right\n}\n";
const SETUP: &str = "rotor: fan\n machine: bench\n balancing speed: 1150 rpm\n";

/// Each diagnostic as its code and the text it is at.
fn said(text: &str) -> Vec<(&'static str, String)> {
    said_in([("book.rotor", text)])
}

fn said_in<'a>(files: impl IntoIterator<Item = (&'a str, &'a str)>) -> Vec<(&'static str, String)> {
    let book = books::book_of(files);
    let asked = check::check(&book).into_iter().filter(|found| ASKED.contains(&found.rule.code));
    asked.map(|found| (found.rule.code, found.place.span.of(&book.file(found.place.file).text).to_owned())).collect()
}

fn one(code: &'static str, place: &str) -> Vec<(&'static str, String)> {
    vec![(code, place.to_owned())]
}

#[test]
fn a_setup_whose_names_all_lead_somewhere_is_quiet() {
    let setup = format!(
        "setup s {{\n {SETUP} channel left: hub\n trial t {{\n  mass in: rim\n  reading right: 2 div\n }}\n}}\n"
    );
    assert_eq!(said(&format!("{ROTOR}{MACHINE}{setup}")), []);
}

#[test]
fn names_inside_rotor_and_machine_are_looked_up_through_the_setup() {
    let setup = format!("setup s {{\n {SETUP} channel middle: rimm\n}}\n");
    let found = said(&format!("{ROTOR}{MACHINE}{setup}"));
    assert_eq!(found, [("unknown-channel", "middle".to_owned()), ("unknown-plane", "rimm".to_owned())]);
    let record = "record r {\n setup: s\n correction spokes {\n  after: first\n }\n run last {\n  calibration masses: off\n  \
                  reading up: 1 div\n }\n}\n";
    let setup = format!("setup s {{\n {SETUP}}}\n");
    let found = said(&format!("{ROTOR}{MACHINE}{setup}{record}"));
    let codes: Vec<&str> = found.iter().map(|(code, _)| *code).collect();
    assert_eq!(codes, ["unknown-plane", "unknown-run", "unknown-channel"]);
}

#[test]
fn where_the_rotor_cannot_be_found_nothing_is_said_of_its_planes() {
    let setup = "setup s {\n rotor: fam\n machine: bench\n balancing speed: 1150 rpm\n calibrate rimm {\n }\n}\n";
    assert_eq!(said(&format!("{ROTOR}{MACHINE}{setup}")), one("unknown-name", "fam"));
}

#[test]
fn a_rotor_that_cannot_be_read_whole_may_have_the_plane() {
    let rotor = ROTOR.replace("plane rim {", "plane rim and hub {");
    let setup = format!("setup s {{\n {SETUP} calibrate rim {{\n }}\n}}\n");
    assert_eq!(said(&format!("{rotor}{MACHINE}{setup}")), []);
}

#[test]
fn a_name_that_two_items_have_is_spoken_of_once() {
    let setup = format!("setup s {{\n {SETUP} calibrate spokes {{\n }}\n}}\n");
    let found = said_in([("a.rotor", ROTOR), ("b.rotor", ROTOR), ("book.rotor", &format!("{MACHINE}{setup}"))]);
    assert_eq!(found, [("no-shop", "rotor fan".to_owned()), ("name-used-twice", "rotor fan".to_owned())]);
}

#[test]
fn common_metals_are_known_to_every_book() {
    let rotor = |material: &str| ROTOR.replacen("at: 34 mm", &format!("at: 34 mm\n  material: {material}"), 1);
    assert_eq!(said(&rotor("\"cast aluminium\"")), []);
    assert_eq!(said(&rotor("tin")), one("unknown-name", "tin"));
    assert_eq!(said(&format!("{}material tin {{\n density: 7.3 g/cm³\n}}\n", rotor("tin"))), []);
    // A rotor called brass does not take the metal its name.
    assert_eq!(said(&format!("{}{}", rotor("brass"), ROTOR.replace("rotor fan", "rotor brass"))), []);
}

#[test]
fn a_fact_on_a_line_that_cannot_be_read_is_not_missed() {
    for line in ["at 34 mm", "att: 34 mm", "at: 34 mmm", "at: 34,0 mm", "at: 34 mm\n  at: 35 mm"] {
        let found = said(&ROTOR.replacen("at: 34 mm", line, 1));
        assert!(found.iter().all(|(code, _)| *code != "missing-fact"), "{line}: {found:?}");
    }
    assert_eq!(said(&ROTOR.replacen("at: 34 mm", "", 1)), one("missing-fact", "plane hub"));
}

#[test]
fn what_comes_over_by_like_is_not_missing() {
    let first = format!("setup one {{\n {SETUP}}}\n");
    let book = format!("{ROTOR}{MACHINE}{first}");
    assert_eq!(said(&format!("{book}setup two {{\n like: one\n}}\n")), []);
    assert_eq!(said(&format!("{book}setup two {{\n like: three\n}}\n")), one("unknown-name", "three"));
    let circle = "setup two {\n like: three\n}\nsetup three {\n like: two\n}\n";
    let found = said(&format!("{book}{circle}"));
    let codes: Vec<&str> = found.iter().map(|(code, _)| *code).collect();
    assert_eq!(codes, ["like-in-a-circle"; 2]);
}

#[test]
fn facts_taken_over_are_judged_by_the_rotor_that_is_stated_here() {
    let other = ROTOR.replace("rotor fan", "rotor disc").replace("plane rim", "plane edge");
    let first = format!("setup one {{\n {SETUP} channel left: hub\n channel right: rim\n}}\n");
    let second = "setup two {\n like: one\n rotor: disc\n}\n";
    let found = said(&format!("{ROTOR}{other}{MACHINE}{first}{second}"));
    assert_eq!(found, one("unknown-plane", "one"));
    let second = second.replace("rotor: disc", "rotor: disc\n channel right: edge");
    assert_eq!(said(&format!("{ROTOR}{other}{MACHINE}{first}{second}")), []);
}

#[test]
fn what_is_left_out_is_named_as_its_line_begins() {
    let first = format!("setup one {{\n {SETUP} belt runs on: 60 mm\n calibrate rim {{\n }}\n}}\n");
    let left_out = |names: &str| {
        let second = format!("setup two {{\n like: one\n leave out: {names}\n}}\n");
        said(&format!("{ROTOR}{MACHINE}{first}{second}"))
    };
    assert_eq!(left_out("\"belt runs on\", \"calibrate rim\""), []);
    assert_eq!(left_out("\"belt\""), one("inherited-nothing", "\"belt\""));
    assert_eq!(left_out("\"calibrate hub\""), one("inherited-nothing", "\"calibrate hub\""));
}

#[test]
fn a_newer_format_is_the_one_thing_said() {
    let broken = "rotor r {\n colour: green\n mass 4\n";
    let shop = "shop s {\n format: 2\n severity format-newer {\n  level: off\n  because: \"quiet\"\n }\n}\n";
    let book = books::book_of([("book.rotor", shop), ("r.rotor", broken)]);
    let codes: Vec<&str> = check::check(&book).iter().map(|found| found.rule.code).collect();
    assert_eq!(codes, ["format-newer"]);
}

#[test]
fn a_rank_counts_only_with_its_reason() {
    let shop =
        |because: &str| format!("shop s {{\n format: 1\n severity unknown-name {{\n  level: off\n {because} }}\n}}\n");
    let rotor = ROTOR.replacen("at: 34 mm", "at: 34 mm\n  material: tin", 1);
    assert_eq!(said(&format!("{}{rotor}", shop("because: \"tin is on its way\"\n"))), []);
    let found = said(&format!("{}{rotor}", shop("")));
    let codes: Vec<&str> = found.iter().map(|(code, _)| *code).collect();
    assert_eq!(codes, ["severity-without-reason", "unknown-name"]);
}

#[test]
fn a_text_without_quotes_lacks_nothing_else() {
    for text in ["315-04", "TQ 12, 3", "weight #1", "2.1.3", "say: so", "12\" rim", "a {b}"] {
        let rotor = ROTOR.replacen("mass: 4.82 kg", &format!("mass: 4.82 kg\n drawing: {text}"), 1);
        let book = books::book(&rotor);
        let errors: Vec<&str> = check::check(&book)
            .iter()
            .filter(|found| found.severity == check::Severity::Error)
            .map(|found| found.rule.code)
            .collect();
        assert_eq!(errors, ["needs-quotes"], "{text}");
    }
}

#[test]
fn a_shop_marks_the_root_once() {
    let shop = "shop s {\n format: 1\n}\n";
    assert_eq!(said_in([("book.rotor", shop), ("r.rotor", ROTOR)]), []);
    assert_eq!(said_in([("rules.rotor", shop)]), []);
    assert_eq!(said_in([("rules.rotor", shop), ("r.rotor", ROTOR)]), one("shop-not-at-root", "shop s"));
    assert_eq!(said_in([("book.rotor", shop), ("r.rotor", shop)]), one("shop-twice", "shop s"));
}

#[test]
fn a_bare_word_that_is_a_key_is_the_key() {
    let rotor = ROTOR.replace("plane rim", "plane static");
    let tolerance =
        |head: &str| rotor.replacen(" plane hub", &format!(" tolerance {{\n  {head}: 40 g·mm\n }}\n plane hub"), 1);
    assert_eq!(said(&tolerance("static")), one("name-is-a-key", "static"));
    assert_eq!(said(&tolerance("\"static\"")), []);
    assert_eq!(said(&tolerance("hub")), []);
    assert_eq!(said(&tolerance("rim")), one("unknown-plane", "rim"));
}

#[test]
fn what_is_left_out_comes_from_no_setup_further_along_either() {
    let first = format!("setup one {{\n {SETUP} belt runs on: 60 mm\n}}\n");
    let text = format!(
        "{ROTOR}{MACHINE}{first}setup two {{\n like: one\n}}\nsetup three {{\n like: two\n leave out: \"belt runs on\"\n}}\n"
    );
    let book = books::book(&text);
    assert!(check::check(&book).iter().all(|found| found.rule.code != "inherited-nothing"));
    let id = book.named(rotorbook::syntax::Kind::Setup, "three")[0];
    assert!(rotorbook::book::effective(&book, id).0.field(rotorbook::vocabulary::setup::BELT_RUNS_ON).is_none());
}

/// `²` is no letter of a name: the parser wants quotes round it, so a fix writes them.
#[test]
fn a_fix_writes_a_name_that_cannot_stand_bare_in_quotes() {
    let rotor = ROTOR.replace("plane hub", "plane \"hub²\"");
    let text = format!("{rotor}{MACHINE}setup s {{\n {SETUP} channel left: hub\n}}\n");
    let book = books::book_of([("book.rotor", &*text)]);
    let found = check::check(&book).into_iter().find(|found| found.rule.code == "unknown-plane").unwrap();
    let [fix] = &found.fixes[..] else { panic!("{:?} is not one fix", found.fixes) };
    let edits: Vec<_> = fix.edits.iter().map(|edit| edit.edit.clone()).collect();
    let mended = rotorbook::text::apply(&text, &edits).unwrap();
    assert!(mended.contains("channel left: \"hub²\"\n"), "{mended}");
    assert_eq!(rotorbook::syntax::parse(&mended).errors, []);
    assert_eq!(said(&mended), []);
}

/// What is found, shown, refreshed and offered in the fan wheel's book, with its plane `hub` under another name.
fn told_of(name: &str) -> Vec<String> {
    let text = FAN
        .replace("    reading right:", "    unbalance hub => 1.0 g·mm\n    reading right:")
        .replace("    material:", "    tolerance => 1.0 g·mm\n    material:")
        .replace("channel right: rim", "channel right: rmi")
        .replace(" hub", &format!(" {name}"));
    let book = books::book_of([("fan.rotor", &*text)]);
    let mut told = Vec::new();
    for found in check::check(&book) {
        told.push(format!("{}: {}", found.rule.code, found.message));
        for fix in &found.fixes {
            let edits: Vec<_> = fix.edits.iter().map(|edit| edit.edit.clone()).collect();
            told.push(rotorbook::text::apply(&text, &edits).unwrap());
        }
    }
    let computing = Computing::new(&book);
    for id in book.items() {
        let computed = computing.item(id);
        let context = ItemContext { computing: &computing, id, block: book.item(id), computed: &computed };
        told.extend(check::pins(&context).iter().map(|(pin, state)| format!("{} => {state:?}", pin.name)));
    }
    let shown = books::results(&book).into_iter();
    told.extend(shown.map(|(path, entry)| format!("{path}: {}", rotorbook::book::text_of(&book, &entry))));
    told
}

#[test]
fn a_plane_may_be_called_like_a_channel_or_a_fact() {
    let as_hub = told_of("hub");
    for pin in ["tolerance => Stale", "unbalance hub => NotComputed"] {
        assert!(as_hub.iter().any(|one| one.starts_with(pin)), "no {pin} in {as_hub:#?}");
    }
    for name in ["left", "radius", "mass"] {
        let renamed: Vec<String> = as_hub.iter().map(|one| one.replace("hub", name)).collect();
        assert_eq!(told_of(name), renamed);
    }
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, cases: 256, ..ProptestConfig::default() })]

    /// Letters of any script, with marks on them as some systems write them: `ü` as `u` and a mark of its own.
    #[test]
    fn a_word_is_one_in_every_place(word in r"\p{L}[\p{L}\p{M}\p{Nd}_-]{0,5}") {
        let rotor = ROTOR.replace("plane hub", &format!("plane {word}"));
        let setup = format!("setup s {{\n {SETUP} channel left: {word}\n calibrate {word} {{\n  radius: 60 mm\n }}\n}}\n");
        let book = books::book_of([("book.rotor", format!("{rotor}{MACHINE}{setup}").as_str())]);
        let unread = check::check(&book).into_iter().find(|found| found.rule.code.contains("quotes"));
        prop_assert!(unread.is_none(), "{:?}", unread.map(|found| found.message));
    }
}
