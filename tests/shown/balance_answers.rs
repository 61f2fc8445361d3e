//! `balance`: what is done is answered in the words of the order, and what cannot be is asked again.

use crate::cli_balance::{answer, answer_on, is_whole, result, sheet, shop};
use crate::support::cli::{Folder, Ran, rotorbook};
use crate::what_was_done;

const CLIPS: &str = "    radius: 100 mm\n    correct: add\n    method: clamping\n";
const AT_PLACES: &str = "    places: 8 from 0 deg\n    places numbered: with rotation\n";
const HOLES: &str = "    correct: remove\n    method: drilling\n    surface diameter: 200 mm\n    hole diameter: 10 mm\n    \
                     depth: up to 30 mm\n    material: \"carbon steel bar\"\n";

/// The shop of `what_was_done` with these lines in plane and setup, written as `balance` writes.
fn job(plane: &str, setup: &str) -> Folder {
    let folder = what_was_done::shop(plane, setup, "");
    folder.run("fmt").ends(0);
    folder
}

fn said(folder: &Folder, answers: &str) -> String {
    let ran = answer(folder, "sheet", answers);
    let all = format!("{}\n{}", ran.stdout(), ran.stderr());
    all.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// A hole of 10 mm, 5.1 mm deep from a surface of 100 mm: the cylinder is 7.85e-3 · π/4 · 10² · 5.1 = 3.144 g, whose middle is
/// 97.4 mm out. What the point adds, and what the round surface takes away, is the plane's own geometry.
#[test]
fn a_depth_at_an_angle_says_what_was_taken_off() {
    let folder = job(HOLES, "");
    said(&folder, "W-1\n\n441 @ 40\n5.1 mm deep at 40 deg\n\n9 @ 200\nend\n");
    is_whole(&folder);
    let text = folder.read("records/part-w-1.rotor");
    assert!(text.contains("    angle: 40 deg\n    depth: 5.1 mm\n") && !text.contains("remove: "), "{text}");
    let done = result(&folder, "part, W-1", &["correction rim", "done"]);
    let done = done.as_str().unwrap();
    let amount: f64 = done.split(' ').next().unwrap().parse().unwrap();
    let cylinder = 7.85e-3 * std::f64::consts::PI / 4.0 * 100.0 * 5.1 * (100.0 - 2.55);
    assert!(amount > cylinder && amount < 1.25 * cylinder && done.contains("@ 220"), "{done} beside {cylinder}");
}

#[test]
fn a_place_that_the_plane_has_not_is_never_written() {
    let folder = job(&format!("{CLIPS}{AT_PLACES}"), "");
    let words = said(&folder, "W-1\n\n441 @ 40\n3 g at place 9\n3 g at place 9\n4.4 g at place 6\n\n");
    assert_eq!(words.matches("plane rim has places 1 to 8, and no place 9").count(), 2, "{words}");
    assert!(folder.read("records/part-w-1.rotor").contains("add place 6: 4.4 g"));
    let folder = job(CLIPS, "");
    let words = said(&folder, "W-1\n\n441 @ 40\n3 g at place 5\nnothing\n");
    assert!(words.contains("plane rim has no numbered places: write `3 g @ 40`"), "{words}");
    assert!(!folder.read("records/part-w-1.rotor").contains("correction"), "nothing was done");
}

#[test]
fn a_warning_of_an_answer_is_said_again_after_back() {
    let folder = job(CLIPS, "");
    let words = said(&folder, "W-1\n2000\nback\n2000\n441 @ 40\n");
    assert_eq!(words.matches("warning: run \"as found\" at 2000 rpm is outside the band").count(), 2, "{words}");
}

#[test]
fn a_question_mark_tells_which_answers_there_are() {
    let folder = job(CLIPS, "");
    let words = said(&folder, "W-1\n?\n900\n");
    assert!(words.contains("answer as in: 1150 rpm; Enter for 900 rpm; `back` takes the last answer out"), "{words}");
}

/// A rotor of 500 g·mm at 40 deg on an arbor of 300 at 100 reads 700 at 62, and half a turn on 436 at 3, in its own angles. Corrected to
/// nothing and put back not turned, it reads the arbor's 300 at 100; by a run that says 180 deg that is 600 at 100, twice the arbor, and
/// nothing is wrong with the rotor. Vector sums.
#[test]
fn a_rotor_that_sits_otherwise_on_its_arbor_is_not_corrected() {
    let folder = job(CLIPS, "  arbor: stub\n");
    let found = "W-1\n\n0\n700 @ 61.8\n\n\nrotor\n436 @ 3.4\n5.00 g @ 220\n\n";
    let words = said(&folder, &format!("{found}yes\n180\n300 @ 100\n0\nend\n"));
    let (_, after) = words.split_once("STOP").unwrap_or_else(|| panic!("no STOP: {words}"));
    assert!(after.contains("as if the rotor sat turned by 0 deg on its arbor, and not by 180 deg"), "{words}");
    assert!(!after.contains("PUT ON"), "{words}");
    assert!(after.contains("for the second of the final runs (end, again, mount again or turn) [turn]"), "{words}");
    is_whole(&folder);
    let text = folder.read("records/part-w-1.rotor");
    assert_eq!(text.matches("turned on arbor by: 0 deg").count(), 2, "{text}");
    assert_eq!(text.matches("remounted: yes").count(), 2, "{text}");
}

/// The same rotor on an arbor of 50 at 100: 527 at 44.7, half a turn on 477 at 34.8. Put back not turned, and said to sit turned, it
/// reads the arbor's 50 at 100 where −50 at 100 is expected: 100 of 500, four times what masses are made to. Where it sits as it says
/// and the mass is 5 % short, it reads 25 at 40 less 50 at 100: 43 at 310. Vector sums.
#[test]
fn a_small_arbor_shows_the_wrong_seat_too() {
    let folder = job(CLIPS, "  arbor: stub\n");
    let found = |serial: &str| format!("{serial}\n\n0\n527 @ 44.7\n\n\nrotor\n477 @ 34.8\n5.00 g @ 220\n\nyes\n180\n");
    let words = said(&folder, &format!("{}50 @ 100\n", found("W-1")));
    assert!(words.contains("Was it taken off the arbor since the run before (yes or no): yes"), "{words}");
    assert!(words.contains("The rotor is turned on the arbor by (e.g. 0 deg, 180 deg): 180"), "{words}");
    assert!(words.contains("STOP") && words.contains("turned by 0 deg on its arbor, and not by 180 deg"), "{words}");
    assert!(!words.contains("does not say how far the rotor was turned"), "{words}");
    assert_eq!(result(&folder, "part, W-1", &["verdict"]), "not shown");
    // Who says that it sits as told makes the second run.
    let words = said(&folder, "W-1\n180\n\n");
    assert!(words.contains("It reads as if turned by 0 deg. Look at the arbor"), "{words}");
    assert!(words.contains("for the second of the final runs (end, again, mount again or turn) [turn]"), "{words}");
    let words = said(&folder, &format!("{}43 @ 310\nend\n", found("W-2")));
    assert!(
        !words.contains("STOP")
            && words.contains("for the second of the final runs (end, again, mount again or turn) [turn]"),
        "{words}"
    );
    let card = folder.run_with(&["card", "part, W-2"]).stdout();
    assert!(card.contains("TURN THE ROTOR HALF A TURN ON THE ARBOR"), "{card}");
}

/// Grams at no radius are no unbalance, however the rotor is turned.
#[test]
fn without_a_radius_no_half_turn_is_ordered() {
    let folder = job("    correct: add\n    method: clamping\n", "  arbor: stub\n");
    let text = folder
        .read("sheets.rotor")
        .replace("shows: unbalance\n    unit: g·mm", "shows: mass at set radius\n    unit: g")
        .replace("step: 1 g·mm", "step: 1 g");
    folder.write("sheets.rotor", text.as_bytes());
    let words = said(&folder, "W-1\n\n0\n5 @ 44\n");
    assert!(!words.contains("HALF A TURN"), "{words}");
    assert!(words.contains("PUT ON: not computed"), "{words}");
}

#[test]
fn a_trial_says_what_goes_where_and_what_stays_on() {
    let folder = shop();
    let path = "setups/fan-wheel-560-soft-bench.rotor";
    let text = folder.read(path);
    let left_on = text.replacen("trial mass: taken off", "trial mass: left on", 1);
    let open = left_on.replace("reading left: 3.8 mark on coarse @ 10 deg", "reading left: ?");
    let open = open.replace("reading left: 16.6 mark on fine @ 140 deg", "reading left: ?").replace("619 rpm", "?");
    folder.write(path, open.as_bytes());
    let answers = "3.8 coarse @ 10\n\n16.6 fine @ 140\n5518-9\n\noff\n";
    let ran = answer(&folder, "fan wheel 560 on the soft bench", answers);
    let words = ran.stdout();
    for part in [
        "Trial run pad on the back plate: PUT 40.00 g in plane \"back plate\", radius 228 mm, at 0 deg; it stays on",
        "Trial run clip on the shroud: PUT 35.00 g in plane shroud, radius 246 mm, at 90 deg; it comes off after the run",
        "Speed of the run [620 rpm]",
        "Trial masses, counted: all off, or still on (off or on)",
    ] {
        assert!(words.contains(part), "{part}: {words}");
    }
    assert!(folder.read("records/fan-wheel-560-5518-9.rotor").contains("calibration masses: off"));
}

/// Nobody takes a trial mass off for good without being asked, where it was on in the same work; nor the check mass.
#[test]
fn what_was_put_on_before_the_first_run_is_asked_off() {
    let folder = shop();
    let path = "setups/fan-wheel-560-soft-bench.rotor";
    let text = folder.read(path);
    assert!(text.contains("trial mass: taken off") && !text.contains("trial mass: left on"), "{text}");
    let open = text.replace("reading left: 16.6 mark on fine @ 140 deg", "reading left: ?");
    folder.write(path, open.as_bytes());
    let setup = "fan wheel 560 on the soft bench";
    let asks = "Trial masses, counted: all off, or still on (off or on)";
    let words = answer(&folder, setup, "16.6 fine @ 140\n5518-9\n\noff\n").stdout();
    assert!(words.contains(asks), "{words}");
    // The sheet has its trials: the next rotor has none on.
    assert!(!answer(&folder, setup, "5518-10\n\n25.2 fine @ 105\n").stdout().contains(asks));
    let check = sheet(include_str!("../data/sheets/check-mass-overdue.rotor"));
    let words = answer_on("1773792000", &check, "sheet", "0.3 div @ 90, 9.1 div @ 2\nW-1\n\noff\n").stdout();
    assert!(words.contains("heck masses, counted: all off, or still on"), "{words}");
}

/// 3.375 g at 80 mm is 270 g·mm: 9 div of 30 g·mm. Within 5 % is 8.55 to 9.45 div. Checked on 2026-03-10, every 7 days: due again from
/// 2026-03-18 on.
#[test]
fn the_check_mass_is_asked_for_once_it_is_due() {
    let text = include_str!("../data/sheets/check-mass-overdue.rotor");
    let folder = || sheet(text);
    let (in_time, due) = ("1773705600", "1773792000");
    let begin = |folder: &Folder, day: &str, answers: &str| {
        let ran = answer_on(day, folder, "sheet", answers);
        ran.stdout().split_whitespace().collect::<Vec<_>>().join(" ")
    };
    let early = folder();
    assert!(!begin(&early, in_time, "W-1\n").contains("Does the sheet still hold"), "2026-03-17");
    let good = folder();
    let words = begin(&good, due, "0.3 div @ 90, 9.1 div @ 2\nW-1\n");
    let asked = "Does the sheet still hold? PUT 3.375 g in plane p, radius 80.0 mm, at 0 deg; in the band: 8.55 div to 9.45 div";
    assert!(words.contains(asked), "{words}");
    assert!(good.read("sheets.rotor").contains("checked: 2026-03-18, 9.1 div"));
    assert!(!begin(&good, due, "W-2\n").contains("Does the sheet still hold"), "asked twice");
    let out = folder();
    let words = begin(&out, due, "difference 10.8 div\nW-1\n");
    assert!(words.contains("STOP: the check mass reads 10.8 div, outside 8.55 div"), "{words}");
    assert!(!words.contains("Serial number"), "{words}");
    // Once the machine is set again, it is asked again.
    assert!(begin(&out, due, "difference 9.0 div\nW-1\n").contains("Serial number"));
}

/// The serial number that is given with the command answers nothing but what asks for it, as it is written.
#[test]
fn a_serial_number_of_the_command_is_no_reading() {
    let folder = sheet(include_str!("../data/sheets/check-mass-overdue.rotor"));
    let mut command = rotorbook(&folder.path("."));
    command.env("SOURCE_DATE_EPOCH", "1773792000");
    command.args(["balance", "sheet", "--serial", "#11", "-a", "difference 9.1 div"]);
    let ran = Ran::of(command.output().unwrap());
    assert!(ran.stdout().contains("Serial number (e.g. 26-0419): #11"), "{}", ran.stdout());
    assert!(folder.read("sheets.rotor").contains("checked: 2026-03-18, 9.1 div"));
}

/// Without their numbering no place is at a known angle.
#[test]
fn a_place_without_its_number_is_no_answer() {
    let folder = job(&format!("{CLIPS}    places: 12 from 0 deg\n"), "");
    let words = said(&folder, "W-1\n\n441 @ 40\n3.5 g at place 3\nnothing\n");
    assert!(words.contains("plane rim has no numbered places: write `3.5 g @ 40`"), "{words}");
}

/// Eight places of 0.1 g at 100 mm: once those of one side are full, nothing more goes there.
#[test]
fn a_plane_that_is_full_takes_nothing_more() {
    let folder = job(&format!("{CLIPS}{AT_PLACES}    most per place: 0.1 g\n"), "");
    let words = said(&folder, "W-9\n\n441 @ 40\n\n\n400 @ 40\n\nend\n");
    assert!(words.contains("The plane takes no more: this leaves"), "{words}");
    assert!(words.contains("Plane rim: PUT ON NOTHING: the plane takes no more. Done"), "{words}");
    assert!(words.contains("Called for: 4.41 g at 220 deg") && !words.contains("Total: 4 g"), "{words}");
}

/// Whatever the last rotor left on a dial is still there.
#[test]
fn a_sheet_that_does_not_say_what_to_set_is_asked_about() {
    let base = include_str!("../data/faulty/base.rotor");
    assert!(base.contains("\"left strength\": 212"));
    let folder = sheet(&base.replacen("\"left strength\": 212", "\"left strength\": ?", 1));
    let ran = answer(&folder, "fan wheel 315 on the soft bench", "no\n");
    let all = format!("{}\n{}", ran.stdout(), ran.stderr()).split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(all.contains("is not to be used: it gives no setting for left strength"), "{all}");
}

const FAN: &str = "fan wheel 315 on the soft bench";

/// What was answered in an earlier session is in the record; `back` tells the line and goes on asking.
#[test]
fn back_tells_the_line_of_the_last_answer_of_an_earlier_session() {
    let folder = shop();
    let first = answer(&folder, FAN, "26-0505\nback\n\noff\n8.8 fine @ 310\n");
    assert!(first.stderr().contains("nothing was answered yet"), "{}", first.stderr());
    let ran = answer(&folder, FAN, "26-0505\nback\n17.4 fine @ 85\n");
    let path = "records/fan-wheel-315-26-0505.rotor";
    let line = folder.read(path).lines().position(|line| line.contains("reading left")).unwrap() + 1;
    let place = format!("{path}:{line}, `reading left: 8.8 mark on fine @ 310 deg`");
    assert!(ran.stderr().contains(&place), "{place}: {}", ran.stderr());
    assert!(folder.read(path).contains("reading right: 17.4 mark on fine @ 85 deg"));
}

#[test]
fn the_panel_is_told_before_the_first_run_and_not_after_it() {
    let folder = shop();
    let said = answer(&folder, FAN, "26-0506\n\noff\n8.8 fine @ 310\n").stdout();
    let at = |words: &str| said.find(words).unwrap_or_else(|| panic!("{words}: {said}"));
    assert!(at("Set the panel, in its order") < at("Serial number"), "{said}");
    // As the sheet of the example book has it; a mark of the fine scale is half a division, as its machine has it.
    for (control, set) in [("left strength", "212"), ("left out of right", "-14"), ("lamp delay", "4 deg")] {
        let is_told = |line: &str| line.split_once(':').is_some_and(|(a, b)| (a.trim(), b.trim()) == (control, set));
        assert!(said.lines().any(is_told), "{control}: {said}");
    }
    assert!(said.contains("1 mark on fine is"), "{said}");
    let said = answer(&folder, "fan wheel 315, 26-0506", "17.4 fine @ 85\n").stdout();
    assert!(!said.contains("Set the panel"), "{said}");
}

/// By hand: a mark is 0.5 div on fine and 5 div on coarse, of 30 marks each. 0.8 mark on coarse is 4 div, below half of the
/// 15 div of fine; 2.8 mark on coarse is 14 div, above.
#[test]
fn a_reading_on_a_coarser_scale_than_it_needs_is_told() {
    let folder = shop();
    let ran = answer(&folder, FAN, "26-0507\n\noff\n0.8 coarse @ 310\n2.8 coarse @ 85\n");
    let said = ran.stderr();
    assert!(said.contains("note: 4.00 div is read on scale coarse, and scale fine shows up to 15.0 div"), "{said}");
    assert!(said.contains("wrong by a factor of 10"), "{said}");
    assert_eq!(said.matches("is read on scale").count(), 1, "{said}");
}

/// Broken off after any answer, the work goes on with the question that would have come.
#[test]
fn a_static_stand_goes_on_where_it_was_broken_off() {
    let name = "belt wheel 500 on the knife edges";
    let answers = ["4", "no", "312", "46", "3", "46 @ 132", "no", "100", "8", "4", "8 @ 280", "yes", "3"];
    let asked = |ran: &crate::support::cli::Ran| {
        let said = ran.stdout();
        said.lines().rfind(|line| line.ends_with(": ?")).unwrap_or_else(|| panic!("{said}")).to_owned()
    };
    for n in 2..=answers.len() {
        let (whole, broken) = (answers[..n].join("\n"), sheet(include_str!("../data/sheets/static-stand.rotor")));
        answer(&broken, name, &format!("{whole}\n"));
        let goes_on = answer(&broken, name, "4\n?\n");
        let folder = sheet(include_str!("../data/sheets/static-stand.rotor"));
        assert_eq!(asked(&goes_on), asked(&answer(&folder, name, &format!("{whole}\n?\n"))), "{n}");
    }
}
