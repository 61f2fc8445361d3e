//! What a card begins with: what is never to be passed, and what holds the rotor down.

use crate::cli_balance::{answer, shop};
use crate::support::cli::Folder;

fn card(folder: &Folder, name: &str, side: &str) -> String {
    let text = folder.run_with(&["card", name, "--kind", "setup", side]).stdout();
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// 41.6 kg with its centre 509.2 mm from the left support, supports 380 mm apart: 41.6 · (380 − 509.2) ÷ 380 = −14.1 kg. Statics.
#[test]
fn an_overhung_rotor_is_held_down_on_both_cards() {
    let folder = shop();
    for side in ["--run", "--set-up"] {
        let card = card(&folder, "fan wheel 560 on the soft bench", side);
        let words = "CAUTION HOLD DOWN the left journal: it lifts with 14.1 kg: hold-down roller, closed before the cradle is freed.";
        let (first, _) = card.split_once("CAUTION").unwrap();
        assert!(card[first.len()..].starts_with(words), "{side}: {card}");
    }
    let lies = card(&folder, "fan wheel 315 on the soft bench", "--run");
    assert!(!lies.contains("HOLD DOWN"), "{lies}");
}

/// The same words come before the first question; a rotor that lifts and is not said to be held down is not balanced at all.
#[test]
fn balance_begins_with_the_cautions_of_the_card_and_refuses_what_can_hurt() {
    let folder = shop();
    let said = |folder: &Folder, setup: &str| {
        let ran = answer(folder, setup, "5518-7\n");
        let all = format!("{}\n{}", ran.stdout(), ran.stderr());
        (ran, all.split_whitespace().collect::<Vec<_>>().join(" "))
    };
    let (_, words) = said(&folder, "fan wheel 560 on the soft bench");
    let (before, _) = words.split_once("Serial number").unwrap();
    assert!(before.contains("HOLD DOWN the left journal: it lifts with 14.1 kg: hold-down roller"), "{words}");
    assert!(before.contains("Guard closed and eyes protected"), "{words}");
    let path = "setups/fan-wheel-560-soft-bench.rotor";
    let text = folder.read(path);
    let line = text.lines().find(|line| line.trim_start().starts_with("held down by")).unwrap();
    folder.write(path, text.replacen(&format!("{line}\n"), "", 1).as_bytes());
    let (ran, words) = said(&folder, "fan wheel 560 on the soft bench");
    ran.ends(2);
    assert!(words.contains("lifts off the left support") && words.contains("is not to be run"), "{words}");
    assert!(!words.contains("Serial number"), "{words}");
}

/// In place it is vibration that is judged, and that a meter shows.
#[test]
fn in_place_the_card_says_what_no_channel_may_read_at_the_end() {
    let text = include_str!("../data/sheets/channel-over-at-every-angle.rotor").split("\nrecord ").next().unwrap();
    let book = ("book.rotor", "shop \"Tern Quay Rotor Shop\" {\n  format: 1\n}\n");
    let folder = Folder::with(&[book, ("sheets.rotor", text)]);
    let name = text.lines().find_map(|line| line.strip_prefix("setup ")?.strip_suffix(" {")).unwrap();
    let card = card(&folder, name.trim_matches('"'), "--run");
    assert!(card.contains("At the end, never above: left | right: 1 | 1 mm/s"), "{card}");
    assert!(card.contains("never above: left 1 mm/s; right 1 mm/s"), "{card}");
}
