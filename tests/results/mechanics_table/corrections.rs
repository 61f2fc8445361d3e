//! Rows on taking material off and putting masses on.

use super::row::{Outcome, Row};
use rotorbook::mechanics::correction::Piece;
use rotorbook::mechanics::correction::arc::{Arc, ground_arc, ground_arc_depth};
use rotorbook::mechanics::correction::drilling::{Drill, radial_hole, radial_hole_depth};
use rotorbook::mechanics::correction::places::{Numbering, equally_spaced};
use rotorbook::mechanics::correction::spread::{Way, over_ways};
use rotorbook::units::{Angle, Density, Length, Mass, Vector};

pub fn outcome(row: &Row) -> Option<Outcome> {
    Some(match row.what.as_str() {
        "radial_hole" => radial(row),
        "radial_hole_depth" => {
            let depth = radial_hole_depth(drill(row), row.get("U"), row.get("R"), row.get("density")).unwrap();
            Outcome::default().with("depth", depth)
        }
        "ground_arc" => arc(row),
        "split" => split_on_places(row),
        "combine" => {
            let sum: Vector<Mass> = row.vectors("masses").into_iter().sum();
            Outcome::default().vector("m", "angle", sum)
        }
        _ => return None,
    })
}

fn drill(row: &Row) -> Drill {
    Drill { diameter: row.get("d"), point_angle: row.get("tip") }
}

fn piece(piece: Piece) -> Outcome {
    Outcome::default().with("m", piece.mass).with("r", piece.radius).with("U", piece.unbalance)
}

fn radial(row: &Row) -> Outcome {
    let density = row.get::<Density>("density");
    let hole = radial_hole(drill(row), row.get("depth"), row.get("R"), density).unwrap();
    piece(hole).with("h", drill(row).tip_height().unwrap()).with("V", hole.mass / density)
}

fn arc(row: &Row) -> Outcome {
    let (depth, density) = (row.get::<Length>("depth"), row.get::<Density>("density"));
    let arc = Arc { surface_radius: row.get("R"), width: row.get("w"), full_angle: row.get("full arc") };
    let ground = ground_arc(arc, depth, density).unwrap();
    let back = ground_arc_depth(arc, ground.unbalance, density).unwrap();
    assert!((back - depth).abs() <= depth * 1e-12, "{}: the depth does not come back", row.id);
    piece(ground)
}

fn split_on_places(row: &Row) -> Outcome {
    let wanted: Vector<Mass> = row.vectors("wanted")[0];
    let places = equally_spaced(row.number("places") as u32, Angle::ZERO, Numbering::WithAngles).unwrap();
    let ways: Vec<Way<Mass>> = places.into_iter().map(|angle| Way::new(angle, None)).collect();
    let spread = over_ways(wanted, &ways).unwrap();
    assert!(spread.left.amount() <= wanted.amount() * 1e-12, "{}", row.id);
    let [(first, at_first), (second, at_second)] = spread.shares[..] else { panic!("{}: {spread:?}", row.id) };
    Outcome::default()
        .with("first", at_first)
        .with("second", at_second)
        .with("first angle", ways[first].angle)
        .with("second angle", ways[second].angle)
}
