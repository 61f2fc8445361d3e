//! A run that reads like a mass of the sheet: nothing is corrected before somebody has looked for it.

use super::cli_balance::{answer, is_whole, shop};
use crate::support::cli::Folder;

const FAN: &str = "fan wheel 315 on the soft bench";
const RECORD: &str = "records/fan-wheel-315-26-0701.rotor";

/// Two runs of the wheel: as found, and corrected as called for.
const BEGINS: &str = "26-0701\n\noff\n8.8 fine @ 310\n17.4 fine @ 85\n\n\n\n";

/// The calibration mass of hub is 3.00 g at 134.2 mm and 0 deg, and reads 8.60 div: 17.2 marks on fine. Of the corrected wheel
/// 0.1 div are left.
const WITH_IT_ON: &str = "off\n17.3 fine @ 1\n0.2 div @ 25\n";

fn words(folder: &Folder, answers: &str) -> String {
    answer(folder, FAN, answers).stdout().split_whitespace().collect::<Vec<_>>().join(" ")
}

const STOP: &str =
    "STOP run `corrected` reads like the calibration mass in plane hub (3.00 g at 0 deg): is it still on?";
const ASKS: &str = "Run corrected reads like the calibration mass in plane hub (3.00 g at 0 deg). Look at the rotor";

#[test]
fn a_calibration_mass_that_is_still_on_is_not_corrected_away() {
    let folder = shop();
    let said = words(&folder, &format!("{BEGINS}{WITH_IT_ON}on\n\n\noff\n0.1 div @ 35\n0.2 div @ 25\nend\n"));
    for part in
        [STOP, ASKS, "calibration masses were on in run `corrected`", "What now (end, again or mount again) [again]"]
    {
        assert!(said.contains(part), "{part}: {said}");
    }
    // Both orders are of the run as found.
    let (first, rest) = said.split_once("Next, from run 2 corrected").unwrap();
    assert!(first.contains("PUT ON") && !rest.contains("PUT ON"), "{rest}");
    is_whole(&folder);
    let text = folder.read(RECORD);
    assert!(text.contains("calibration masses: on"), "{text}");
    // The run with the mass on counts for nothing, and the one without it does.
    assert!(said.contains("of 46.3 g·mm, within"), "{said}");
    assert!(folder.run("check").stdout().matches("run-reads-like-a-mass").count() == 0);
}

/// What reads so twice, with all masses off, is the rotor's own.
#[test]
fn a_rotor_that_reads_so_twice_is_corrected() {
    let folder = shop();
    let said = words(&folder, &format!("{BEGINS}{WITH_IT_ON}off\n\n\noff\n17.3 fine @ 2\n0.2 div @ 25\n"));
    let (before, after) = said.split_once("Next, from run 3 run again").unwrap();
    assert!(before.contains(STOP) && !after.contains("STOP"), "{after}");
    assert!(after.contains("Plane hub DRILL"), "{after}");
}

/// Broken off after the run that reads so: the card says STOP, a check warns, and the work goes on with the question.
#[test]
fn the_card_of_the_record_stops_as_well() {
    let folder = shop();
    words(&folder, &format!("{BEGINS}{WITH_IT_ON}"));
    let card = folder.run_with(&["card", "fan wheel 315, 26-0701"]).stdout();
    let card = card.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(card.contains(STOP), "{card}");
    let found = folder.run("check").stdout().replace('│', " ");
    let found = found.split_whitespace().collect::<Vec<_>>().join(" ");
    let warning =
        "run \"corrected\" reads like the calibration mass in plane hub (3.00 g at 0 deg): it may still be on";
    assert!(found.contains(warning), "{found}");
    assert!(answer(&folder, "fan wheel 315, 26-0701", "on\n").stdout().contains("masses were on in run `corrected`"));
}

/// With the mass half a turn on, where calibration is the mean of both; and a run 15 deg beside it, which is a fourth of it off:
/// 2·sin 7.5 = 0.26.
#[test]
fn a_mass_is_known_at_its_places_alone() {
    for (reads, is_it) in [("17.2 fine @ 180", true), ("17.2 fine @ 345", false), ("13.6 fine @ 0", false)] {
        let said = words(&shop(), &format!("{BEGINS}off\n{reads}\n0.2 div @ 25\n"));
        assert_eq!(said.contains("reads like the calibration mass in plane hub"), is_it, "{reads}: {said}");
    }
}

/// In place, the trial masses come off before the run as found: the fan reads as in the trial with 40 g on the back plate.
#[test]
fn trial_masses_that_stay_on_are_told_by_the_readings_of_their_run() {
    let folder = shop();
    let setup = "fan wheel 560 on the soft bench";
    let ran = answer(&folder, setup, "5518-20\n\noff\n3.8 coarse @ 10\n18.5 fine @ 355\n");
    let said = ran.stdout().split_whitespace().collect::<Vec<_>>().join(" ");
    let stop = "STOP run `as found` reads like the trial mass in plane back plate (40.0 g at 0 deg): is it still on?";
    assert!(said.contains(stop), "{said}");
}
