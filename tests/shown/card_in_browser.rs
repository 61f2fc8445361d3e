//! Cards as a browser lays them out on A4 and Letter: nothing is cut off, nothing stands on something else. Where no
//! browser is installed these tests say so and prove nothing.

use std::path::{Path, PathBuf};
use std::process::Command;

use crate::support::cards::{book_with, cards, example_book, harmful, printed};
use rotorbook::card::{self, Card, Paper};

/// Paper with the width between its margins, in CSS pixels: (210 mm − 24 mm) and (215.9 mm − 24 mm) at 96 to the inch.
const PAPERS: [(Paper, u32); 2] = [(Paper::A4, 703), (Paper::Letter, 725)];

/// Measures the page and writes what is wrong into it.
const MEASURE: &str = r#"<script>
const wrong = [];
const say = (what, element) => wrong.push(what + ": " + (element.textContent || "").trim().slice(0, 80));
const apart = (a, b) => a.right <= b.left + 1 || b.right <= a.left + 1 || a.bottom <= b.top + 1 || b.bottom <= a.top + 1;
const wide = document.documentElement.clientWidth;
for (const element of document.querySelectorAll("body *")) {
  if (element.closest("svg")) continue;
  const box = element.getBoundingClientRect();
  if (box.right > wide + 1 || box.left < -1) say("cut off at the side", element);
  if (element.scrollWidth > element.clientWidth + 2 && element.clientWidth > 0) say("wider than its place", element);
}
for (const list of document.querySelectorAll("dl, ol.steps, tr, .beside, .kept, section, article, header")) {
  const boxes = [...list.children].map(child => [child, child.getBoundingClientRect()]).filter(([, box]) => box.width > 0);
  boxes.forEach(([child, box], n) => boxes.slice(n + 1).forEach(([other, own]) => {
    if (!apart(box, own)) say("on top of " + other.textContent.slice(0, 40), child);
  }));
}
for (const pair of document.querySelectorAll("dl > div")) {
  const [dt, dd] = [...pair.children].map(child => child.getBoundingClientRect());
  if (!apart(dt, dd)) say("label on its value", pair);
}
for (const drawing of document.querySelectorAll("svg")) {
  const view = drawing.viewBox.baseVal;
  const texts = [...drawing.querySelectorAll("text")].map(text => [text, text.getBBox()]);
  texts.forEach(([text, box], n) => {
    if (box.x < -0.1 || box.y < -0.1 || box.x + box.width > view.width + 0.1 || box.y + box.height > view.height + 0.6)
      say("words outside of their drawing", text);
    texts.slice(n + 1).forEach(([other, own]) => {
      const over = Math.min(box.x + box.width, own.x + own.width) - Math.max(box.x, own.x);
      const under = Math.min(box.y + box.height, own.y + own.height) - Math.max(box.y, own.y);
      if (over > 0.3 && under > 1.1) say("words on " + other.textContent, text);
    });
  });
}
document.body.innerHTML = "";
document.body.append("MEASURED " + JSON.stringify(wrong) + " END");
</script>"#;

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

/// What is wrong with a page on paper of this width.
fn wrong(browser: &Path, page: &str, width: u32) -> Vec<String> {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("page.html");
    // The page's own policy lets nothing run, this measure neither. As on paper: what the style says of screens does not
    // count.
    let page = page.replace("http-equiv=\"Content-Security-Policy\"", "name=\"policy\"");
    let page = page.replace("@media screen", "@media speech").replace("</body>", &format!("{MEASURE}</body>"));
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

fn booklet(cards: &[Card], paper: Paper) -> String {
    card::booklet("All cards", cards, &printed(), Some(paper))
}

#[test]
fn every_card_of_the_examples_fits_its_paper() {
    let Some(browser) = browser() else { return };
    let cards = cards(&example_book());
    assert!(cards.len() >= 35);
    for (paper, width) in PAPERS {
        let wrong = wrong(&browser, &booklet(&cards, paper), width);
        assert!(wrong.is_empty(), "{paper:?}: {wrong:#?}");
    }
}

#[test]
fn no_text_breaks_the_page() {
    let Some(browser) = browser() else { return };
    let cards: Vec<Card> = harmful().iter().flat_map(|text| cards(&book_with(text))).collect();
    let (paper, width) = PAPERS[0];
    let wrong = wrong(&browser, &booklet(&cards, paper), width);
    assert!(wrong.is_empty(), "{wrong:#?}");
}

#[test]
fn printed_sheets_have_the_size_of_the_paper() {
    let Some(browser) = browser() else { return };
    let cards = cards(&example_book());
    // In points, 72 to the inch: 210 mm by 297 mm, and 8.5 in by 11 in.
    for (paper, size) in [(Paper::A4, (595.0, 842.0)), (Paper::Letter, (612.0, 792.0))] {
        let folder = tempfile::tempdir().unwrap();
        let (page, pdf) = (folder.path().join("page.html"), folder.path().join("page.pdf"));
        std::fs::write(&page, card::page(&cards[0], Some(paper))).unwrap();
        let status = headless(&browser, folder.path())
            .args(["--no-pdf-header-footer", &format!("--print-to-pdf={}", pdf.display())])
            .arg(format!("file://{}", page.display()))
            .output()
            .unwrap()
            .status;
        assert!(status.success());
        let pdf = String::from_utf8_lossy(&std::fs::read(pdf).unwrap()).into_owned();
        let boxes: Vec<&str> = pdf.split("/MediaBox [").skip(1).filter_map(|rest| rest.split(']').next()).collect();
        assert!((2..=3).contains(&boxes.len()), "{boxes:?}");
        for found in boxes {
            let numbers: Vec<f64> = found.split_whitespace().map(|number| number.parse().unwrap()).collect();
            assert!((numbers[2] - size.0).abs() < 1.0 && (numbers[3] - size.1).abs() < 1.0, "{numbers:?}");
        }
    }
}
