//! The column of a card as a browser shows it on a telephone: nothing is wider than the screen, nothing is on something
//! else. Where no browser is installed these tests say so and prove nothing.

use std::path::{Path, PathBuf};
use std::process::Command;

use crate::support::cards::{book_with, cards, example_book, harmful, printed};
use crate::support::git::Repo;
use rotorbook::card::{self, Card, Fonts, Paper};

/// The narrowest window that a browser makes, in CSS pixels.
const NARROW: u32 = 500;

/// Measures the column and writes what is wrong into the page.
const MEASURE: &str = r#"<script>
const wrong = [];
const say = (what, element) => wrong.push(what + ": " + (element.textContent || "").trim().slice(0, 80));
const apart = (a, b) => a.right <= b.left + 1 || b.right <= a.left + 1 || a.bottom <= b.top + 1 || b.bottom <= a.top + 1;
const wide = document.documentElement.clientWidth;
for (const element of document.querySelectorAll(".column *")) {
  if (element.closest("svg") || element.closest("table")) continue;
  const box = element.getBoundingClientRect();
  if (box.width > 0 && (box.right > wide + 1 || box.left < -1)) say("cut off at the side", element);
}
for (const list of document.querySelectorAll(".column dl, .column ol.steps, .column section, .column header")) {
  const boxes = [...list.children].map(child => [child, child.getBoundingClientRect()]).filter(([, box]) => box.width > 0);
  boxes.forEach(([child, box], n) => boxes.slice(n + 1).forEach(([other, own]) => {
    if (!apart(box, own)) say("on top of " + other.textContent.slice(0, 40), child);
  }));
}
if (getComputedStyle(document.querySelector(".paper")).display !== "none") wrong.push("the paper is shown");
document.body.innerHTML = "";
document.body.append("MEASURED " + JSON.stringify(wrong) + " END");
</script>"#;

/// The same of versions of cards that stand beside each other, or below each other.
const MEASURE_BESIDE: &str = r#"<script>
const wrong = [];
const wide = document.documentElement.clientWidth;
for (const element of document.querySelectorAll("main *")) {
  if (element.closest("svg") || element.closest("table") || element.closest("details:not([open])")) continue;
  const box = element.getBoundingClientRect();
  if (box.width > 0 && (box.right > wide + 1 || box.left < -1)) wrong.push("cut off: " + element.textContent.slice(0, 80));
}
const tops = [...document.querySelectorAll(".pair .versions")].map(pair => [...pair.children].map(one => one.getBoundingClientRect().top));
if (!tops.length) wrong.push("no pictures");
if (tops.some(([a, b]) => wide < 720 ? a >= b : a !== b)) wrong.push("not side by side, or not below each other");
document.body.innerHTML = "";
document.body.append("MEASURED " + JSON.stringify(wrong) + " END");
</script>"#;

#[test]
fn versions_of_a_card_stand_beside_each_other_and_below_each_other_on_a_telephone() {
    let Some(browser) = browser() else { return };
    let repo = Repo::with_shop("");
    repo.edit("setups/fan-wheel-315.rotor", "\"left strength\": 212", "\"left strength\": 230");
    repo.edit("rotors/fan-wheel-315.rotor", "rotation: clockwise", "rotation: anticlockwise");
    let page = repo.run(&["diff", "--format", "html"]).ends(0).stdout;
    for width in [NARROW, 1400] {
        assert_eq!(measured(&browser, &page, width, MEASURE_BESIDE), Vec::<String>::new(), "{width}");
    }
}

fn browser() -> Option<PathBuf> {
    let named = std::env::var_os("ROTORBOOK_BROWSER").map(PathBuf::from);
    let path = std::env::var_os("PATH").unwrap_or_default();
    let names = ["chromium", "chromium-browser", "google-chrome", "google-chrome-stable"];
    let found = std::env::split_paths(&path).flat_map(|folder| names.map(|name| folder.join(name)));
    let browser = named.or_else(|| found.into_iter().find(|path| path.is_file()));
    if browser.is_none() {
        eprintln!("skipped: no browser is installed");
    }
    browser
}

fn headless(browser: &Path, folder: &Path) -> Command {
    let mut command = Command::new(browser);
    command.args([
        "--headless",
        "--disable-gpu",
        "--no-first-run",
        "--no-sandbox",
        "--hide-scrollbars",
        "--virtual-time-budget=20000",
    ]);
    command.arg(format!("--user-data-dir={}", folder.join("profile").display()));
    command
}

/// What is wrong with a page in a window of this width.
fn wrong(browser: &Path, page: &str, width: u32) -> Vec<String> {
    measured(browser, page, width, MEASURE)
}

fn measured(browser: &Path, page: &str, width: u32, measure: &str) -> Vec<String> {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("page.html");
    // The page's own policy lets nothing run, this measure neither.
    let page = page.replace("http-equiv=\"Content-Security-Policy\"", "name=\"policy\"");
    let page = page.replace("</body>", &format!("{measure}</body>"));
    std::fs::write(&file, page).unwrap();
    let output = headless(browser, folder.path())
        .arg(format!("--window-size={width},1200"))
        .arg("--dump-dom")
        .arg(format!("file://{}", file.display()))
        .output()
        .unwrap();
    let dom = String::from_utf8_lossy(&output.stdout).into_owned();
    let measured = dom.split("MEASURED ").nth(1).and_then(|rest| rest.split(" END").next());
    let measured = measured.unwrap_or_else(|| panic!("nothing measured: {:.2000}", dom));
    let plain = measured.replace("&lt;", "<").replace("&gt;", ">").replace("&amp;", "&");
    serde_json::from_str(&plain).unwrap()
}

fn booklet(cards: &[Card]) -> String {
    card::html("All cards", cards, &printed(), Paper::A4, &Fonts::default())
}

#[test]
fn every_card_of_the_examples_fits_a_telephone() {
    let Some(browser) = browser() else { return };
    let cards = cards(&example_book());
    assert!(cards.len() >= 35);
    let wrong = wrong(&browser, &booklet(&cards), NARROW);
    assert!(wrong.is_empty(), "{wrong:#?}");
}

#[test]
fn no_text_breaks_the_column() {
    let Some(browser) = browser() else { return };
    let cards: Vec<Card> = harmful().iter().flat_map(|text| cards(&book_with(text))).collect();
    let wrong = wrong(&browser, &booklet(&cards), NARROW);
    assert!(wrong.is_empty(), "{wrong:#?}");
}
