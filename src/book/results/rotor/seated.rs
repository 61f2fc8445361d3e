//! What parts put into the planes of an assembly by how they sit on it: by their fits and their faces, at angles that
//! nobody knows.

use super::assembly::place_of;
use super::results::PartResults;
use crate::book::results::values::entry::Recorder;
use crate::book::vectors::VectorVal;
use crate::mechanics::clocking::in_planes;
use crate::units::{Contributions, Length, Part, Place, Source, Typed, Unbalance, Vector};
use crate::vocabulary::{AnyFact, made_of};

/// One amount that may point anywhere, as it acts in each plane.
pub(super) struct Loose {
    of: Place,
    nth: usize,
    in_planes: Vec<Unbalance>,
}

/// One for each fit and each face; of parts that there are several of, one each.
pub(super) fn loose(recorder: &Recorder<'_>, parts: &[PartResults<'_>], planes: &[Length]) -> Vec<Loose> {
    let mut all = Vec::new();
    for part in parts {
        let mut push = |fact: AnyFact, in_planes: Vec<Unbalance>| {
            let Some(field) = part.block.field(fact) else { return };
            let of = field.item.file.place(field.field.value_span);
            all.extend((0..part.quantity as usize).map(|nth| Loose { of, nth, in_planes: in_planes.clone() }));
        };
        if let Some(fit) = part.fit.as_ref().and_then(|fit| fit.get()) {
            let along = |at: Length| in_planes(&[(Vector { x: fit, y: Unbalance::ZERO }, at)], planes).ok();
            let shares = place_of(recorder, part).get().and_then(along);
            // Of a part whose place is not known, all of it may act in each plane.
            let shares = shares.map(|shares| shares.into_iter().map(|share| share.x).collect());
            push(made_of::FIT_CLEARANCE.any(), shares.unwrap_or_else(|| vec![fit; planes.len()]));
        }
        if let (Some(couple), [first, second]) = (part.runout.as_ref().and_then(|couple| couple.get()), planes) {
            let of_couple = Unbalance::from_base(couple.base() / (*second - *first).base());
            push(made_of::FACE_RUNOUT.any(), vec![of_couple * -1.0, of_couple]);
        }
    }
    all
}

/// Adds to what is known in a plane, by its number, what is not known there: of an amount at any angle each component is
/// known to a/√2, the mean square of a cosine.
pub(super) fn add_to(vector: &mut VectorVal<Unbalance>, plane: usize, loose: &[Loose]) {
    for one in loose {
        let standard = one.in_planes[plane].base() / 2f64.sqrt();
        for (component, own) in vector.contributions.iter_mut().enumerate() {
            let source = Source::Written { at: one.of, nth: 2 * one.nth + component, part: Part::Residual };
            own.add(&Contributions::of(source, 1.0), standard);
        }
    }
}
