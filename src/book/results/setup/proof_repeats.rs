//! How well a proof repeats: back at its start, and after laying in again.

use super::proof::Proof;
use crate::book::derive::Val;
use crate::book::formulas as by;
use crate::book::results::bench::mode::WorthAt;
use crate::book::results::bench::readings::{self as reading, ReadingResults};
use crate::book::results::values::entry::{Recorder, Spot, origin};
use crate::book::results::values::not_computed::WhyNot;
use crate::book::vectors::Gathered;
use crate::mechanics::proof::{scatter, scatter_of_amounts};
use crate::units::{Indication, Ratio, Unbalance, Unit};
use crate::vocabulary::{ResultSpec, proof, result};

impl<'b> Proof<'_, 'b> {
    /// The plane that a channel reads, with what its tolerance reads: shares are taken of that.
    fn share_of_tolerance(
        &self,
        recorder: &Recorder<'b>,
        gathered: &mut Gathered,
        channel: &str,
    ) -> Option<(WorthAt, usize)> {
        let (_, plane) = self.sheet.channels.iter().find(|(own, _)| *own == channel)?;
        let worth = self.worth(recorder, gathered, plane);
        let tolerance = gathered.value(&self.sheet.plane(plane)?.tolerance);
        Some((worth, tolerance))
    }

    pub(super) fn returns(&self, recorder: &mut Recorder<'b>) -> Vec<(&'b str, Val<Ratio>)> {
        let back = reading::readings(recorder, &self.sheet.angles(), self.block, proof::BACK_AT_START);
        let (mut returns, spec) = (Vec::new(), &result::RETURN_TO_START);
        let spot = Spot::heading(self.block, self.sheet.id);
        if back.is_empty() {
            recorder.not_asked(&spot, &[spec], WhyNot::LeftOut(proof::BACK_AT_START.any()));
        }
        for reading in &back {
            let Some(start) = self.start(reading.channel) else {
                let why = format!("`start reading {}` is missing", reading.channel);
                recorder.not_asked(&spot.of_channel(reading.channel), &[spec], WhyNot::Says(why.into()));
                continue;
            };
            returns.extend(self.spread(recorder, spec, &by::MOVED, &[start, reading]));
        }
        returns
    }

    pub(super) fn repeatability(&self, recorder: &mut Recorder<'b>) -> Vec<(&'b str, Val<Ratio>)> {
        let mut found = Vec::new();
        if self.block.field(proof::REMOUNTED).is_none() {
            let spot = Spot::heading(self.block, self.sheet.id);
            recorder.not_asked(&spot, &[&result::REPEATABILITY], WhyNot::LeftOut(proof::REMOUNTED.any()));
        }
        for (channel, field) in self.block.named(proof::REMOUNTED) {
            let all = reading::several(recorder, &self.sheet.angles(), self.block, &channel.text, field);
            let all: Vec<&ReadingResults<'b>> = all.iter().collect();
            found.extend(self.spread(recorder, &result::REPEATABILITY, &by::SCATTERED, &all));
        }
        found
    }

    /// How far two readings lie from each other, or several from their mean, as a share of the reading at tolerance.
    fn spread(
        &self,
        recorder: &mut Recorder<'b>,
        spec: &'static ResultSpec,
        formula: &'static crate::book::formulas::Formula,
        readings: &[&ReadingResults<'b>],
    ) -> Option<(&'b str, Val<Ratio>)> {
        let channel = readings.first()?.channel;
        let (file, span) = readings.last()?.place;
        let spot = Spot { place: (file, span), ..Spot::heading(self.block, self.sheet.id) }.of_channel(channel);
        let mut gathered = Gathered::new();
        let vectors: Option<Vec<_>> = readings.iter().map(|reading| reading.vector()).collect();
        let with_angles = vectors.is_some();
        let at: Vec<usize> = match vectors {
            Some(vectors) => vectors.iter().map(|vector| gathered.vector(vector)).collect(),
            None => readings.iter().map(|reading| gathered.value(&reading.amount)).collect(),
        };
        let Some((worth, tolerance)) = self.share_of_tolerance(recorder, &mut gathered, channel) else {
            recorder.not_asked(&spot, &[spec], "the channel is not said to read a plane of the rotor");
            return None;
        };
        let pair = *spec == result::RETURN_TO_START;
        let here = (origin(&spot, spec), Unit::PERCENT);
        let share = gathered.work_out_one(here, recorder.explained(formula), |numbers| {
            let spread: Indication = if with_angles {
                scatter(&at.iter().map(|at| numbers.vector::<Indication>(*at)).collect::<Vec<_>>())?
            } else {
                scatter_of_amounts(&at.iter().map(|at| numbers.value::<Indication>(*at)).collect::<Vec<_>>())?
            };
            // Two readings lie half their distance from their mean.
            let spread = spread * if pair { 2.0 } else { 1.0 };
            Ok(worth.unbalance(numbers, spread) / numbers.value::<Unbalance>(tolerance))
        });
        // What moves by chance is itself an uncertainty.
        let share = Val { contributions: Default::default(), ..share };
        recorder.keep(&spot, spec, &share);
        Some((channel, share))
    }
}
