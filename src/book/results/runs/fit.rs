//! How a stated correction stands to what its run calls for.

use super::run::RunResults;
use super::stated::{SAID_BY, Stated};
use crate::book::results::values::entry::Recorder;
use crate::book::results::values::not_computed::WhyNot;
use crate::book::vectors::VectorVal;
use crate::mechanics::effect::{Effect, apart, mirrored_about};
use crate::units::{Angle, Unbalance, Vector};
use crate::vocabulary::result;

/// What was called for and what was done, as unbalances put on, and how they go together.
#[derive(Clone, Copy, Debug)]
pub struct Fit {
    pub effect: Effect,
    pub wanted: Vector<Unbalance>,
    pub done: Vector<Unbalance>,
}

/// A correction of one plane for one run.
pub(in crate::book::results) struct Judged<'a, 'b> {
    pub stated: Stated<'a, 'b>,
    /// The run that called for it.
    pub run: Option<&'a RunResults<'b>>,
    pub called_for: Option<&'a VectorVal<Unbalance>>,
    pub why_nothing: WhyNot,
    /// What earlier blocks of the plane did for the same run.
    pub earlier: Vec<Option<&'a VectorVal<Unbalance>>>,
    pub more_to_come: bool,
}

impl<'b> Judged<'_, 'b> {
    /// Whether what was done in this plane for this run is what the run calls for, or what a slip would make of it.
    /// Judged once, at the last of its blocks.
    pub fn judge(&self, recorder: &mut Recorder<'b>, done: &VectorVal<Unbalance>) -> Option<Fit> {
        let spot = self.stated.spot(&SAID_BY);
        let given = || {
            if self.more_to_come {
                return Err(WhyNot::from("the last block of this plane and run is judged with all before it"));
            }
            let found = self.called_for.ok_or_else(|| self.why_nothing.clone())?;
            let wanted = -found.known.clone().map_err(WhyNot::Lacks)?;
            let mut in_all = done.known.clone().map_err(WhyNot::Lacks)?;
            for done in &self.earlier {
                let done = done.ok_or("an earlier block of this plane does not state what was done")?;
                in_all = in_all + done.known.clone().map_err(WhyNot::Lacks)?;
            }
            Ok((wanted, in_all))
        };
        let (wanted, done) = match given() {
            Ok(given) => given,
            Err(why) => {
                recorder.not_asked(&spot, &[&result::CORRECTION_FIT], why);
                return None;
            }
        };
        let axis = self.stated.runner.axis(self.stated.block.name_text());
        let other = self.other_plane().map(|other| -other);
        let effect = effect(done, wanted, axis, other);
        let off = apart(done, wanted);
        let share = || crate::units::quantity(off.in_percent(), "%", None);
        let words = match effect {
            Effect::AsMeant if off.value() <= NOT_WORTH_SAYING => "as called for".to_owned(),
            Effect::AsMeant => format!("about as called for, {} off", share()),
            Effect::Opposite => "half a turn from what is called for: it doubles the unbalance".to_owned(),
            Effect::Mirrored => "it fits only if readings and masses are counted in opposite senses".to_owned(),
            Effect::Swapped => "it fits the other plane".to_owned(),
            Effect::Unexplained if off.value().is_finite() => {
                format!("it is not what the run calls for, {} off", share())
            }
            Effect::Unexplained => "it is not what the run calls for".to_owned(),
        };
        recorder.words(&spot, &result::CORRECTION_FIT, words);
        Some(Fit { effect, wanted, done })
    }

    /// The unbalance of the other of two planes, in the run that this corrects.
    fn other_plane(&self) -> Option<Vector<Unbalance>> {
        let planes = &self.run?.planes;
        let [first, second] = &planes[..] else { return None };
        let other = if first.name == self.stated.block.name_text() { second } else { first };
        other.own_vector()?.get()
    }
}

/// So much of what is called for may be missed without a word: weighing and setting off take that. Source: common
/// practice, no source.
const NOT_WORTH_SAYING: f64 = 0.05;

/// A correction within a third of what is called for is taken for it; a slip must fit within a quarter, and twice as
/// well. Source: common practice, no source.
fn effect(done: Vector<Unbalance>, wanted: Vector<Unbalance>, axis: Angle, other: Option<Vector<Unbalance>>) -> Effect {
    let as_meant = apart(done, wanted).value();
    if as_meant <= 0.35 {
        return Effect::AsMeant;
    }
    let slips = [
        (Effect::Opposite, Some(-wanted)),
        (Effect::Mirrored, Some(mirrored_about(wanted, axis))),
        (Effect::Swapped, other),
    ];
    let slips = slips.into_iter().filter_map(|(slip, meant)| Some((slip, apart(done, meant?).value())));
    let best = slips.min_by(|a, b| a.1.total_cmp(&b.1));
    match best {
        Some((slip, off)) if off <= 0.25 && off < 0.5 * as_meant => slip,
        _ => Effect::Unexplained,
    }
}
