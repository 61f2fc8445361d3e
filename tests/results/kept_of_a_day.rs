//! What a record keeps of its day, through its proof or by itself, whatever today's sheet says.
//!
//! Numbers by hand, no source but the definition: a division is m · r by the reading that was set with it on.

use crate::proof_as_event::{Sheet, proof, said, told};
use crate::support::books;

/// Whether something is judged at this limit.
fn is_judged(text: &str, of: &str) -> bool {
    books::results(&books::book(text)).iter().any(|(path, _)| *path == format!("record job / verdict at {of}"))
}

// By hand: 0.90 division of 100 g·mm are 90 g·mm in each plane; a quarter of the way in, ¾ · 90 + ¼ · 90 = 90 g·mm at each
// bearing.
#[test]
fn a_kept_limit_outlives_the_fact_that_it_was_kept_of() {
    let verdict = |text: &str, of: &str| said(text, &format!("record job / verdict at {of}"));
    let today = |kept: &str, with: &str, today: &str| {
        let setup = proof("2026-03-02", "10.00 div").replace(kept, with);
        Sheet { setup, ..Sheet::default() }.text().replace("    total: 200 g·mm\n", today)
    };
    // Planes alone were limited.
    let limits =
        "      limit at bearing a: 100 g·mm\n      limit at bearing b: 100 g·mm\n      limit in p1: 100 g·mm\n";
    let in_planes = |of_today| today(limits, "      limit in p1: 80 g·mm\n", of_today);
    let only_second = "    p2: 100 g·mm\n";
    for of_today in ["    p1: 80 g·mm\n    p2: 100 g·mm\n", only_second, "    total: 200 g·mm\n", ""] {
        let text = in_planes(of_today);
        assert_eq!([verdict(&text, "p1"), verdict(&text, "p2")], ["over as read", "within as read"], "{of_today}");
        assert_eq!(said(&text, "record job / verdict"), "over as read");
        assert!(!is_judged(&text, "bearing a"));
    }
    assert_eq!(
        told(&in_planes(only_second), "limit-changed-since"),
        ["p1: over as read by the limit of that day, 80.0 g·mm; today's sheet sets no limit there"]
    );
    let came = told(&in_planes("    total: 200 g·mm\n"), "limit-changed-since");
    assert!(came.contains(&"bearing a: no limit of that day; today's limit there is 100 g·mm".to_owned()), "{came:?}");
    // Bearings were limited, and shared by the planes; where they were is kept as well.
    let bearings = "      bearings: 0 mm, 200 mm\n      limit in p1: 100 g·mm\n";
    let of_bearings =
        |with: &str, of_today| today("      limit in p1: 100 g·mm\n", &format!("{bearings}{with}"), of_today);
    for of_today in ["    total: 200 g·mm\n", "    p1: 80 g·mm\n", ""] {
        for text in [of_bearings("", of_today), of_bearings("", of_today).replacen("  bearings: 0 mm, 200 mm\n", "", 1)]
        {
            assert_eq!(verdict(&text, "bearing a"), "within as read", "{of_today}");
            assert!(said(&text, "record job / measured bearing a").starts_with("90.0"));
            assert!(!is_judged(&text, "p1"), "its share is no limit of its own");
        }
        let text = of_bearings("      limit stated in p1: 80 g·mm\n", of_today);
        assert_eq!(
            [verdict(&text, "p1"), verdict(&text, "bearing a")],
            ["over as read", "within as read"],
            "{of_today}"
        );
    }
    // Half of the whole, for want of a mass centre: the limit is not known, whatever is known of the rotor today.
    let not_known = |with: &str| said(&of_bearings(with, "    total: 200 g·mm\n"), "record job / not assessed");
    assert!(not_known("      limits halved: yes\n").contains("limit") && !not_known("").contains("limit"));
}

