//! A change of a whole book, and what stands out in it.

use crate::support::git::{ROTOR, Repo, SETUP};

const COUNT: usize = 200;

/// What was done to one sheet only: its number, whether it is the rotor, and the slip.
const SLIPS: [(usize, bool, &str, &str); 10] = [
    (7, true, "grade: G 6.3", "grade: G 16"),
    (23, true, "rotation: clockwise", "rotation: anticlockwise"),
    (42, true, "highest safe speed: 4200 rpm", "highest safe speed: 4700 rpm"),
    (55, false, "  caution: \"lock the cradle before the belt comes off\"\n", ""),
    (61, false, "    \"left strength\": 212", "    \"left strength\": 221"),
    // Signed by somebody else under the old revision.
    (77, false, "revision: \"D\"\n  by: \"fan bay\"", "revision: \"C\"\n  by: \"day shift\""),
    (99, true, "wall at least: 3 mm", "wall at least: 1 mm"),
    (120, false, "    within: 5 %", "    within: 15 %"),
    (150, true, "places: 8 from 0 deg", "places: 9 from 0 deg"),
    (180, false, "indicates: heavy spot", "indicates: light spot"),
];

fn write(repo: &Repo, change: impl Fn(usize, bool, &str) -> String) {
    for n in 0..COUNT {
        let named = |text: &str| text.replace("fan wheel 315", &format!("wheel {n:03}."));
        repo.write(&format!("rotors/{n}.rotor"), &change(n, true, &named(ROTOR)));
        repo.write(&format!("setups/{n}.rotor"), &change(n, false, &named(SETUP)));
    }
}

#[test]
fn ten_slips_among_four_hundred_changes_are_on_the_first_page() {
    let repo = Repo::with_shop("");
    std::fs::remove_file(repo.path("rotors/fan-wheel-315.rotor")).unwrap();
    std::fs::remove_file(repo.path("setups/fan-wheel-315.rotor")).unwrap();
    write(&repo, |_, _, text| text.to_owned());
    repo.commit("four hundred");
    write(&repo, |n, is_rotor, text| {
        let text = text
            .replace("service speed: 3550 rpm", "service speed: 3540 rpm")
            .replace("revision: \"C\"", "revision: \"D\"");
        let slips = SLIPS.iter().filter(|slip| (slip.0, slip.1) == (n, is_rotor));
        slips.fold(text, |text, (_, _, old, new)| {
            assert!(text.contains(old), "{old}");
            text.replacen(old, new, 1)
        })
    });
    let started = std::time::Instant::now();
    let text = repo.run(&["diff"]).ends(0).stdout;
    println!("{} lines in {:?}", text.lines().count(), started.elapsed());
    let lines: Vec<&str> = text.lines().collect();
    for (n, ..) in SLIPS {
        let name = format!("wheel {n:03}.");
        let at = lines.iter().position(|line| line.contains(&name));
        assert!(at.is_some_and(|at| at < 80), "{name} on line {at:?}:\n{}", lines[..lines.len().min(120)].join("\n"));
    }
    assert!(lines.len() < 700, "{} lines", lines.len());
    let markdown = repo.run(&["diff", "--format", "markdown"]).ends(0).stdout;
    assert!(markdown.len() < 60_000, "{}", markdown.len());
    assert!(SLIPS.iter().all(|(n, ..)| markdown.contains(&format!("wheel {n:03}."))));
}
