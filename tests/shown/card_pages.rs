//! Pages measured as they are set: how many there are, how large their letters, and that nothing is cut or on top of
//! something else.

use crate::support::cards::{book_with, cards, example_book, harmful, printed};
use rotorbook::book::Computing;
use rotorbook::card::{self, Anchor, Card, Drawing, Fonts, Form, Page, Paper, Sides};
use rotorbook::syntax::Kind;

const PAPERS: [Paper; 2] = [Paper::A4, Paper::Letter];

/// Points in millimetres: 72 to the inch.
const POINT: f64 = 25.4 / 72.0;

/// What is left free on every side: office printers leave 4 mm to 6 mm.
const MARGIN: f64 = 8.5;

/// Texts with the box of their letters: left, top, right, foot.
fn texts(page: &Drawing) -> Vec<(&str, f64, [f64; 4])> {
    placed(page, |_| true)
}

/// Those with a halo, or without one.
fn placed(page: &Drawing, wanted: impl Fn(bool) -> bool) -> Vec<(&str, f64, [f64; 4])> {
    let fonts = Fonts::default();
    let boxed = |form: &'_ Form| match form {
        Form::Text { at, anchor, size, text, strong, .. } => {
            let wide = fonts.width(text, *size, *strong);
            let left = match anchor {
                Anchor::Start => at[0],
                Anchor::Middle => at[0] - wide / 2.0,
                Anchor::End => at[0] - wide,
            };
            // Capitals reach 0.714 of the size up; descenders are thin and may touch a line.
            Some((*size, [left, at[1] - size * 0.714, left + wide, at[1]]))
        }
        _ => None,
    };
    page.shapes
        .iter()
        .filter_map(|shape| {
            let (size, frame) = boxed(&shape.form)?;
            let Form::Text { text, halo, .. } = &shape.form else { return None };
            wanted(*halo).then_some((text.as_str(), size, frame))
        })
        .collect()
}

fn overlap(a: [f64; 4], b: [f64; 4]) -> (f64, f64) {
    (a[2].min(b[2]) - a[0].max(b[0]), a[3].min(b[3]) - a[1].max(b[1]))
}

/// What is wrong with a page.
fn wrong(page: &Drawing) -> Vec<String> {
    let mut wrong = Vec::new();
    let all = texts(page);
    for (n, (text, _, frame)) in all.iter().enumerate() {
        if frame[0] < MARGIN
            || frame[1] < MARGIN
            || frame[2] > page.width - MARGIN + 0.1
            || frame[3] > page.height - MARGIN
        {
            wrong.push(format!("cut: {text:.60} {frame:?}"));
        }
        for (other, _, own) in &all[n + 1..] {
            let (over, under) = overlap(*frame, *own);
            if over > 0.3 && under > 0.5 {
                wrong.push(format!("{text:.60} on {other:.60}"));
            }
        }
    }
    wrong.extend(struck(page));
    wrong
}

/// Texts without a halo that a line runs through.
fn struck(page: &Drawing) -> Vec<String> {
    let plain = placed(page, |halo| !halo);
    let lines = page.shapes.iter().filter_map(|shape| match shape.form {
        Form::Line { from, to, .. } if shape.of.is_empty() => {
            Some([from[0].min(to[0]), from[1].min(to[1]), from[0].max(to[0]), from[1].max(to[1])])
        }
        _ => None,
    });
    let through = |line: [f64; 4]| {
        plain.iter().filter_map(move |(text, _, frame)| {
            let (over, under) = overlap(line, [frame[0] + 0.2, frame[1] + 0.2, frame[2] - 0.2, frame[3] - 0.2]);
            (over >= 0.0 && under >= 0.0).then(|| format!("struck through: {text:.60}"))
        })
    };
    lines.flat_map(through).collect()
}

fn pages(card: &Card, paper: Paper) -> Vec<Page> {
    card::pages(card, paper, &Fonts::default())
}

#[test]
fn nothing_is_cut_and_nothing_on_top_of_something_else() {
    for card in &cards(&example_book()) {
        for paper in PAPERS {
            for page in pages(card, paper) {
                let wrong = wrong(&page.drawing);
                assert!(wrong.is_empty(), "{} {paper:?} {}: {wrong:#?}", card.name, page.number);
            }
        }
    }
}

#[test]
fn the_run_card_is_one_side() {
    let book = example_book();
    let computing = Computing::new(&book);
    let mut count = 0;
    for id in book.items().filter(|id| book.item(*id).kind == Kind::Setup) {
        let card = card::card(&computing, id, &[], &printed(), Sides::Run).unwrap();
        for paper in PAPERS {
            assert_eq!(pages(&card, paper).len(), 1, "{} {paper:?}", card.name);
            count += 1;
        }
    }
    assert!(count >= 26, "{count}");
}

#[test]
fn set_up_cards_and_records_are_short() {
    let mut one_side = 0;
    for card in cards(&example_book()).iter().filter(|card| card.kind != Kind::Rotor) {
        for paper in PAPERS {
            for side in 0..card.sides.len() {
                let count = pages(card, paper).iter().filter(|page| page.side == side).count();
                // What was indexed on an arbor has more to tell than a side holds.
                let most = match card.sides[side].what {
                    "Run card" => 1,
                    "Set-up card" => 3,
                    _ => 2,
                };
                assert!(count <= most, "{} {paper:?}: {} has {count} pages", card.name, card.sides[side].what);
                one_side += usize::from(card.kind == Kind::Record && count == 1);
            }
        }
    }
    assert!(one_side >= 10, "{one_side}");
}