#[test]
fn what_a_channel_reads_is_that_of_the_proof() {
    let kept = "      channel left: p1\n      channel right: p2\n      indicates: heavy spot\n      plane p1: 50 mm\n";
    let setup = proof("2026-03-02", "10.00 div").replace("      plane p1: 50 mm\n", kept);
    let text = Sheet { setup, ..Sheet::default() }.text();
    let of_record = |text: &str| said(text, "record job / run last / unbalance p1");
    let swapped = text.replacen("channel left: p1", "channel left: p2", 1);
    let swapped = swapped.replacen("channel right: p2", "channel right: p1", 1);
    assert_eq!(of_record(&swapped), of_record(&text));
    assert_eq!(
        said(&swapped, "setup sheet / calibration"),
        "void: proven with channel left on \"p1\", the sheet now says \"p2\"; proven with channel right on \"p2\", the sheet \
         now says \"p1\""
    );
    let other_spot = text.replacen("  indicates: heavy spot", "  indicates: light spot", 1);
    assert_eq!(of_record(&other_spot), of_record(&text));
    let void = said(&other_spot, "setup sheet / calibration");
    assert_eq!(void, "void: proven with the angle at the heavy spot, the sheet now says light spot");
}

/// The bearings and the sense of the rotor's angles are what limits and readings of the day are understood by.
#[test]
fn bearings_and_the_sense_of_angles_are_those_of_the_proof() {
    let kept = "      bearings: 0 mm, 200 mm\n      angles count: with rotation\n      plane p1: 50 mm\n";
    let setup = proof("2026-03-02", "10.00 div").replace("      plane p1: 50 mm\n", kept);
    let text = Sheet { setup, ..Sheet::default() }.text();
    let calibration = |text: &str| said(text, "setup sheet / calibration");
    assert!(!calibration(&text).starts_with("void"), "{}", calibration(&text));
    for (old, new, void) in [
        (
            "  bearings: 0 mm, 200 mm",
            "  bearings: 200 mm, 0 mm",
            "void: proven with bearings at 0 mm, 200 mm, the sheet now says",
        ),
        (
            "  bearings: 0 mm, 200 mm",
            "  bearings: 0 mm, 180 mm",
            "void: proven with bearings at 0 mm, 200 mm, the sheet now says",
        ),
        (
            "  angles count: with rotation\n  plane",
            "  angles count: against rotation\n  plane",
            "void: proven with angles count with rotation, the sheet now says against rotation",
        ),
    ] {
        let changed = text.replacen(old, new, 1);
        assert_ne!(changed, text, "{old}");
        assert!(calibration(&changed).starts_with(void), "{}", calibration(&changed));
    }
}

/// So are the sense in which the readout counts angles, and the way in which the rotor turns, from whichever end that is seen.
#[test]
fn what_angles_are_read_by_is_that_of_the_proof() {
    let kept = "      readout angles: measured\n      readout counts: with rotation\n      rotation: clockwise seen from drive end\n      \
                plane p1: 50 mm\n";
    let setup = proof("2026-03-02", "10.00 div").replace("      plane p1: 50 mm\n", kept);
    let text = Sheet { setup, ..Sheet::default() }.text();
    let text = text.replacen("  bearings: 0 mm", "  rotation: clockwise seen from drive end\n  bearings: 0 mm", 1);
    let text = text.replacen("reading left: 0.90 div @ 0 deg", "reading left: 0.90 div @ 40 deg", 1);
    let of_record = |text: &str| said(text, "record job / run last / unbalance p1");
    let calibration = |text: &str| said(text, "setup sheet / calibration");
    assert!(!calibration(&text).starts_with("void"), "{}", calibration(&text));
    for (old, new, void) in [
        (
            "    angles count: with rotation\n    angle step",
            "    angles count: against rotation\n    angle step",
            "void: proven with readout counts with rotation, the sheet now says against rotation",
        ),
        (
            "rotation: clockwise seen from drive end\n  bearings",
            "rotation: anticlockwise seen from drive end\n  bearings",
            "void: proven with rotation clockwise seen from drive end, the sheet now says anticlockwise seen from drive end",
        ),
    ] {
        let changed = text.replacen(old, new, 1);
        assert_ne!(changed, text, "{old}");
        assert_eq!(calibration(&changed), void);
        assert_eq!(of_record(&changed), of_record(&text), "{new}");
    }
    let from_the_other_end = "rotation: anticlockwise seen from tail end\n  bearings";
    let same = text.replacen("rotation: clockwise seen from drive end\n  bearings", from_the_other_end, 1);
    assert_ne!(same, text);
    assert_eq!(calibration(&same), calibration(&text));
}

