//! By how much a trial changed what was read.

use super::series::Series;
use crate::book::derive::Val;
use crate::book::formulas as by;
use crate::book::results::values::entry::{Recorder, Spot, origin};
use crate::book::results::values::not_computed::WhyNot;
use crate::book::vectors::{Gathered, Produced, VectorVal};
use crate::mechanics::influence as physics;
use crate::units::{Angle, Ratio, Unit};
use crate::vocabulary::{result, trial};

impl<'b> Series<'_, 'b> {
    /// By how much a trial changed amount and angle, in the channel that reads its plane, else in the one it changed most.
    pub fn change(&self, recorder: &mut Recorder<'b>, run: usize) -> (Option<Val<Ratio>>, Option<Val<Angle>>) {
        let block = &self.runs[run].block;
        let compared = || {
            let plane = self.runs[run].plane.ok_or_else(|| WhyNot::LeftOut(trial::MASS_IN.any()))?;
            let before = self.before(run).ok_or("no run differs from this one by its mass alone")?;
            let own = self.channel_of(plane).or_else(|| self.most_changed(before, run));
            let channel = own.ok_or("no channel was read in both runs")?;
            for run in [before, run] {
                if let Err(missing) = self.amount(run, channel).known {
                    return Err(WhyNot::Lacks(missing));
                }
            }
            Ok((before, channel))
        };
        let (before, channel) = match compared() {
            Ok(compared) => compared,
            Err(why) => {
                let specs = [&result::CHANGE_OF_AMOUNT, &result::CHANGE_OF_ANGLE];
                recorder.not_asked(&Spot::heading(block, self.bench.id), &specs, why);
                return (None, None);
            }
        };
        let field = block.named(trial::READING).find(|(name, _)| *name.text == *self.channels[channel]);
        let spot = Spot::beside(block, self.bench.id, field.map(|(_, field)| field));
        let (first, second) = (self.amount(before, channel), self.amount(run, channel));
        // By sign first: what hardly changed is known no better for lying near zero.
        let (spec, unit) = (&result::CHANGE_OF_AMOUNT, Unit::PERCENT);
        let inputs = (&first, &second);
        let amount: Val<Ratio> =
            recorder.on_the_way(&spot, spec, unit, &by::CHANGE_AMOUNT, inputs, |(before, with_trial)| {
                physics::change_of_amount(before, with_trial)
            });
        let amount = Val { known: amount.known.map(Ratio::abs), ..amount };
        recorder.keep(&spot, spec, &amount);
        if !self.with_angles {
            recorder.not_asked(&spot, &[&result::CHANGE_OF_ANGLE], "a reading of the trials has no angle");
            return (Some(amount), None);
        }
        let mut gathered = Gathered::new();
        let v0 = gathered.vector(&self.vector(before, channel));
        let v1 = gathered.vector(&self.vector(run, channel));
        let outputs = gathered.work_out(recorder.explained(&by::CHANGE_ANGLE), |numbers| {
            Ok(Produced::vector(physics::change_of_vector(numbers.vector(v0), numbers.vector(v1))?))
        });
        let spec = &result::CHANGE_OF_ANGLE;
        let became: VectorVal<Ratio> = outputs.vector(0, origin(&spot, spec), Unit::ONE);
        let angle = became.angle();
        let angle = Val { known: angle.known.map(physics::short_way), ..angle };
        recorder.keep(&spot, spec, &angle);
        (Some(amount), Some(angle))
    }

    fn most_changed(&self, before: usize, run: usize) -> Option<usize> {
        let changed = |channel: &usize| -> Option<f64> {
            if self.with_angles {
                let difference = self.vector(run, *channel).get()? - self.vector(before, *channel).get()?;
                return Some(difference.amount().value());
            }
            let (first, second) = (self.amount(before, *channel).get()?, self.amount(run, *channel).get()?);
            Some((second.value() - first.value()).abs())
        };
        let channels = (0..self.channels.len()).filter_map(|channel| Some((channel, changed(&channel)?)));
        channels.max_by(|a, b| a.1.total_cmp(&b.1)).map(|(channel, _)| channel)
    }
}
