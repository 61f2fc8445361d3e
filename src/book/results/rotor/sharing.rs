//! A correction plane's share of the rotor's tolerance.

use super::kept::KeptLimits;
use super::limits::{Acts, Limit, LimitAt, PlaneAt, Standing};
use super::share_formula::ShareOf;
use crate::book::derive::Val;
use crate::book::effective::EffectiveBlock;
use crate::book::origin::Reason;
use crate::book::results::values::entry::{Recorder, Spot, origin};
use crate::book::vectors::{Gathered, Numbers};
use crate::mechanics::Computed;
use crate::mechanics::limits::{Row, largest_product, unlimited};
use crate::sheet::FieldValue;
use crate::units::Unbalance;
use crate::vocabulary::{result, rotor};

/// What a plane may keep: as the sheet states it, as all other limits leave it, and what holds of all.
#[derive(Clone, Debug)]
pub(in crate::book::results) struct PlaneTolerance {
    pub stated: Option<Val<Unbalance>>,
    pub shared: Option<Val<Unbalance>>,
    pub holds: Val<Unbalance>,
}

/// Which planes the tolerance is shared by: all, or those that the assembly may be corrected in.
pub(in crate::book::results) fn sharing(rotor: &EffectiveBlock<'_>, blocks: &[EffectiveBlock<'_>]) -> Vec<bool> {
    let only: Option<Vec<&str>> = match rotor.field(rotor::CORRECT_ONLY_IN).map(|field| &field.field.value) {
        Some(FieldValue::Names(names)) => Some(names.iter().map(|name| &*name.text).collect()),
        _ => None,
    };
    blocks.iter().map(|block| only.as_ref().is_none_or(|only| only.contains(&block.name_text()))).collect()
}

/// The planes that share, and the limits that they share.
pub(in crate::book::results) struct Shares<'a, 'b> {
    pub planes: &'a [PlaneAt<'a>],
    pub limits: &'a [Limit],
    /// Those of another day, where these hold.
    pub kept: Option<&'a KeptLimits<'b>>,
}

impl Shares<'_, '_> {
    /// The tolerance of one plane, recorded.
    pub fn tolerance(&self, recorder: &mut Recorder<'_>, spot: &Spot, name: &str) -> PlaneTolerance {
        let own = |limit: &&Limit| matches!(limit.acts, Acts::InPlane) && limit.of.plane() == Some(name);
        let stated = self.limits.iter().filter(own).find(|limit| limit.standing == Standing::Stated);
        let stated = stated.map(|limit| limit.amount.clone());
        let all: Vec<&Limit> = self.limits.iter().collect();
        let of_others: Vec<&Limit> = self
            .limits
            .iter()
            .filter(|limit| limit.standing != Standing::Stated || !matches!(limit.acts, Acts::InPlane))
            .collect();
        let holds = self.share(recorder, spot, name, &all);
        let holds = self.kept.map_or_else(|| holds.clone(), |kept| kept.allowed(name, holds.clone()));
        let shared = (!of_others.is_empty()).then(|| self.share(recorder, spot, name, &of_others));
        recorder.keep(spot, &result::PLANE_TOLERANCE, &holds);
        let holds = Val { origin: origin(spot, &result::PLANE_TOLERANCE), ..holds };
        PlaneTolerance { stated, shared, holds }
    }

    /// What the largest product of all shares gives one plane.
    fn share(&self, recorder: &Recorder<'_>, spot: &Spot, name: &str, limits: &[&Limit]) -> Val<Unbalance> {
        let unit = recorder.facts.shop.unbalance_unit;
        let here = origin(spot, &result::PLANE_TOLERANCE);
        let missing = |why: String| Val::missing(here.clone(), Reason::Impossible(why.into()), unit);
        let own = limits.iter().rfind(|limit| limit.of.plane() == Some(name) && limit.standing == Standing::Stated);
        let Some(n) = self.planes.iter().position(|(plane, _)| *plane == name) else {
            // It shares nothing with the others: what is stated of it holds of it alone.
            return own
                .map_or_else(|| missing("the plane does not share the tolerance".into()), |own| own.amount.clone());
        };
        if limits.is_empty() {
            return missing("the rotor has no tolerance".into());
        }
        let mut gathered = Gathered::new().steepest();
        let at: Vec<LimitAt> = limits.iter().map(|limit| limit.gather(&mut gathered, self.planes)).collect();
        let rows = |numbers: &Numbers| at.iter().map(|limit| limit.row(numbers)).collect::<Computed<Vec<Row>>>();
        let found = gathered.numbers().and_then(|numbers| rows(&numbers).ok());
        if let Some(plane) = found.as_ref().and_then(|rows| unlimited(rows, self.planes.len())) {
            let (plane, _) = self.planes[plane];
            return missing(format!(
                "nothing limits plane {plane}: a limit of the whole rotor, or of this plane, is missing"
            ));
        }
        let share = |numbers: &Numbers| Ok(largest_product(&rows(numbers)?, self.planes.len())?[n]);
        let value: Val<Unbalance> = gathered.work_out_one((here.clone(), unit), None, share);
        let of = ShareOf { limits, planes: self.planes, rows: found.as_deref().unwrap_or_default(), n };
        let derivation = recorder.facts.explains.then(|| of.explained(&value));
        let unit = own.filter(|own| value.get() == own.amount.get()).map_or(unit, |own| own.amount.unit);
        Val { derivation, unit, ..value }
    }
}
