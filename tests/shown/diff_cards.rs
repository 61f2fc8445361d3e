//! What the technician will do differently, told and shown.

use serde_json::Value;

use crate::support::git::Repo;

/// A file of the small book, and what is changed in it.
pub(super) type Edit = (&'static str, &'static str, &'static str);

pub(super) const ROTOR: &str = "rotors/fan-wheel-315.rotor";
pub(super) const SETUP: &str = "setups/fan-wheel-315.rotor";

pub(super) fn with(edits: &[Edit]) -> Repo {
    let repo = Repo::with_shop("");
    edits.iter().for_each(|(path, old, new)| repo.edit(path, old, new));
    repo
}

/// The lines under the first sheet whose card changes.
pub(super) fn told(repo: &Repo) -> Vec<String> {
    let text = repo.run(&["diff", "--format", "markdown"]).ends(0).stdout;
    let lines = text.lines().skip_while(|line| !line.starts_with("**What the technician"));
    let lines = lines.filter_map(|line| line.strip_prefix("  - <code>")?.strip_suffix("</code>"));
    let plain = |line: &str| {
        let numbered = [(40, "("), (41, ")"), (58, ":"), (59, ";"), (96, "`"), (45, "-"), (124, "|")];
        numbered.iter().fold(line.to_owned(), |line, (number, mark)| line.replace(&format!("&#{number};"), mark))
    };
    lines.map(plain).collect()
}

fn changes(repo: &Repo) -> Vec<Value> {
    let items = repo.json(&["diff"])["items"].as_array().unwrap().clone();
    let cards = items.iter().flat_map(|item| item["cards"].as_array().unwrap());
    cards.flat_map(|card| card["changes"].as_array().unwrap().clone()).collect()
}

#[test]
fn which_way_it_turns_comes_before_numbers_and_a_table_is_one_line() {
    let edits = [
        (ROTOR, "rotation: clockwise", "rotation: anticlockwise"),
        (ROTOR, "radius: 141 mm", "radius: 140 mm"),
        (SETUP, "\"left strength\": 212", "\"left strength\": 230"),
    ];
    let told = told(&with(&edits));
    let turns = told.iter().position(|line| line.ends_with("turning anticlockwise, was turning clockwise"));
    let set = told.iter().position(|line| line == "set left strength: 212 → 230");
    assert!(
        turns.is_some() && turns < set && set < told.iter().position(|line| line.contains("radius 140 mm")),
        "{told:#?}"
    );
    let told = self::told(&with(&[(ROTOR, "radius: 141 mm", "radius: 140 mm")]));
    let rows: Vec<&String> = told.iter().filter(|line| line.contains("read div")).collect();
    assert!(
        matches!(rows.as_slice(), [one] if one.contains("5 rows, the last of them read div 20: mass g 4.96, half-way g 5.37 → mass g 4.99, half-way g 5.41")),
        "{told:#?}"
    );
}

#[test]
fn a_row_whose_label_says_what_it_is_of_this_time_is_one_change() {
    // The limits to read differ from plane to plane at this speed, and were alike before.
    let repo = with(&[(ROTOR, "highest service speed: 3550 rpm", "highest service speed: 3100 rpm")]);
    let good: Vec<String> = told(&repo).into_iter().filter(|line| line.contains("Good at")).collect();
    assert_eq!(good, ["Good at: each 0.8 div → left | right 1 | 0.9 div"]);
    // Which rows a table of numbers has is told without repeating what they all begin with.
    let rows: Vec<Value> = changes(&repo).into_iter().filter(|change| change["kind"] == "sequence").collect();
    assert_eq!((&rows[0]["of"], &rows[0]["new"]), (&"rows read div".into(), &"2, 5, 10".into()));
}

#[test]
fn no_change_is_empty_on_a_side_or_the_same_on_both() {
    let edits: &[&[Edit]] = &[
        &[(SETUP, "indicates: heavy spot", "indicates: light spot")],
        &[(SETUP, "  calibrate rim {\n    mass: 3.00 g\n", "  calibrate rim {\n    mass: ?\n")],
        &[(SETUP, "  channel right: rim\n", "")],
        &[(ROTOR, "  bearings: 0 mm, 164 mm\n", "")],
        &[(ROTOR, "    grade: G 6.3\n", "")],
        &[(ROTOR, "places: 8 from 0 deg", "places: 12 from 10 deg")],
        &[(ROTOR, "correct: add\n    method: clamping", "correct: remove\n    method: grinding")],
        &[("machines/soft-bench.rotor", "  supports: soft\n", "  supports: hard\n")],
    ];
    for edits in edits {
        let all = changes(&with(edits));
        assert!(!all.is_empty(), "{edits:?}");
        for one in all {
            let (old, new) = (one["old"].as_str(), one["new"].as_str());
            assert!(old != new && old != Some("") && new != Some(""), "{edits:?}: {one}");
            // What stands along a scale is no sentence.
            let has_words = |side: Option<&str>| side.is_none_or(|side| side.chars().any(char::is_alphanumeric));
            assert!(has_words(old) && has_words(new), "{edits:?}: {one}");
        }
    }
}

#[test]
fn pictures_stand_beside_each_other_in_a_page_that_loads_nothing() {
    let repo = with(&[
        (SETUP, "\"left strength\": 212", "\"left strength\": 230"),
        (ROTOR, "places: 8 from 0 deg", "places: 9 from 0 deg"),
        (ROTOR, "drawing: \"TQ-315-04 rev B\"", "drawing: \"TQ <script>alert(1)</script> rev C\""),
    ]);
    let page = repo.run(&["diff", "--format", "html"]).ends(0).stdout;
    assert!(
        !page.contains("<script") && !page.contains("src=") && !page.contains("@import"),
        "something is loaded or run"
    );
    assert!(!page.replace("http-equiv", "").replace("http://www.w3.org/2000/svg", "").contains("http"));
    assert!(page.contains("default-src 'none'"));
    let at = |text: &str| page.find(text).unwrap_or_else(|| panic!("no {text}"));
    assert!(at("What the technician will do differently") < at("Not to be missed"));
    assert!(at("Not to be missed") < at("The cards before and after"));
    assert!(at(">before<") > 0 && at(">after<") > 0 && at("As before: ") > 0);
    // The row that differs is marked in both versions, those that do not in none.
    let marked = |value: &str| {
        let cards = page.split("The cards before and after").nth(1).unwrap();
        let cards = cards.split("What was written otherwise").next().unwrap();
        let rows =
            cards.split("<tr").filter(|row| row.contains(&format!(">{value}<")) && row.contains("left strength"));
        rows.map(|row| row.starts_with(" class=\"differs\"")).collect::<Vec<_>>()
    };
    assert!(!marked("212").is_empty() && marked("212").iter().chain(&marked("230")).all(|is_marked| *is_marked));
    assert!(page.matches("<figure class=\"differs\"").count() >= 2, "the places are drawn before and after");
    let markdown = repo.run(&["diff", "--format", "markdown", "--pictures", "changes.html"]).ends(0).stdout;
    assert!(markdown.contains("](<changes.html>)"), "{markdown}");
    assert_eq!(repo.read("changes.html"), page);
    let elsewhere = [
        "diff",
        "--format",
        "markdown",
        "--pictures",
        "changes.html",
        "--pictures-at",
        "https://forge.example/a b>.html",
    ];
    assert!(repo.run(&elsewhere).ends(0).stdout.contains("](<https://forge.example/a b%3E.html>)"));
    repo.git("checkout -q -- .");
    let page = repo.run(&["diff", "--format", "html"]).ends(0).stdout;
    assert!(page.contains("No card of a released sheet says or shows anything else."));
}

#[test]
fn a_name_that_is_changed_throughout_is_one_line_of_the_card() {
    let repo = Repo::with_shop("");
    for path in ["machines/soft-bench.rotor", SETUP] {
        let text = repo.read(path).replace("lamp delay", "strobe delay");
        repo.write(path, &text);
    }
    for path in [ROTOR, SETUP] {
        let text = repo
            .read(path)
            .replace("plane rim", "plane lip")
            .replace(" rim {", " lip {")
            .replace("right: rim", "right: lip");
        repo.write(
            path,
            &text
                .replace("plane: rim", "plane: lip")
                .replace("in rim:", "in lip:")
                .replace("mass rim:", "mass lip:")
                .replace("radius rim:", "radius lip:")
                .replace("reading rim:", "reading lip:"),
        );
    }
    let mut told = told(&repo);
    told.sort();
    assert_eq!(told, ["lip, was rim", "strobe delay, was lamp delay"]);
}

/// Whoever holds the old card reads other numbers on it, and `balance` refuses its code.
#[test]
fn another_unit_on_the_card_is_told_as_that_and_as_nothing_that_is_done_otherwise() {
    let repo = with(&[("book.rotor", "show in: g·mm", "show in: oz·in")]);
    let changes = changes(&repo);
    let of = changes[0]["of"].as_str().unwrap();
    assert!(changes.len() == 1 && of.ends_with("in other units") && changes[0]["kind"] == "document", "{changes:#?}");
    assert_eq!(told(&repo), Vec::<String>::new());
    let alerts = repo.alerts_of("released-without-new-revision", &[]);
    assert!(matches!(alerts.as_slice(), [one] if one.contains("oz·in") && one.contains("g·mm")), "{alerts:?}");
}

#[test]
fn a_panel_in_another_order_is_told_once_and_by_what_moved() {
    // However the controls are called: a remark in the name, a comma, the words of the card's own.
    for (left, right) in [("strength (left)", "strength (right)"), ("set strength, left", "set strength, right")] {
        let repo = Repo::with_shop("");
        for path in ["machines/soft-bench.rotor", SETUP] {
            let named = |text: &str, old: &str, new: &str| text.replace(&format!("\"{old}\""), &format!("\"{new}\""));
            let text = named(&named(&repo.read(path), "left strength", left), "right strength", right);
            repo.write(path, &text);
        }
        repo.commit("controls with other names");
        let text = repo.read("machines/soft-bench.rotor");
        let at = |name: &str| text.find(&format!("  control \"{name}\"")).unwrap();
        let (a, b, c) = (at(left), at(right), at("left out of right"));
        repo.write("machines/soft-bench.rotor", &[&text[..a], &text[b..c], &text[a..b], &text[c..]].concat());
        let order = format!("Set the panel, in its order: sequence: {left}, {right} → {right}, {left}");
        assert_eq!(told(&repo), [order]);
        let alerts = repo.alerts(&[]);
        assert!(alerts.iter().any(|alert| alert.starts_with("released-without-new-revision setup")), "{alerts:?}");
        repo.commit("the right strength first");
        repo.edit(SETUP, &format!("\"{left}\": 212"), &format!("\"{left}\": 230"));
        assert!(told(&repo).contains(&format!("set {left}: 212 → 230")), "{:?}", told(&repo));
    }
    let repo = Repo::with_shop("");
    let text = repo.read("machines/soft-bench.rotor");
    let at = |name: &str| text.find(&format!("  control \"{name}\"")).unwrap();
    let (a, b, c) = (at("left strength"), at("right strength"), at("left out of right"));
    repo.write("machines/soft-bench.rotor", &[&text[..a], &text[b..c], &text[a..b], &text[c..]].concat());
    let order = "Set the panel, in its order: sequence: left strength, right strength → right strength, left strength";
    assert_eq!(told(&repo), [order]);
    // It is a fact of the machine, and its history has it.
    let fact = "soft bench: order of controls ";
    assert!(repo.facts(&[]).iter().any(|one| one.starts_with(fact)), "{:?}", repo.facts(&[]));
    repo.commit("the right strength first");
    let life = repo.run(&["history", "soft bench"]).ends(0).stdout;
    assert!(life.contains("the right strength first") && life.contains("order of controls"), "{life}");
}

#[test]
fn the_order_of_the_work_on_a_record_is_a_fact_of_it() {
    let record = include_str!("../../examples/tern-quay/records/fan-wheel-315.rotor");
    let repo = Repo::with_shop("");
    repo.write("records/fan-wheel-315.rotor", record);
    repo.commit("a record");
    let at = |words: &str| record.find(words).unwrap();
    let (a, b) = (at("  run corrected {"), at("  run \"laid in again\" {"));
    let end = record.len() - 2;
    let text = [&record[..a], &record[b..end], "\n", record[a..b].trim_end(), "\n}\n"].concat();
    repo.write("records/fan-wheel-315.rotor", &text);
    let facts = repo.facts(&[]);
    assert!(facts.iter().any(|one| one.contains("order of runs and corrections")), "{facts:?}");
    assert!(repo.alerts(&[]).contains(&"record-altered record".to_owned()), "{:?}", repo.alerts(&[]));
}

#[test]
fn small_print_and_what_stands_below_a_drawing_are_part_of_the_card() {
    let record = include_str!("../../examples/tern-quay/records/fan-wheel-315.rotor");
    for (old, new, expected) in [
        (
            "datum: \"shoulder of the drive-end bearing\"",
            "datum: \"face of the hub\"",
            "released-without-new-revision setup",
        ),
        ("source: \"drawing note 7\"", "source: \"drawing note 8\"", "record-reads-otherwise record"),
        ("edition: \"ISO 21940-11:2016\"", "edition: \"ISO 1940-1:2003\"", "record-reads-otherwise record"),
    ] {
        let repo = Repo::with_shop("");
        repo.write("records/fan-wheel-315.rotor", record);
        repo.commit("a record");
        repo.edit(ROTOR, old, new);
        assert!(repo.alerts(&[]).iter().any(|alert| alert == expected), "{old}: {:?}", repo.alerts(&[]));
    }
}

pub(super) const MACHINE: &str = "machines/soft-bench.rotor";

#[test]
fn another_unit_with_the_same_digits_changes_the_card() {
    let repo = with(&[(ROTOR, "highest safe speed: 4200 rpm", "highest safe speed: 4200 Hz")]);
    assert!(told(&repo).iter().any(|line| line.contains("4200 rpm → 4200 Hz")), "{:#?}", told(&repo));
    let ran = repo.run(&["release", "fan wheel 315 on the soft bench", "--dry-run"]);
    assert!(ran.stdout.contains("4200 rpm → 4200 Hz"), "{}", ran.stdout);
    // 4200 turns a minute are 70 a second.
    let repo = with(&[(ROTOR, "highest safe speed: 4200 rpm", "highest safe speed: 70.0 Hz")]);
    assert!(changes(&repo).iter().all(|change| change["kind"] == "document"), "{:#?}", changes(&repo));
}

#[test]
fn a_card_that_errors_bar_is_told_first_and_so_is_one_that_they_bar_no_longer() {
    let repo = with(&[(MACHINE, "0.5 kg to 60 kg", "0.5 kg to 3 kg")]);
    // The wheel weighs 4.82 kg.
    let told = told(&repo);
    assert!(told[0].starts_with("stamp: RELEASED C → NOT TO BE USED, as the check finds an error: "), "{told:#?}");
    let alerts = repo.alerts(&[]);
    assert_eq!(&alerts[..2], ["card-barred setup", "check-fails machine"]);
    let text = repo.run(&["diff"]).stdout;
    assert!(
        text.contains("whether the card may be used: setup \"fan wheel 315 on the soft bench\": RELEASED C"),
        "{text}"
    );
    assert!(!text.contains("changed without a new revision"), "{text}");
    repo.commit("too small");
    // It was barred before, and is by another error as well: no news.
    repo.edit(MACHINE, "0.5 kg to 3 kg", "0.5 kg to 2.9 kg");
    assert!(!repo.alerts(&[]).contains(&"card-barred setup".to_owned()));
    repo.edit(MACHINE, "0.5 kg to 2.9 kg", "0.5 kg to 60 kg");
    let told = self::told(&repo);
    assert!(told[0].starts_with("stamp: NOT TO BE USED") && told[0].ends_with("→ RELEASED C"), "{told:#?}");
    assert_eq!(repo.alerts(&[])[0], "card-barred setup");
}

/// A pin, a proof and a check mass are of one sheet alone; the sheets that are like it have their own.
#[test]
fn what_a_sheet_does_not_take_over_bars_no_card_of_it() {
    let heir = "fan wheel 315 on the soft bench, five grams";
    let repo = Repo::with_tern_quay();
    let is_barred = |repo: &Repo, name: &str| repo.run(&["card", name]).stdout.contains("THIS SHEET HAS");
    assert!(!is_barred(&repo, heir));
    let liked = "setups/fan-wheel-315-soft-bench.rotor";
    for (old, new) in [
        ("reading => 8.60 div", "reading => 8.80 div"),
        ("calibration reading hub: 17.2 mark on fine", "calibration reading hub: 17.2 div on fine"),
        ("    checked: 2026-05-04, 24.4 mark on fine", "    checked: 2026-05-04, 24.4 g on fine"),
    ] {
        repo.edit(liked, old, new);
        assert!(is_barred(&repo, "fan wheel 315 on the soft bench"), "{new}");
        assert!(!is_barred(&repo, heir), "{new}");
        repo.edit(liked, new, old);
    }
    // What it takes over does.
    repo.edit(liked, "belt runs on: 60 mm", "belt runs on: 60 mn");
    assert!(is_barred(&repo, heir));
    // A plane of the rotor that a tolerance is scaled from is no matter of the other's.
    repo.edit(liked, "belt runs on: 60 mn", "belt runs on: 60 mm");
    repo.edit("rotors/fan-wheel-315.rotor", "wall: 12 mm", "wall: 12 mn");
    assert!(is_barred(&repo, "fan wheel 315 on the soft bench") && !is_barred(&repo, "fan wheel 400"));
    repo.edit("rotors/fan-wheel-315.rotor", "wall: 12 mn", "wall: 12 mm");
    repo.edit("rotors/fan-wheel-315.rotor", "grade: G 6.3", "grade: G six");
    assert!(is_barred(&repo, "fan wheel 400"));
}

/// Blocks and facts in another order say the same; the panel is set, and cautions are read, in theirs.
#[test]
fn the_code_of_a_card_is_the_same_whatever_stands_first() {
    let repo = Repo::with_tern_quay();
    let code = |repo: &Repo, name: &str| {
        let card = repo.run(&["card", name]).ends(0).stdout;
        card.split_once("code ").unwrap().1.trim_start()[..9].to_owned()
    };
    let names = ["fan wheel 315 on the soft bench", "fan wheel 560 on the soft bench"];
    let codes = |repo: &Repo| names.map(|name| code(repo, name));
    let before = codes(&repo);
    let swap = |path: &str, first: &str, second: &str, end: &str| {
        let text = repo.read(path);
        let at = |words: &str| text.find(words).unwrap_or_else(|| panic!("{path} has no {words}"));
        let (a, b, c) = (at(first), at(second), at(end));
        assert!(a < b && b < c);
        repo.write(path, &[&text[..a], &text[b..c], &text[a..b], &text[c..]].concat());
    };
    swap("rotors/fan-wheel-315.rotor", "  # The thick ring", "  # Clips on the lip", "  keyway \"drive end\"");
    swap("rotors/fan-wheel-560-overhung.rotor", "  plane \"back plate\"", "  plane shroud", "  tolerance {");
    swap("machines/soft-bench.rotor", "    scale fine", "    scale coarse", "  }\n\n  # Panel");
    swap("setups/fan-wheel-315-soft-bench.rotor", "  supports at:", "  channel left:", "  channel right:");
    swap("setups/fan-wheel-315-soft-bench.rotor", "    \"left strength\"", "    \"lamp delay\"", "  }\n\n  calibrate");
    swap("setups/fan-wheel-315-soft-bench.rotor", "  calibrate hub", "  calibrate rim", "  # With the wheel");
    assert_eq!(codes(&repo), before);
    swap(
        "machines/soft-bench.rotor",
        "  control \"left strength\"",
        "  control \"right strength\"",
        "  control \"left out",
    );
    assert!(codes(&repo).iter().zip(&before).all(|(now, then)| now != then));
}

#[test]
fn what_becomes_of_a_sheet_bars_no_record_that_is_bound_to_its_proof() {
    let record = include_str!("../../examples/tern-quay/records/fan-wheel-315.rotor");
    let name = "fan wheel 315, 26-0419";
    let repo = Repo::with_shop("");
    repo.write("records/fan-wheel-315.rotor", record);
    repo.commit("a record");
    let edits: [(&str, &str, &str); 5] = [
        // A void calibration, an error in the setup, one in the rotor, a stale pin, a withdrawal.
        (SETUP, "\n  balancing speed: 1150 rpm", "\n  balancing speed: 1100 rpm"),
        (SETUP, "  pulley: 80 mm\n", "  pulley: 80 mn\n"),
        (ROTOR, "grade: G 6.3", "grade: G 6,3"),
        (ROTOR, "=> 81.7 g·mm", "=> 41.7 g·mm"),
        (SETUP, "status: released", "status: withdrawn"),
    ];
    for (path, old, new) in edits {
        let before = (repo.run(&["card", name]).ends(0).stdout, repo.run(&["certificate", name]).ends(0).stdout);
        assert!(before.0.contains("WITHIN") && !before.0.contains("DRAFT"), "{}", before.0);
        repo.edit(path, old, new);
        assert!(!repo.alerts(&[]).contains(&"card-barred record".to_owned()), "{new}: {:?}", repo.alerts(&[]));
        repo.commit("changed");
        for paper in ["card", "certificate"] {
            let text = repo.run(&[paper, name]).ends(0).stdout;
            assert!(!text.contains("NOT TO BE USED") && !text.contains("DRAFT"), "{new}: {text}");
        }
        repo.git("reset -q --hard HEAD~1");
    }
    // An error in the record itself, or in the proof that it is judged by.
    for (path, old, new) in [
        ("records/fan-wheel-315.rotor", "depth: 5.0 mm", "depth: 5.0 mn"),
        (SETUP, "    calibration mass hub: 3.00 g", "    calibration mass hub: 3.00 gg"),
    ] {
        repo.edit(path, old, new);
        assert!(repo.alerts(&[]).contains(&"card-barred record".to_owned()), "{new}: {:?}", repo.alerts(&[]));
        repo.commit("changed");
        assert!(repo.run(&["card", name]).ends(0).stdout.contains("NOT TO BE USED"), "{new}");
        repo.git("reset -q --hard HEAD~1");
    }
    // A record that says nothing of what it was run by goes with the sheet.
    repo.edit("records/fan-wheel-315.rotor", "  proof: \"2026-04-14\"\n", "");
    repo.commit("not bound");
    repo.edit(SETUP, "  pulley: 80 mm\n", "  pulley: 80 mn\n");
    assert!(repo.alerts(&[]).contains(&"card-barred record".to_owned()), "{:?}", repo.alerts(&[]));
}

#[test]
fn another_name_of_a_setup_is_another_title_and_another_code_on_its_card() {
    let repo = Repo::with_shop("");
    let code = |name: &str| {
        let card = repo.run(&["card", name]).ends(0).stdout;
        let (_, rest) = card.split_once("code ").unwrap_or_else(|| panic!("{card}"));
        rest.trim_start()[..9].to_owned()
    };
    let before = code("fan wheel 315 on the soft bench");
    repo.edit(SETUP, "setup \"fan wheel 315 on the soft bench\"", "setup \"fan wheel, soft bench\"");
    let after = code("fan wheel, soft bench");
    let told = told(&repo);
    assert!(told.contains(&"title: fan wheel 315 on the soft bench → fan wheel, soft bench".to_owned()), "{told:#?}");
    assert!(before != after && told.contains(&format!("code: {before} → {after}")), "{told:#?}");
}

// Eight places from 0 deg, numbered with rotation: place 2 is at 45 deg. Numbered the other way it is at 315 deg, and so
// are all but place 1 and place 5, which is opposite.
#[test]
fn places_that_are_elsewhere_are_told_in_words_whatever_else_changes() {
    let turned = (ROTOR, "places numbered: with rotation", "places numbered: against rotation");
    for more in [None, Some((SETUP, "revision: \"C\"", "revision: \"D\""))] {
        let told = told(&with(&[vec![turned], more.into_iter().collect()].concat()));
        let place: Vec<&String> = told.iter().filter(|line| line.contains("place 2, read at")).collect();
        assert!(matches!(place.as_slice(), [one] if one.ends_with("and 5 more places")), "{told:#?}");
    }
}
