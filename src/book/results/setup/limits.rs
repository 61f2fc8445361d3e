//! The limits of today, as a proof or a record keeps them.

use super::SetupResults;
use crate::book::derive::Val;
use crate::book::results::rotor::limits::{Acts, Limit, Standing};
use crate::book::results::rotor::results::RotorResults;
use crate::mechanics::limits::{ARM, Acting};
use crate::sheet::NameAt;
use crate::syntax::Kind;
use crate::units::{Amount, Unit};
use crate::vocabulary::{self, AnyFact, Bearing, Keeps, Of};

/// One limit that the rotor is judged by.
#[derive(Clone, PartialEq, Debug)]
pub struct KeptLimit<'b> {
    /// The fact that keeps it.
    pub fact: AnyFact,
    /// The plane that it is of.
    pub of: Option<&'b NameAt>,
    /// In base units, with its standard uncertainty; `None` of a limit that stands and cannot be worked out.
    pub amount: Option<(f64, f64)>,
    pub unit: Unit,
}

impl KeptLimit<'_> {
    /// As its line begins: `limit at bearing a`, `limit in hub`.
    pub fn head(&self) -> String {
        super::void::head(self.fact.words(), self.of)
    }
}

impl<'b> SetupResults<'b> {
    /// The limits that stand, known or not, in the order in which they are kept, and what planes were allowed.
    pub fn limits(&self) -> Vec<KeptLimit<'b>> {
        let Some(rotor) = &self.rotor else { return Vec::new() };
        let keys = vocabulary::block(Kind::ProvenWith).keys.iter();
        let kept = keys.filter_map(|key| Some((AnyFact::of_key(key), key.keeps?)));
        kept.flat_map(|(fact, keeps)| self.kept_as(rotor, fact, keeps)).collect()
    }

    /// Whether any is half of the whole, for want of a mass centre.
    pub fn halves_limits(&self) -> bool {
        let mut limits = self.rotor.iter().flat_map(|rotor| &rotor.limits);
        limits.any(|limit| limit.standing == Standing::HalfByDefault && limit.amount.is_known())
    }

    /// Those that a fact keeps: one, or one a plane or channel.
    fn kept_as(&self, rotor: &RotorResults<'b>, fact: AnyFact, keeps: Keeps) -> Vec<KeptLimit<'b>> {
        let of = |of: &Of| rotor.limits.iter().find(|limit| limit.of == *of);
        let at_bearings = Bearing::BOTH.iter().any(|bearing| of(&Of::Bearing(*bearing)).is_some());
        let whole = |limit: Option<&Limit>| limit.map(|limit| of_value(fact, None, &limit.amount));
        let in_planes = || {
            let planes = rotor.planes.iter().filter_map(|plane| Some((plane, of(&Of::Plane(plane.name.into()))?)));
            planes.map(|(plane, limit)| of_value(fact, plane.block.name, &limit.amount)).collect()
        };
        match keeps {
            Keeps::AtBearing(bearing) => whole(of(&Of::Bearing(bearing))).into_iter().collect(),
            Keeps::Static => whole(of(&Of::Static)).into_iter().collect(),
            Keeps::Couple => of(&Of::Couple).map(|limit| of_couple(fact, limit)).into_iter().collect(),
            Keeps::CoupleAbout => match of(&Of::Couple).map(|limit| &limit.acts) {
                Some(Acts::About(place)) => vec![of_value(fact, None, place)],
                _ => Vec::new(),
            },
            Keeps::Allowed if at_bearings => {
                let planes = self.calibrations.iter().filter_map(|one| rotor.plane(one.plane));
                let allowed = planes.map(|plane| of_value(fact, plane.block.name, &plane.tolerance));
                // A share of limits, and no limit of its own.
                allowed.filter(|share| share.amount.is_some()).collect()
            }
            Keeps::Allowed => in_planes(),
            Keeps::InPlane if at_bearings => in_planes(),
            Keeps::InPlane | Keeps::Halved => Vec::new(),
            Keeps::OnChannel => {
                let channels = self.vibration_limits.iter();
                channels.map(|one| of_value(fact, Some(one.channel), &one.limit)).collect()
            }
        }
    }
}

fn of_value<'b, T: Amount>(fact: AnyFact, of: Option<&'b NameAt>, value: &Val<T>) -> KeptLimit<'b> {
    let amount = value.get().map(|amount| (amount.raw(), value.standard_uncertainty()));
    KeptLimit { fact, of, amount, unit: value.unit }
}

fn of_couple<'b>(fact: AnyFact, limit: &Limit) -> KeptLimit<'b> {
    let amount = limit.amount.get().map(|amount| (Acting::About(ARM).acted(amount).raw(), 0.0));
    KeptLimit { fact, of: None, amount, unit: limit.amount.unit }
}
