//! What is on the machine beside the rotor, and how its supports carry both.

use super::SetupResults;
use crate::book::derive::Val;
use crate::book::effective::EffectiveBlock;
use crate::syntax::Kind;
use crate::units::Mass;
use crate::vocabulary::extra_mass;
use crate::vocabulary::extra_mass::On;

impl<'b> SetupResults<'b> {
    /// The support that the rotor lifts off, left first, and the load on it, which is below zero.
    pub fn lifts_off(&self) -> Option<(usize, &Val<Mass>)> {
        let loads = self.support_loads.iter().flatten().enumerate();
        loads.into_iter().find(|(_, load)| load.get().is_some_and(|load| load < Mass::ZERO))
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
