//! The proven sheets that a new rotor is nearest to, what differs, and why dials may not carry over.
//!
//! Likeness is counted in a few plain terms, so that people can see why one sheet is nearer than another: the number of planes
//! and where they lie, how they are corrected, mass, span, radius, tolerance, speed, and whether the machine takes the rotor at
//! all. The weights are common practice, no source.

mod features;

use crate::book::{Computing, ItemId};
use crate::syntax::Kind;
use crate::vocabulary::machine::Supports;

use features::Features;

/// A proven sheet beside a rotor.
#[derive(Clone, Debug)]
pub struct Near {
    pub setup: ItemId,
    pub name: String,
    /// Zero for the same; a factor of two in mass is 0.7.
    pub distance: f64,
    /// `mass 4.82 kg, this one 6.10 kg`
    pub differs: Vec<String>,
    pub dials: String,
    /// Why its calibration does not hold today.
    pub void: Vec<String>,
}

impl Near {
    /// Whether it is of any use: farther away nothing of it carries over.
    pub fn is_near(&self) -> bool {
        self.distance < 2.5
    }
}

/// So many proven sheets are looked at; a book of more has its latest ones looked at.
const MOST: usize = 300;

/// The proven sheets of a book, nearest first; none of the rotor's own.
pub fn nearest(computing: &Computing<'_>, rotor: ItemId) -> Vec<Near> {
    let book = computing.book();
    let Some(results) = computing.rotor(rotor) else { return Vec::new() };
    let wanted = Features::of(&results, None);
    let setups = book.items().filter(|id| book.item(*id).kind == Kind::Setup);
    let proven: Vec<ItemId> = setups.filter(|id| book.item(*id).inner(Kind::Proof).next().is_some()).collect();
    let looked_at = proven.iter().rev().take(MOST);
    let mut found: Vec<Near> = looked_at.filter_map(|id| near(computing, &wanted, rotor, *id)).collect();
    found.sort_by(|a, b| a.distance.total_cmp(&b.distance).then(a.name.cmp(&b.name)));
    found
}

fn near(computing: &Computing<'_>, wanted: &Features, rotor: ItemId, id: ItemId) -> Option<Near> {
    let setup = computing.setup(id)?;
    let own = setup.rotor.as_deref().filter(|own| own.id != rotor)?;
    let features = Features::of(own, Some(&setup));
    let (mut distance, differs) = features.beside(wanted);
    let void: Vec<String> = setup.void_causes.iter().map(|cause| cause.what.clone()).collect();
    if !void.is_empty() {
        distance += 0.3;
    }
    Some(Near {
        setup: id,
        name: computing.book().item(id).name_text().to_owned(),
        distance,
        dials: dials(setup.supports(), setup.has_calibration_masses(), differs.is_empty()),
        differs,
        void,
    })
}

/// Why dials may not carry over.
fn dials(supports: Option<Supports>, is_calibrated: bool, is_same: bool) -> String {
    match supports {
        _ if is_same => "the dials may hold, and a proof shows it".to_owned(),
        Some(Supports::Hard) if !is_calibrated => {
            "the machine is set up by places and radii: set those of this rotor, and prove them with a mass in each plane".to_owned()
        }
        Some(Supports::Soft | Supports::InPlace) => {
            "on soft supports strength and separation go by mass, inertia and places: take the way of working over, not the \
             dials; calibrate and prove again"
                .to_owned()
        }
        _ => "the settings depend on planes and radii: calibrate and prove again".to_owned(),
    }
}
