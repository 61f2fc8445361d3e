//! What the corrections between two runs achieved.

use super::correction::CorrectionResults;
use super::entry::{Recorder, Spot};
use super::measuring::Found;
use super::run::{RunResults, Runner};
use crate::book::catalogue as result;
use crate::book::derive::Val;
use crate::book::formulas as by;
use crate::mechanics::effect::{Effect, Explained, explain};
use crate::mechanics::machine::unbalance_reduction_ratio;
use crate::units::{Angle, Ratio, Unbalance, Unit, Vector};

/// One step: corrections, and the run that shows what they did.
pub struct StepResults {
    /// The run that called for the corrections, and the run after them.
    pub from: usize,
    pub to: usize,
    /// The corrections, by number.
    pub corrections: Vec<usize>,
    /// One for each plane that was corrected.
    pub reductions: Vec<(String, Val<Ratio>)>,
    /// How the change stands to what the corrections were meant to do; `None` when that is not known.
    pub effect: Option<Explained>,
}

pub(super) fn of<'b>(
    recorder: &mut Recorder<'b>,
    runner: &Runner<'_, 'b>,
    runs: &[RunResults<'b>],
    corrections: &[CorrectionResults<'b>],
    states: &[Vec<usize>],
) -> Vec<StepResults> {
    let mut steps = Vec::new();
    for pair in states.windows(2) {
        let (Some(before), Some(to)) = (pair[0].last().copied(), pair[1].first().copied()) else { continue };
        let earlier: Vec<usize> = steps.iter().flat_map(|step: &StepResults| step.corrections.clone()).collect();
        let own: Vec<usize> = (0..corrections.len())
            .filter(|n| !earlier.contains(n) && corrections[*n].after.is_some_and(|after| after <= before))
            .collect();
        let Some(from) = own.first().and_then(|n| corrections[*n].after) else { continue };
        let step = Step { runner, from: &runs[from], to: &runs[to], corrections, own: &own };
        let reductions = step.reductions(recorder);
        let effect = step.effect(recorder);
        steps.push(StepResults { from, to, corrections: own, reductions, effect });
    }
    steps
}

struct Step<'a, 'b> {
    runner: &'a Runner<'a, 'b>,
    from: &'a RunResults<'b>,
    to: &'a RunResults<'b>,
    corrections: &'a [CorrectionResults<'b>],
    own: &'a [usize],
}

impl<'b> Step<'_, 'b> {
    fn corrects(&self, plane: &str) -> bool {
        self.own.iter().any(|n| self.corrections[*n].plane == plane)
    }

    fn reductions(&self, recorder: &mut Recorder<'b>) -> Vec<(String, Val<Ratio>)> {
        let mut reductions = Vec::new();
        for (before, after) in self.from.planes.iter().zip(&self.to.planes) {
            let own = [before.own(), after.own()];
            let [first, second] = own.each_ref().map(Found::amount);
            if !self.corrects(before.name) || !first.is_known() || !second.is_known() {
                continue;
            }
            let vectors = own.iter().all(|found| matches!(found, Found::Vector(_)));
            let formula = if vectors { &by::REDUCED_BY } else { &by::REDUCED_BY_AMOUNTS };
            let spot = Spot::heading(&self.to.block, self.runner.id).of(before.name);
            let spec = &result::REDUCTION;
            let inputs = (&second, &first);
            let reduction = recorder.work_out(&spot, spec, Unit::PERCENT, formula, inputs, |(after, before)| {
                unbalance_reduction_ratio(before, after)
            });
            reductions.push((before.name.to_owned(), reduction));
        }
        reductions
    }

    /// Which explanation fits the change best.
    fn effect(&self, recorder: &mut Recorder<'b>) -> Option<Explained> {
        let planes = || self.from.planes.iter().chain(&self.to.planes);
        let same_seat = self.from.turned.as_ref().map(Val::get) == self.to.turned.as_ref().map(Val::get)
            || planes().all(|plane| plane.rotor.is_some());
        let (before, after) = (self.from.vectors()?, self.to.vectors()?);
        let mut put_on = vec![Vector::<Unbalance>::zero(); before.len()];
        for n in self.own {
            let correction = &self.corrections[*n];
            let plane = self.from.planes.iter().position(|plane| plane.name == correction.plane)?;
            put_on[plane] = put_on[plane] + correction.done.as_ref()?.get()?;
        }
        let changed: Vec<Vector<Unbalance>> =
            before.iter().zip(&after).map(|(a, b)| Some(b.get()? - a.get()?)).collect::<Option<_>>()?;
        let axes: Vec<Angle> = self.from.planes.iter().map(|plane| self.runner.axis(plane.name)).collect();
        let explained = explain(&put_on, &changed, &axes).ok().filter(|_| same_seat)?;
        let off = crate::units::quantity(explained.off.in_percent(), "%", None);
        let words = match explained.effect {
            Effect::AsMeant => format!("as meant, {off} off"),
            Effect::Opposite => {
                "half a turn off: heavy and light spot, or adding and removing, are mixed up".to_owned()
            }
            Effect::Mirrored => "mirrored: angles are counted the wrong way round".to_owned(),
            Effect::Swapped => "in the other plane: channels or planes are swapped".to_owned(),
            Effect::Unexplained => format!("not as meant, {off} off"),
        };
        recorder.words(&Spot::heading(&self.to.block, self.runner.id), &result::EFFECT, words);
        Some(explained)
    }
}
