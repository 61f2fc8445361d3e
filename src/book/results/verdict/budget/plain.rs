//! Lines that are said or not: keys, masses left on, drive; and what places and limits are known to.

use super::classes::{Class, of_class};
use super::line::{At, Known, Line, Sources, group};
use crate::book::results::rotor::limits::{Acts, Standing};
use crate::book::results::values::entry::Recorder;
use crate::mechanics::budget::Part;
use crate::syntax::Kind;
use crate::units::{Typed, Unbalance};
use crate::vocabulary::shop::BudgetLine;
use crate::vocabulary::tolerance::PlanesBalanced;
use crate::vocabulary::{Choice, keyway, machine, machine::Drive, result, tolerance};

impl<'b> Sources<'_, 'b> {
    /// Half keys and whole keys: the convention, where the rotor has keyways.
    pub(super) fn keys(&self) -> Line {
        let name = BudgetLine::Keys.words();
        let keyways = self.runner.setup.rotor.as_ref().map_or(&[][..], |rotor| &rotor.keyways);
        if keyways.is_empty() {
            return Line::new(name, Known::DoesNotApply, "the rotor states no keyway");
        }
        match keyways.iter().find(|one| !one.block.says(keyway::KEY)) {
            Some(one) => Line::new(name, Known::NotKnown, format!("keyway {} does not say what fills it", one.name)),
            None => Line::new(name, Known::Stated, "the rotor says what fills its keyways"),
        }
    }

    pub(super) fn masses(&self) -> Line {
        let name = BudgetLine::Masses.words();
        if self.runner.setup.has_calibration_masses() {
            Line::new(name, Known::Stated, "the runs say that calibration masses were off")
        } else {
            Line::new(name, Known::DoesNotApply, "the setup has no calibration masses")
        }
    }

    pub(super) fn drive(&self) -> Line {
        let name = BudgetLine::Drive.words();
        if self.runner.setup.is_on_stand() {
            return Line::new(name, Known::DoesNotApply, "on a static stand nothing drives the rotor");
        }
        let machine = self.runner.setup.machine.as_ref();
        match machine.and_then(|machine| machine.block.choice(machine::DRIVE)) {
            Some(Drive::End) => Line::new(name, Known::NotKnown, "an end drive turns with the rotor"),
            Some(Drive::Belt | Drive::Air | Drive::Own) => {
                Line::new(name, Known::DoesNotApply, "nothing of the drive turns with the rotor")
            }
            None => Line::new(name, Known::NotKnown, "the machine does not say what drives the rotor"),
        }
    }

    /// Places of planes and bearings, mass centre.
    pub(super) fn levers(&self, recorder: &Recorder<'b>, at: &At<'_, '_>) -> Line {
        let name = BudgetLine::Levers.words();
        let standard = of_class(recorder.facts.book, &at.judged.measured.contributions, Class::Levers);
        let part = Part::known_to(Unbalance::from_base(standard), group(1, 0));
        Line::new(name, Known::ByDefault, "what the places along the rotor are known to").with([part])
    }

    /// What is taken out of readings or put into what is judged; nothing where there is no such mass.
    pub(super) fn extra_masses(&self, recorder: &Recorder<'b>, at: &At<'_, '_>) -> Option<Line> {
        let standard = of_class(recorder.facts.book, &at.judged.measured.contributions, Class::ExtraMass);
        let part = Part::known_to(Unbalance::from_base(standard), group(28, 0));
        let line = Line::new(Kind::ExtraMass.words(), Known::Stated, "what extra masses and their places are known to");
        (standard > 0.0).then(|| line.with([part]))
    }

    pub(super) fn angle(&self, recorder: &Recorder<'b>, at: &At<'_, '_>) -> Line {
        let name = BudgetLine::Angle.words();
        let standard = of_class(recorder.facts.book, &at.judged.measured.contributions, Class::Angle);
        if self.state.vectors().is_none() && standard == 0.0 {
            return Line::new(name, Known::DoesNotApply, "no angles are read");
        }
        let part = Part::known_to(Unbalance::from_base(standard), group(2, 0));
        Line::new(name, Known::ByDefault, "the steps in which angles are read").with([part])
    }

    /// One plane alone tells no couple, which acts at bearings all the same.
    pub(super) fn couple(&self, at: &At<'_, '_>) -> Line {
        let name = BudgetLine::Couple.words();
        let is_along = matches!(at.judged.limit.acts, Acts::AtBearing(..) | Acts::About(_));
        let rotor = self.runner.setup.rotor.as_ref();
        let said = rotor.and_then(|rotor| rotor.tolerance_block()?.choice(tolerance::PLANES));
        match () {
            () if self.state.elsewhere.iter().any(|one| one.taken_out) => {
                let why = "one plane is read, and it is not known how much it reads of a mass at another place, which is \
                           taken out";
                Line::new(name, Known::NotKnown, why)
            }
            () if at.amounts.len() > 1 => Line::new(name, Known::DoesNotApply, "more planes than one are read"),
            () if !is_along => Line::new(name, Known::DoesNotApply, "a couple does nothing here"),
            () if said == Some(PlanesBalanced::One) => {
                Line::new(name, Known::DoesNotApply, "the tolerance is that of a rotor for one plane")
            }
            () => {
                let why = "one plane is read, and the tolerance does not say that one is enough: `planes: one`";
                Line::new(name, Known::NotKnown, why)
            }
        }
    }

    /// A limit that is worked out is as good as what it is worked out from.
    pub(super) fn limit(&self, at: &At<'_, '_>) -> Line {
        let name = result::LIMIT_AT.name;
        match at.judged.limit.standing {
            Standing::Stated => Line::new(name, Known::Stated, "a stated limit is exact"),
            Standing::HalfByDefault => {
                let why = "half of the whole is taken, for want of a mass centre";
                Line::new(name, Known::NotKnown, why)
            }
            Standing::ByRule => {
                let standard = Unbalance::from_base(at.judged.limit.amount.standard_uncertainty());
                let part = Part::known_to(standard, group(3, 0));
                Line::new(name, Known::ByDefault, "what the limit is worked out from").with([part])
            }
        }
    }
}
