//! Drawings measured: what they show lies where the sheet says.

use std::sync::Arc;

use crate::support::cards::{cards, drawings, example_book};
use rotorbook::book::{Computing, SourceFile};
use rotorbook::card::{Card, Drawing, Form};
use rotorbook::syntax::Kind;

fn card(name: &str) -> Card {
    cards(&example_book()).into_iter().find(|card| card.name == name).unwrap()
}

fn side_view(card: &Card) -> &Drawing {
    drawings(card).into_iter().find(|drawing| drawing.told.contains("from the side")).unwrap()
}

fn lines(drawing: &Drawing, of: &str) -> Vec<([f64; 2], [f64; 2])> {
    let of = drawing.shapes.iter().filter(|shape| shape.of == of);
    of.filter_map(|shape| if let Form::Line { from, to, .. } = shape.form { Some((from, to)) } else { None }).collect()
}

fn near(found: f64, expected: f64) {
    assert!((found - expected).abs() < 1e-6 * expected.abs().max(1.0), "{found} instead of {expected}");
}

// Planes at 34 mm and 121 mm, radii 131 mm and 141 mm, mass centre between them, journals 25 mm: as the sheet has it.
#[test]
fn the_side_view_is_to_scale_both_ways() {
    let card = card("fan wheel 315 on the soft bench");
    let side = side_view(&card);
    let scale = side.scale.unwrap();
    let (hub, rim) = (lines(side, "plane hub")[0], lines(side, "plane rim")[0]);
    near((rim.0[0] - hub.0[0]) / scale, 121.0 - 34.0);
    near((rim.1[1] - rim.0[1]) / scale, 2.0 * 141.0);
    let largest = lines(side, "largest diameter");
    near((largest[1].0[1] - largest[0].0[1]) / scale, 330.0);
    let height = side.shapes.iter().find_map(|shape| match &shape.form {
        Form::Rectangle { height, .. } if shape.of == "journals" => Some(*height),
        _ => None,
    });
    near(height.unwrap() / scale, 25.0);
    let tip = |of: &str| {
        side.shapes.iter().find_map(|shape| match &shape.form {
            Form::Outline { points, .. } if shape.of == of => Some(points[0]),
            _ => None,
        })
    };
    near((tip("bearing B").unwrap()[0] - tip("bearing A").unwrap()[0]) / scale, 164.0);
    // (2.73 × 0 + 2.09 × 164) ÷ 4.82
    near(((tip("mass centre").unwrap()[0] - tip("bearing A").unwrap()[0]) / scale * 100.0).round(), 7111.0);
}

#[test]
fn the_shaft_reaches_the_planes_that_overhang() {
    let (mut beyond, mut drawn) = (0, 0);
    for card in cards(&example_book()).iter().filter(|card| card.kind == Kind::Rotor) {
        let Some(side) = drawings(card).into_iter().find(|drawing| drawing.told.contains("from the side")) else {
            continue;
        };
        let shafts: Vec<(f64, f64)> = side
            .shapes
            .iter()
            .filter(|shape| shape.of == "journals" || shape.of == "shaft")
            .filter_map(|shape| match shape.form {
                Form::Rectangle { at, width, .. } => Some((at[0], at[0] + width)),
                _ => None,
            })
            .collect();
        if shafts.is_empty() {
            continue;
        }
        drawn += 1;
        beyond += usize::from(shafts.len() > 1);
        let planes = side.shapes.iter().filter(|shape| shape.of.starts_with("plane "));
        for x in planes.filter_map(|shape| if let Form::Line { from, .. } = shape.form { Some(from[0]) } else { None })
        {
            let is_on = shafts.iter().any(|(left, right)| left - 1e-9 <= x && x <= right + 1e-9);
            assert!(is_on, "{}: {x} {shafts:?}", card.name);
        }
    }
    assert!(drawn >= 3 && beyond >= 1, "{drawn} {beyond}");
}

#[test]
fn the_drive_end_is_left() {
    // The keyway of the drive end lies before the first bearing.
    let card = card("fan wheel 315 on the soft bench");
    let side = side_view(&card);
    let text = |words: &str| {
        side.shapes.iter().find_map(|shape| match &shape.form {
            Form::Text { at, text, .. } if text.contains(words) => Some(at[0]),
            _ => None,
        })
    };
    assert!(text("drive end").unwrap() < text("tail end").unwrap());
    assert!(lines(side, "plane hub")[0].0[0] < lines(side, "plane rim")[0].0[0]);
}

