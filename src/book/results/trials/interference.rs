//! What one plane hears of the other.

use super::influence::InfluenceResults;
use super::series::Series;
use crate::book::derive::Val;
use crate::book::formulas as by;
use crate::book::origin::Reason;
use crate::book::results::bench::readings::indication;
use crate::book::results::values::entry::{Recorder, Spot, origin};
use crate::book::results::values::not_computed::WhyNot;
use crate::book::vectors::VectorVal;
use crate::sheet::FieldValue;
use crate::units::{Indication, Ratio, Unbalance, Unit};
use crate::vocabulary::{result, setup, trial};

/// How an amount as found stands to what amounts may be compared at.
#[derive(Clone, Debug)]
pub struct PreBalanced {
    pub holds: bool,
    /// The largest amount of the run as found, and what it must not exceed.
    pub as_found: Val<Indication>,
    pub limit: Indication,
}

impl<'b> Series<'_, 'b> {
    /// Whether the amounts as found were small enough: below `pre-balance to`, else below a tenth of what the trials
    /// read in the channel of their plane (common practice, no source).
    pub fn pre_balanced(&self, recorder: &Recorder<'b>) -> Option<PreBalanced> {
        let as_found = self.as_found()?;
        let amounts = (0..self.channels.len()).map(|channel| self.amount(as_found, channel));
        let largest = amounts.filter(Val::is_known).max_by(|a, b| {
            let value = |amount: &Val<Indication>| amount.get().map_or(0.0, Indication::value);
            value(a).total_cmp(&value(b))
        })?;
        let limit = self.stated_limit(recorder).or_else(|| self.tenth_of_trials())?;
        Some(PreBalanced { holds: largest.get()? <= limit, as_found: largest, limit })
    }

    fn stated_limit(&self, _recorder: &Recorder<'b>) -> Option<Indication> {
        let FieldValue::Reading(reading) = &self.bench.setup.field(setup::PRE_BALANCE_TO)?.field.value else {
            return None;
        };
        indication(reading, self.bench.readout()).map(|(limit, _)| limit)
    }

    fn tenth_of_trials(&self) -> Option<Indication> {
        let own = self.members.iter().filter_map(|n| {
            let channel = self.channel_of(self.runs[*n].plane?)?;
            self.amount(*n, channel).get()
        });
        own.min_by(|a, b| a.value().total_cmp(&b.value())).map(|least| least * 0.1)
    }

    /// What another plane shows for the mass in this one; the largest where there are several others.
    pub fn interference(
        &self,
        recorder: &mut Recorder<'b>,
        run: usize,
        found: &InfluenceResults,
        pre_balanced: Option<&PreBalanced>,
    ) -> Option<Val<Ratio>> {
        let spot = Spot::heading(&self.runs[run].block, self.bench.id);
        let Some(plane) = self.runs[run].plane else {
            recorder.not_asked(&spot, &[&result::INTERFERENCE], WhyNot::LeftOut(trial::MASS_IN.any()));
            return None;
        };
        let others = self.planes.iter().enumerate().filter(|(_, other)| **other != plane);
        let all: Vec<Val<Ratio>> = others
            .map(|(other, name)| match self.channel_of(name) {
                None => {
                    let why = format!("no channel is said to read plane `{name}`");
                    let origin = origin(&spot, &result::INTERFERENCE);
                    Val::missing(origin, Reason::Impossible(why.into()), Unit::PERCENT)
                }
                Some(channel) => {
                    let own = self.planes.iter().position(|own| *own == plane).unwrap_or(0);
                    match self.with_angles {
                        true => found.interference(recorder, &spot, channel, other, own),
                        false => self.interference_of_amounts(recorder, &spot, channel, (run, other), pre_balanced),
                    }
                }
            })
            .collect();
        let largest = all.into_iter().reduce(|a, b| match (a.get(), b.get()) {
            (None, _) => a,
            (_, None) => b,
            (Some(x), Some(y)) => {
                if y > x {
                    b
                } else {
                    a
                }
            }
        });
        let Some(largest) = largest else {
            recorder.not_asked(&spot, &[&result::INTERFERENCE], "another plane with a trial of its own is missing");
            return None;
        };
        recorder.keep(&spot, &result::INTERFERENCE, &largest);
        Some(largest)
    }

    /// What a channel reads of the mass of a run, as far as amounts tell.
    fn effect_of_amounts(&self, run: usize, channel: usize) -> Val<Indication> {
        let amount = self.amount(run, channel);
        let start = self.as_found().and_then(|as_found| self.amount(as_found, channel).get());
        match (start, self.runs[run].reading(self.channels[channel])) {
            (Some(start), Some(reading)) => reading.without_start(start),
            _ => amount,
        }
    }

    /// Of amounts alone, which is honest only when the rotor was pre-balanced.
    fn interference_of_amounts(
        &self,
        recorder: &Recorder<'b>,
        spot: &Spot,
        channel: usize,
        (run, other): (usize, usize),
        pre_balanced: Option<&PreBalanced>,
    ) -> Val<Ratio> {
        let spec = &result::INTERFERENCE;
        let impossible = |why: String| Val::missing(origin(spot, spec), Reason::Impossible(why.into()), Unit::PERCENT);
        match pre_balanced {
            Some(PreBalanced { holds: true, .. }) => {}
            Some(PreBalanced { as_found, limit, .. }) => {
                let amount = |value: Indication| {
                    crate::book::results::values::render::display_value(value.value(), as_found.unit, 0.0)
                };
                let found = as_found.get().map_or_else(String::new, amount);
                return impossible(format!(
                    "amounts are compared only when the rotor was pre-balanced: it read {found} as found, more than {}",
                    amount(*limit)
                ));
            }
            None => {
                let read = |run: usize| (0..self.channels.len()).map(move |channel| self.amount(run, channel));
                let open = self.as_found().and_then(|run| read(run).find_map(|amount| amount.known.err()));
                return match open {
                    Some(missing) => Val { known: Err(missing), ..impossible(String::new()) },
                    None => impossible("there is no run as found to show that the rotor was pre-balanced".to_owned()),
                };
            }
        }
        let own_run = self.run_of(self.planes[other]);
        let Some(own_run) = own_run else { return impossible("the other plane has no trial".to_owned()) };
        let put = |run: usize| self.runs[run].put_on.as_ref().map(VectorVal::amount);
        let (Some(put_here), Some(put_there)) = (put(run), put(own_run)) else {
            return impossible("a trial mass is missing".to_owned());
        };
        let (shown, own) = (self.effect_of_amounts(run, channel), self.effect_of_amounts(own_run, channel));
        recorder.on_the_way(
            spot,
            spec,
            Unit::PERCENT,
            &by::INTERFERENCE_OF_AMOUNTS,
            (&shown, &put_here, &own, &put_there),
            |(shown, put_here, own, put_there): (Indication, Unbalance, Indication, Unbalance)| {
                let scaled = Indication::new(shown.value() * (put_there / put_here).value());
                crate::mechanics::machine::interference_ratio(scaled, own)
            },
        )
    }
}
