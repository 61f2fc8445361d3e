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
    /// In base units.
    pub base: f64,
    pub unit: Unit,
    /// Its standard uncertainty.
    pub standard: f64,
}

impl KeptLimit<'_> {
    /// As its line begins: `limit at bearing a`, `limit in hub`.
    pub fn head(&self) -> String {
        super::void::head(self.fact.words(), self.of)
    }
}

impl<'b> SetupResults<'b> {
    /// The limits that are known, in the order in which they are kept.
    pub fn limits(&self) -> Vec<KeptLimit<'b>> {
        let Some(rotor) = &self.rotor else { return Vec::new() };
        let keys = vocabulary::block(Kind::ProvenWith).keys.iter();
        let kept = keys.filter_map(|key| Some((AnyFact::of_key(key), key.keeps?)));
        kept.flat_map(|(fact, keeps)| self.kept_as(rotor, fact, keeps)).collect()
    }

    /// Whether any is half of the whole, for want of a mass centre.
    pub fn halves_limits(&self) -> bool {
        let limits = self.rotor.iter().flat_map(|rotor| &rotor.limits);
        limits.into_iter().any(|limit| limit.standing == Standing::HalfByDefault)
    }

    /// Those that a fact keeps: one, or one a plane or channel.
    fn kept_as(&self, rotor: &RotorResults<'b>, fact: AnyFact, keeps: Keeps) -> Vec<KeptLimit<'b>> {
        let of = |of: &Of| rotor.limits.iter().find(|limit| limit.of == *of);
        let at_bearings = Bearing::BOTH.iter().any(|bearing| of(&Of::Bearing(*bearing)).is_some());
        let whole = |limit: Option<&Limit>| limit.and_then(|limit| of_value(fact, None, &limit.amount));
        let in_planes = || {
            let planes = rotor.planes.iter().filter_map(|plane| Some((plane, of(&Of::Plane(plane.name.into()))?)));
            planes.filter_map(|(plane, limit)| of_value(fact, plane.block.name, &limit.amount)).collect()
        };
        match keeps {
            Keeps::AtBearing(bearing) => whole(of(&Of::Bearing(bearing))).into_iter().collect(),
            Keeps::Static => whole(of(&Of::Static)).into_iter().collect(),
            Keeps::Couple => of(&Of::Couple).and_then(|limit| of_couple(fact, limit)).into_iter().collect(),
            Keeps::CoupleAbout => match of(&Of::Couple).map(|limit| &limit.acts) {
                Some(Acts::About(place)) => of_value(fact, None, place).into_iter().collect(),
                _ => Vec::new(),
            },
            Keeps::Allowed if at_bearings => {
                let planes = self.calibrations.iter().filter_map(|one| rotor.plane(one.plane));
                planes.filter_map(|plane| of_value(fact, plane.block.name, &plane.tolerance)).collect()
            }
            Keeps::Allowed => in_planes(),
            Keeps::InPlane if at_bearings => in_planes(),
            Keeps::InPlane | Keeps::Halved => Vec::new(),
            Keeps::OnChannel => {
                let channels = self.vibration_limits.iter();
                channels.filter_map(|one| of_value(fact, Some(one.channel), &one.limit)).collect()
            }
        }
    }
}

fn of_value<'b, T: Amount>(fact: AnyFact, of: Option<&'b NameAt>, value: &Val<T>) -> Option<KeptLimit<'b>> {
    let base = value.get()?.raw();
    Some(KeptLimit { fact, of, base, unit: value.unit, standard: value.standard_uncertainty() })
}

fn of_couple<'b>(fact: AnyFact, limit: &Limit) -> Option<KeptLimit<'b>> {
    let base = Acting::About(ARM).acted(limit.amount.get()?).raw();
    Some(KeptLimit { fact, of: None, base, unit: limit.amount.unit, standard: 0.0 })
}