// Turning clockwise seen from the drive end and numbered with rotation: place 3 of 8 stands a quarter turn clockwise.
// Turning anticlockwise: place 4 of 12 a quarter turn anticlockwise.
#[test]
fn places_stand_where_they_are_seen() {
    let place = |card: &Card, number: usize, name: &str| {
        let circle = |drawing: &Drawing, of: &str| {
            drawing.shapes.iter().find_map(|shape| match shape.form {
                Form::Circle { at, radius, .. } if shape.of == of => Some((at, radius)),
                _ => None,
            })
        };
        let view = drawings(card).into_iter().find(|drawing| drawing.told.contains(name)).unwrap().clone();
        let (middle, radius) = circle(&view, "radius").unwrap();
        let (at, _) = circle(&view, &format!("place {number}")).unwrap();
        ((at[0] - middle[0]) / radius, (at[1] - middle[1]) / radius)
    };
    let (x, y) = place(&card("fan wheel 315 on the soft bench"), 3, "Plane rim");
    near(x, 1.0);
    near(y, 0.0);
    let (x, y) = place(&card("fan wheel 560 on the soft bench"), 4, "Plane shroud");
    near(x, -1.0);
    near(y, 0.0);
}

// Of the record's first run: 4.4 div of 402.6 g·mm ÷ 8.6 div are 4.398 times the hub's 46.839 g·mm, at 310 deg, angles growing clockwise.
#[test]
fn polar_plots_show_the_runs_where_they_point() {
    let card = card("fan wheel 315, 26-0419");
    let plot = drawings(&card)[0];
    let circle = |of: &str| {
        plot.shapes.iter().find_map(|shape| match shape.form {
            Form::Circle { at, radius, .. } if shape.of == of => Some((at, radius)),
            _ => None,
        })
    };
    let (middle, tolerance) = circle("tolerance").unwrap();
    let (_, tip) = lines(plot, "1")[0];
    let (x, y) = (tip[0] - middle[0], middle[1] - tip[1]);
    near((x.hypot(y) / tolerance * 1e3).round(), 4398.0);
    near(x.atan2(y).to_degrees().rem_euclid(360.0).round(), 310.0);
    // Two holes of 0.78 g at 130.8 mm, either side of the heavy spot, end within the tolerance.
    let (_, left) = *lines(plot, "b").last().unwrap();
    assert!((left[0] - middle[0]).hypot(left[1] - middle[1]) < tolerance);
}

#[test]
fn every_rotor_of_the_examples_has_its_drawings() {
    let book = example_book();
    let computing = Computing::new(&book);
    for card in cards(&book).iter().filter(|card| card.kind == Kind::Rotor) {
        let rotor = computing.rotor(book.find(Kind::Rotor, &card.name).unwrap()).unwrap();
        let drawn = drawings(card).len();
        assert!(drawn == rotor.planes.len() + 1 || drawn == rotor.planes.len(), "{}", card.name);
    }
}

// The reading points at the heavy spot; mass is put on half a turn from it. Plain geometry: place 1 at 0 deg is for what
// is read at 180 deg, place 3 of 8 at 90 deg for 270 deg.
#[test]
fn what_is_read_stands_outside_its_place() {
    let card = card("fan wheel 315 on the soft bench");
    let view = drawings(&card).into_iter().find(|drawing| drawing.told.contains("Plane rim")).unwrap();
    let text = |of: &str| {
        view.shapes.iter().find_map(|shape| match &shape.form {
            Form::Text { text, .. } if shape.of == of => Some(text.as_str()),
            _ => None,
        })
    };
    assert_eq!(text("read for place 1"), Some("180"));
    assert_eq!(text("read for place 3"), Some("270"));
    assert_eq!(text("place 3"), Some("3"));
}

// A plane at 141 mm of a wheel of 400 mm is 14.5 · 141 ÷ 200 = 10.2 mm from the middle on paper: 11 numbers 4.4 mm inside it
// have 3.3 mm each, and 3.2 mm inside it 4.0 mm, which is room for all.
#[test]
fn every_place_has_its_number_where_there_is_room() {
    let book = example_book();
    let file = book.file(book.find(Kind::Rotor, "fan wheel 315").unwrap().file);
    let text = file.text.replace("largest diameter: 330 mm", "largest diameter: 400 mm");
    let text = text.replace("places: 8 from 0 deg", "places: 11 from 0 deg");
    assert!(text.contains("400 mm") && text.contains("places: 11"), "{text}");
    let book = book.with_file(Arc::new(SourceFile::read(&*file.path, text)));
    let card = cards(&book).into_iter().find(|card| card.name == "fan wheel 315 on the soft bench").unwrap();
    let view = drawings(&card).into_iter().find(|drawing| drawing.told.contains("Plane rim")).unwrap();
    for number in 1..=11 {
        let of = format!("place {number}");
        let is_it = |form: &Form| matches!(form, Form::Text { text, .. } if *text == number.to_string());
        assert!(view.shapes.iter().any(|shape| shape.of == of && is_it(&shape.form)), "{number}");
    }
}
