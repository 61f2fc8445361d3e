//! The formula that a plane's share comes to: where one limit, or two, decide it, theirs.

use std::sync::Arc;

use super::limits::{Acts, Limit, PlaneAt};
use crate::book::derive::{Derivation, Input, Val};
use crate::book::formulas::{self as by, Formula};
use crate::mechanics::limits::Row;
use crate::units::{self, Amount, Length, Unbalance};

/// One plane's share, with the limits that it was found by.
pub(in crate::book::results) struct ShareOf<'s, 'v> {
    pub limits: &'s [&'s Limit],
    pub planes: &'s [PlaneAt<'v>],
    /// One a limit; empty where one of them is not known.
    pub rows: &'s [Row],
    /// The plane.
    pub n: usize,
}

type Explained = (&'static Formula, Vec<Input>);

/// A limit at a bearing, with its row, its own bearing and the other.
struct AtBearing<'s> {
    limit: &'s Limit,
    row: &'s Row,
    own: &'s Val<Length>,
    other: &'s Val<Length>,
}

impl ShareOf<'_, '_> {
    pub fn explained(&self, share: &Val<Unbalance>) -> Arc<Derivation> {
        let by_all = || (&by::LARGEST_PRODUCT, self.limits.iter().map(|limit| limit.amount.input()).collect());
        let (formula, inputs) = share.get().and_then(|share| self.decided(share)).unwrap_or_else(by_all);
        Arc::new(Derivation { formula, inputs: inputs.into() })
    }

    fn decided(&self, share: Unbalance) -> Option<Explained> {
        let at: [Option<AtBearing<'_>>; 2] = [0, 1].map(|n| self.at_bearing(n));
        self.in_plane(share)
            .or_else(|| at.iter().flatten().find_map(|at| self.by_one(at, share)))
            .or_else(|| self.by_both(at[0].as_ref()?, at[1].as_ref()?, share))
    }

    /// By a limit of the plane itself.
    fn in_plane(&self, share: Unbalance) -> Option<Explained> {
        let name = self.planes[self.n].0;
        let mut own =
            self.limits.iter().filter(|limit| matches!(limit.acts, Acts::InPlane) && limit.of.plane() == Some(name));
        let limit = own.find(|limit| limit.amount.get().is_some_and(|limit| same(limit, share)))?;
        let stated = || (&by::PLANE_AS_GIVEN, vec![limit.amount.input()]);
        Some(limit.amount.derivation.as_ref().map_or_else(stated, |from| (from.formula, from.inputs.to_vec())))
    }

    /// All that one bearing leaves the only plane, or half of it for one of two.
    fn by_one(&self, at: &AtBearing<'_>, share: Unbalance) -> Option<Explained> {
        let alone = at.row.limit() / at.row.lever(self.n).value().abs();
        let formula = match self.planes.len() {
            1 if same(alone, share) => &by::PLANE_BY_ONE_BEARING,
            2 if same(alone * 0.5, share) => &by::HALF_OF_ONE_BEARING,
            _ => return None,
        };
        let own = self.planes[self.n].1;
        Some((formula, vec![at.limit.amount.input(), at.own.input(), at.other.input(), own.input()]))
    }

    /// What uses up both bearings.
    fn by_both(&self, a: &AtBearing<'_>, b: &AtBearing<'_>, share: Unbalance) -> Option<Explained> {
        let (n, other) = (self.n, 1_usize.checked_sub(self.n).filter(|_| self.planes.len() == 2)?);
        let lever = |at: &AtBearing<'_>, plane: usize| at.row.lever(plane).value().abs();
        let determinant = lever(a, n) * lever(b, other) - lever(a, other) * lever(b, n);
        let crossing = (a.row.limit() * lever(b, other) - b.row.limit() * lever(a, other)) / determinant;
        let places = [a.own.input(), b.own.input(), self.planes[n].1.input(), self.planes[other].1.input()];
        let inputs = [a.limit.amount.input(), b.limit.amount.input()].into_iter().chain(places).collect();
        same(crossing, share).then_some((&by::PLANE_BY_TWO_EQUATIONS, inputs))
    }

    fn at_bearing(&self, n: usize) -> Option<AtBearing<'_>> {
        self.limits.iter().zip(self.rows).find_map(|(limit, row)| match &limit.acts {
            Acts::AtBearing(at, bearings) if *at == n => {
                Some(AtBearing { limit, row, own: &bearings[n], other: &bearings[1 - n] })
            }
            _ => None,
        })
    }
}

fn same(one: Unbalance, other: Unbalance) -> bool {
    units::is_same(one.raw(), other.raw())
}
