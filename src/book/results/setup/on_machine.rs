//! What is on the machine beside the rotor, and how its supports carry both.

use super::SetupResults;
use crate::book::derive::Val;
use crate::book::effective::EffectiveBlock;
use crate::mechanics::force::{centrifugal_force, weight};
use crate::mechanics::weighing::{Placed, journal_loads};
use crate::syntax::Kind;
use crate::units::{Amount, Contributions, Force, Mass, Typed};
use crate::vocabulary::extra_mass;
use crate::vocabulary::extra_mass::On;

/// A support that the rotor lifts off, or may lift off.
pub struct Lifting<'b> {
    /// The left one is the first.
    pub side: usize,
    /// Below zero where the rotor lifts off at standstill.
    pub load: Val<Mass>,
    /// Whether that is of the rotor alone: nothing says what the arbor that carries it adds there.
    pub is_without_arbor: bool,
    /// What lifts it in the run where it is above zero: the plane of a mass that is put on, and what that pulls with there.
    pub pull: Option<(&'b str, Force)>,
}

impl<'b> SetupResults<'b> {
    /// The support that does not carry more than its load is known to and than a calibration or trial mass pulls with there.
    pub fn lifts_off(&self) -> Option<Lifting<'b>> {
        let is_without_arbor = self.support_loads.is_none() && self.arbor.is_some();
        let loads = if is_without_arbor { self.loads_of_rotor() } else { self.support_loads.clone() };
        let lifting = |(side, load): (usize, Val<Mass>)| {
            let least = load.get()? - Mass::from_base(load.expanded_uncertainty());
            // What an arbor carries of a pull is not known either.
            let pull = self.pulls(side).filter(|_| least > Mass::ZERO && !is_without_arbor);
            let pull = pull.max_by(|a, b| a.1.raw().total_cmp(&b.1.raw()));
            let most = pull.map_or(Force::from_base(0.0), |(_, force)| force);
            (weight(least).ok()? <= most).then_some(Lifting { side, load, is_without_arbor, pull })
        };
        loads.into_iter().flatten().enumerate().find_map(lifting)
    }

    /// What the supports carry of the rotor alone.
    fn loads_of_rotor(&self) -> Option<[Val<Mass>; 2]> {
        let rotor = self.rotor.as_deref()?;
        let placed = Placed { mass: rotor.mass.get()?, at: rotor.mass_centre.get()? };
        let [left, right] = self.supports_at?;
        let loads = journal_loads(placed, left, right).ok()?;
        Some(loads.map(|load| Val { known: Ok(load), contributions: Contributions::none(), ..rotor.mass.clone() }))
    }

    /// What each mass that is put on for calibration or trials pulls with at a support: `F · |lever|`, one mass at a time.
    /// Source: statics of a beam on two supports; common practice, no source.
    fn pulls(&self, side: usize) -> impl Iterator<Item = (&'b str, Force)> {
        let lever = move |plane: &str| {
            let [left, right] = self.supports_at?;
            let at = self.rotor.as_deref()?.plane(plane)?.at.get()?;
            let span = right - left;
            let own = if side == 0 { (right - at) / span } else { (at - left) / span };
            Some(own.value().abs()).filter(|lever| lever.is_finite())
        };
        let calibrated = self.calibrations.iter().filter_map(|one| Some((one.plane, one.force.get()?)));
        let tried = self.trials.iter().flat_map(|trials| &trials.runs).filter_map(|run| {
            let unbalance = run.put_on.as_ref()?.get()?.amount();
            Some((run.plane?, centrifugal_force(unbalance, run.speed.get()?).ok()?))
        });
        calibrated.chain(tried).filter_map(move |(plane, force)| Some((plane, force * lever(plane)?)))
    }

    /// The extra masses of rotor and setup.
    pub fn extra_masses(&self) -> impl Iterator<Item = &EffectiveBlock<'b>> {
        let rotor = self.rotor.iter().flat_map(|rotor| rotor.block.inner(Kind::ExtraMass));
        rotor.chain(self.block.inner(Kind::ExtraMass))
    }

    /// Those that are put on for the run and may be forgotten: what never comes off cannot be.
    pub fn extra_masses_to_put_on(&self) -> impl Iterator<Item = &EffectiveBlock<'b>> {
        self.extra_masses().filter(|mass| mass.choice(extra_mass::ON).is_some_and(On::is_put_on))
    }

    /// Whether an extra mass is in what is read and not in the rotor, or the other way round; also where nobody says when
    /// it is on.
    pub fn reads_extra_masses(&self) -> bool {
        self.extra_masses().any(|mass| mass.choice(extra_mass::ON).is_none_or(On::is_read_beside))
    }
}