/// Corrections at places are read by the places of the day, and by the way in which they were numbered then.
#[test]
fn places_are_those_of_the_proof() {
    let on_first_plane = "    at: 50 mm\n    radius: 100 mm\n";
    let places = "    places: 12 from 0 deg\n    places numbered: with rotation\n";
    let kept = "      places in p1: 12 from 0 deg\n      places numbered in p1: with rotation\n      plane p1: 50 mm\n";
    let setup = proof("2026-03-02", "10.00 div").replace("      plane p1: 50 mm\n", kept);
    let text = Sheet { setup, ..Sheet::default() }.text();
    let text = text.replacen(on_first_plane, &format!("{on_first_plane}{places}"), 1);
    let text = text.replacen("correct: remove", "correct: either", 1);
    let run = text.find("  run last").unwrap();
    let corrected = "  run first {\n    speed: 1000 rpm\n    calibration masses: off\n    reading left: 1.00 div @ 0 deg\n    \
                     reading right: 0.10 div @ 0 deg\n  }\n  correction p1 {\n    after: first\n    add place 4: 1.000 g\n  }\n";
    let text = format!("{}{corrected}{}", &text[..run], &text[run..]);
    let done = |text: &str| said(text, "record job / correction p1 / done");
    assert!(done(&text).contains("@ 90"), "{}", done(&text));
    for (old, new) in [
        ("    places: 12 from 0 deg\n", "    places: 12 from 30 deg\n"),
        ("    places: 12 from 0 deg\n", "    places: 8 from 0 deg\n"),
        ("    places numbered: with rotation\n", "    places numbered: against rotation\n"),
        (places, ""),
    ] {
        let changed = text.replacen(old, new, 1);
        assert_ne!(changed, text, "{old}");
        assert_eq!(done(&changed), done(&text), "{new}");
        assert!(!said(&changed, "setup sheet / calibration").starts_with("void"), "{new}");
    }
    // What is taken today was free that day.
    let taken = text.replacen(places, &format!("{places}    places used: 4\n"), 1);
    assert_ne!(taken, text);
    assert!(told(&taken, "correction-where-barred").is_empty());
}

// 1 g·mm reads 0.01 div. The run does not say whether calibration masses were off: that matters where there were any.
#[test]
fn the_record_of_a_run_says_which_masses_there_were() {
    let verdict = |kept: &str, has_masses_today: bool| {
        let influence = |channel: &str, plane: &str| {
            format!(
                "    influence {channel} {{\n      speed: 1000 rpm\n      per: 1 g·mm\n      {plane}: 0.01 div @ 0 deg\n    }}\n"
            )
        };
        let limits = "    limit in p1: 100 g·mm\n    limit in p2: 100 g·mm\n";
        let influences = influence("left", "p1") + &influence("right", "p2");
        let record = format!("  as run {{\n    balancing speed: 1000 rpm\n{kept}{limits}{influences}  }}\n");
        let text = Sheet { setup: String::new(), record, ..Sheet::default() }.text();
        let text = text.replace("    calibration masses: off\n", "");
        let (before, after) = text.split_once("  calibrate p1 {").unwrap();
        let (_, after) = after.split_once("record job {").unwrap();
        said(
            &if has_masses_today { text.clone() } else { format!("{before}}}\nrecord job {{{after}") },
            "record job / verdict",
        )
    };
    for has_masses_today in [true, false] {
        assert_eq!(verdict("", has_masses_today), "within as read");
        assert_eq!(verdict("    calibration mass p1: 10.000 g\n", has_masses_today), "not shown");
    }
}