// 9 pt is read at 0.45 m, 16 pt at 0.8 m, 28 pt at 1.4 m: capitals of 1/200 of the distance. Common practice, no source.
#[test]
fn letters_are_as_large_as_their_distance_asks() {
    for card in cards(&example_book()).iter().filter(|card| card.kind == Kind::Setup) {
        for page in pages(card, Paper::A4).iter().filter(|page| page.side == 0) {
            let all = texts(&page.drawing);
            for (text, size, _) in &all {
                assert!(*size >= 9.0 * POINT - 1e-6, "{}: {text} in {size} mm", card.name);
            }
            let has = |least: f64, word: &str| {
                all.iter().any(|(text, size, _)| *size >= least * POINT - 1e-6 && text.contains(word))
            };
            assert!(has(28.0, "within") && has(28.0, "not shown"), "{}", card.name);
            let far = all.iter().filter(|(_, size, _)| *size >= 28.0 * POINT - 1e-6).count();
            assert!(far >= 6, "{}: {far} numbers to be read from afar", card.name);
            assert!(
                all.iter().any(|(_, size, _)| *size >= 16.0 * POINT - 1e-6 && *size < 20.0 * POINT),
                "{}",
                card.name
            );
        }
    }
}

#[test]
fn no_page_has_a_signature_alone() {
    for card in &cards(&example_book()) {
        for page in pages(card, Paper::Letter) {
            let all = texts(&page.drawing);
            let signs = all.iter().any(|(text, ..)| text.contains("Signature"));
            assert!(!signs || all.len() > 15, "{} {}: {all:?}", card.name, page.number);
        }
    }
}

/// A panel that is too long for a side goes on the next, whole.
#[test]
fn a_long_panel_takes_a_second_side() {
    let controls: String = (1..=44).map(|n| format!("  control \"dial {n}\" {{\n    range: 0 to 9\n  }}\n")).collect();
    let settings: String = (1..=44).map(|n| format!("    \"dial {n}\": {}\n", n % 10)).collect();
    let text = format!(
        "shop \"s\" {{\n  format: 1\n}}\nmachine \"m\" {{\n  supports: soft\n\n  readout {{\n    shows: div\n    angles: by strobe\n  \
         }}\n{controls}}}\nrotor \"r\" {{\n  mass: 5 kg\n  highest service speed: 3000 rpm\n\n  plane hub {{\n    at: 10 mm\n    radius: 100 mm\n    \
         correct: remove\n  }}\n\n  tolerance {{\n    total: 50 g·mm\n    planes: one\n  }}\n}}\nsetup \"t\" {{\n  rotor: \"r\"\n  machine: \"m\"\n  \
         balancing speed: 900 rpm\n  channel left: hub\n  indicates: heavy spot\n  tolerance reads: 1 div\n  settings {{\n{settings}  }}\n}}\n"
    );
    let book = crate::support::books::book(&text);
    let (_, id) = book.names_of(Kind::Setup).next().unwrap();
    let card = card::card(&Computing::new(&book), id, &[], &printed(), Sides::Run).unwrap();
    let pages = pages(&card, Paper::A4);
    assert!(pages.len() >= 2);
    let on = |page: &Page| texts(&page.drawing).iter().filter(|(text, ..)| text.starts_with("dial ")).count();
    assert_eq!(pages.iter().map(on).max(), Some(44));
    assert!(pages.iter().all(|page| wrong(&page.drawing).is_empty()));
}

#[test]
fn no_text_breaks_a_page() {
    for text in harmful() {
        for card in &cards(&book_with(&text)) {
            for page in pages(card, Paper::A4) {
                let wrong: Vec<String> =
                    wrong(&page.drawing).into_iter().filter(|wrong| wrong.starts_with("cut")).collect();
                assert!(wrong.is_empty(), "{text:.40} {}: {wrong:#?}", page.number);
            }
        }
    }
}

#[test]
fn a_pdf_has_its_pages_and_only_the_letters_that_it_shows() {
    let card = &cards(&example_book())[0];
    let fonts = Fonts::default();
    for (paper, width, height) in [(Paper::A4, 595.3, 841.9), (Paper::Letter, 612.0, 792.0)] {
        let pages = card::pages(card, paper, &fonts);
        let pdf = card::pdf("card", &pages, &fonts);
        assert!(pdf.starts_with(b"%PDF-") && pdf.len() < 120_000, "{}", pdf.len());
        let text = String::from_utf8_lossy(&pdf);
        assert_eq!(text.matches("/MediaBox").count(), pages.len());
        let size = text.split("/MediaBox [").nth(1).unwrap().split(']').next().unwrap();
        let numbers: Vec<f64> = size.split_whitespace().map(|number| number.parse().unwrap()).collect();
        assert!((numbers[2] - width).abs() < 0.5 && (numbers[3] - height).abs() < 0.5, "{numbers:?}");
    }
}
