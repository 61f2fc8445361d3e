//! The limits of a day, as a proof or a record has kept them. One that stood and was not known is never gone: it is judged, and
//! not known.

use super::base::Base;
use super::limits::{Acts, Limit, Standing, as_unbalance};
use crate::book::derive::Val;
use crate::book::effective::{EffectiveBlock, EffectiveField};
use crate::book::origin::Reason;
use crate::book::readers::Facts;
use crate::units::{Amount, Couple, Length, Unbalance, Unit};
use crate::vocabulary::{Bearing, Keeps, Of, YesNo, proven_with};

/// The limits that a rotor had that day. Where any is kept, a limit of today judges nothing.
pub(in crate::book::results) struct KeptLimits<'b> {
    limits: Vec<(Of, Val<Unbalance>)>,
    /// What planes were allowed.
    allowed: Vec<(&'b str, Val<Unbalance>)>,
    /// Bearings were limited, and what a plane was allowed is its share of that.
    at_bearings: bool,
    /// It says where the bearings were, so that nothing of today tells which of its amounts are limits.
    says_all: bool,
    halved: bool,
    couple_about: Option<Val<Length>>,
}

impl<'b> KeptLimits<'b> {
    /// `None` where no limit is kept.
    pub fn of(facts: &Facts<'b>, kept: &EffectiveBlock<'b>) -> Option<Self> {
        if !keeps_any(kept) {
            return None;
        }
        let fields = || kept.fields.iter().filter_map(|field| Some((*field, field.key.keeps?)));
        let at_bearings = fields().any(|(_, keeps)| matches!(keeps, Keeps::AtBearing(_)));
        let says_all = kept.field(proven_with::BEARINGS).is_some() || !at_bearings;
        let halved = kept.choice(proven_with::LIMITS_HALVED) == Some(YesNo::Yes);
        let (limits, allowed, couple_about) = Default::default();
        let mut found = Self { limits, allowed, at_bearings, says_all, halved, couple_about };
        for (field, keeps) in fields() {
            let name = field.field.name.as_ref().map_or("", |name| &*name.text);
            let of = match keeps {
                Keeps::AtBearing(bearing) => Of::Bearing(bearing),
                Keeps::Static => Of::Static,
                Keeps::Couple => {
                    found.limits.push((Of::Couple, as_unbalance(&amount::<Couple>(facts, kept, field))));
                    continue;
                }
                Keeps::CoupleAbout => {
                    found.couple_about = Some(amount(facts, kept, field));
                    continue;
                }
                Keeps::Allowed => {
                    found.allowed.push((name, amount(facts, kept, field)));
                    if at_bearings {
                        continue;
                    }
                    Of::Plane(name.into())
                }
                Keeps::InPlane => Of::Plane(name.into()),
                Keeps::OnChannel | Keeps::Halved => continue,
            };
            found.limits.push((of, amount(facts, kept, field)));
        }
        Some(found)
    }

    /// As they are judged, with those of `today` that cannot be worked out. Where it is not kept where the bearings were, the limits of `today` tell whether bearings or planes were
    /// limited, and which planes beside bearings; and that half of the whole was taken.
    pub fn limits(&self, base: &Base<'_>, today: &[Limit]) -> Vec<Limit> {
        let of_today = |of: &Of| today.iter().find(|limit| limit.of == *of);
        let limit = |of: &Of, amount: &Val<Unbalance>| {
            let (acts, standing) = match of {
                Of::Bearing(bearing) => {
                    let n = usize::from(*bearing == Bearing::B);
                    (Acts::AtBearing(n, Box::new(base.bearings.clone())), Standing::ByRule)
                }
                Of::Static => (Acts::Sum, Standing::Stated),
                Of::Couple => {
                    let about = self.couple_about.as_ref().unwrap_or(base.mass_centre);
                    (Acts::About(Box::new(about.clone())), Standing::Stated)
                }
                _ => (Acts::InPlane, Standing::ByRule),
            };
            let by_default = || of_today(of).is_some_and(|limit| limit.standing == Standing::HalfByDefault);
            let halved = matches!(standing, Standing::ByRule) && (self.halved || !self.says_all && by_default());
            let standing = if halved { Standing::HalfByDefault } else { standing };
            Limit { of: of.clone(), amount: amount.clone(), acts, standing }
        };
        let own = self.limits.iter();
        let is_kept = |of: &Of| self.limits.iter().any(|(kept, _)| kept == of);
        let not_known = today.iter().filter(|limit| !limit.amount.is_known() && !is_kept(&limit.of)).cloned();
        if self.says_all {
            return own.map(|(of, amount)| limit(of, amount)).chain(not_known).collect();
        }
        let is_of_today = |kind: fn(&Of) -> bool| today.iter().any(|limit| kind(&limit.of));
        let in_planes = !is_of_today(|of| matches!(of, Of::Bearing(_))) && is_of_today(|of| of.plane().is_some());
        let own = own.filter(|(of, _)| !in_planes || !matches!(of, Of::Bearing(_)));
        let is_stated = |of: &Of| of_today(of).is_some_and(|limit| limit.standing == Standing::Stated);
        let planes = self.allowed.iter().map(|(name, amount)| (Of::Plane((*name).into()), amount));
        let planes = planes.filter(|(of, _)| in_planes || is_stated(of));
        let mut limits: Vec<Limit> = own.map(|(of, amount)| limit(of, amount)).collect();
        limits.extend(planes.map(|(of, amount)| limit(&of, amount)));
        limits.extend(not_known.filter(|limit| limits.iter().all(|own| own.of != limit.of)).collect::<Vec<_>>());
        limits
    }

    /// What a plane was allowed: as it is kept beside limits at the bearings, else its share of the limits that are.
    pub fn allowed(&self, plane: &str, share: Val<Unbalance>) -> Val<Unbalance> {
        let kept = self.allowed.iter().find(|(name, _)| *name == plane).map(|(_, amount)| amount);
        kept.filter(|_| self.at_bearings || !share.is_known()).cloned().unwrap_or(share)
    }

    /// What each bearing was allowed.
    pub fn at_bearings(&self, today: &[Val<Unbalance>; 2]) -> [Val<Unbalance>; 2] {
        let at = |n: usize| self.limits.iter().find(|(of, _)| *of == Of::Bearing(Bearing::BOTH[n]));
        [0, 1].map(|n| {
            at(n).map_or_else(
                || {
                    let why = Reason::Impossible("no limit of that day is kept there".into());
                    Val::missing(today[n].origin.clone(), why, Unit::GRAM_MILLIMETRE)
                },
                |(_, amount)| amount.clone(),
            )
        })
    }
}

/// Whether any limit of the day is kept; then a limit that came later judges nothing.
pub(in crate::book::results) fn keeps_any(kept: &EffectiveBlock<'_>) -> bool {
    kept.fields.iter().any(|field| field.key.keeps.is_some())
}

fn amount<'b, T: Amount>(facts: &Facts<'b>, kept: &EffectiveBlock<'b>, field: EffectiveField<'b>) -> Val<T> {
    facts.quantity_of(kept, field, facts.origin_of(kept, field))
}
