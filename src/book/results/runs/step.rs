//! What the corrections between two runs achieved.

use super::correction::CorrectionResults;
use super::run::{PlaneRun, RunResults, Runner};
use super::weights;
use crate::book::derive::Val;
use crate::book::formulas as by;
use crate::book::results::measuring::Found;
use crate::book::results::values::entry::{Recorder, Spot};
use crate::book::results::values::not_computed::WhyNot;
use crate::mechanics::effect::{Effect, Explained, explain};
use crate::mechanics::machine::unbalance_reduction_ratio;
use crate::mechanics::self_proof::{Step, StepInPlane};
use crate::units::{Angle, Ratio, Typed, Unbalance, Unit, Vector};
use crate::vocabulary::result;

/// One step: corrections, and the run that shows what they did.
pub struct StepResults<'b> {
    /// The run that called for the corrections, and the run after them.
    pub from: usize,
    pub to: usize,
    /// The corrections, by number.
    pub corrections: Vec<usize>,
    /// One for each plane that was corrected.
    #[cfg_attr(not(feature = "internals"), expect(dead_code, reason = "tests read it"))]
    pub reductions: Vec<(String, Val<Ratio>)>,
    /// How the change stands to what the corrections were meant to do; `None` when that is not known.
    pub effect: Option<Explained>,
    /// Planes in which a slip shows that all planes together do not name.
    pub slips: Vec<(&'b str, Explained)>,
    /// One for each plane of which it is known; none where not all that was done is.
    pub foretold: Vec<Foretold<'b>>,
    /// What the corrections, by masses that are stated, tell of the readings; `None` where the rotor was taken out.
    pub tells: Option<Step>,
}

impl StepResults<'_> {
    /// Planes in which the run does not show what the corrections should leave: nobody knows whether something else was done
    /// than is written, or the machine reads otherwise.
    pub fn contradicted(&self) -> impl Iterator<Item = &str> {
        self.foretold.iter().filter(|one| one.is_contradicted).map(|one| one.plane)
    }
}

/// What the run before and the corrections let expect in a plane, and what was then read.
pub struct Foretold<'b> {
    pub plane: &'b str,
    pub expected: Vector<Unbalance>,
    pub read: Vector<Unbalance>,
    pub unit: Unit,
    /// Whether they lie apart by more than reading and weighing, interference and the tolerance explain.
    pub is_contradicted: bool,
}

/// So much of what was put on may be missing from its effect without a word, of its own plane and of the others.
/// Source: common practice, no source.
const OF_OWN: f64 = 0.35;
const OF_OTHERS: f64 = 0.1;

pub(in crate::book::results) fn of<'b>(
    recorder: &mut Recorder<'b>,
    runner: &Runner<'_, 'b>,
    runs: &[RunResults<'b>],
    corrections: &[CorrectionResults<'b>],
    states: &[Vec<usize>],
) -> Vec<StepResults<'b>> {
    let mut steps = Vec::new();
    for pair in states.windows(2) {
        let (Some(before), Some(to)) = (pair[0].last().copied(), pair[1].first().copied()) else { continue };
        // Corrections are in the record where they were made, whatever run called for them.
        let own: Vec<usize> =
            (0..corrections.len()).filter(|n| corrections[*n].written_after == Some(before)).collect();
        let turned = weights::were_turned(&runs[before].weights, &runs[to].weights);
        if own.is_empty() && !turned {
            continue;
        }
        let called_for = own.first().and_then(|first| corrections[*first].after);
        let from = called_for.filter(|after| pair[0].contains(after)).unwrap_or(before);
        let step = OneStep { runner, from: &runs[from], to: &runs[to], corrections, own: &own };
        let reductions = step.reductions(recorder);
        let (effect, slips) = step.effects(recorder).unzip();
        let (slips, foretold) = (slips.unwrap_or_default(), step.foretold().unwrap_or_default());
        let tells = step.tells();
        steps.push(StepResults { from, to, corrections: own, reductions, effect, slips, foretold, tells });
    }
    for (_, run) in runs.iter().enumerate().filter(|(n, _)| !steps.iter().any(|step| step.to == *n)) {
        let specs = [&result::REDUCTION, &result::EFFECT, &result::EFFECT_IN_PLANE];
        recorder.not_asked(&Spot::heading(&run.block, runner.id), &specs, "no correction leads to this run");
    }
    steps
}

/// Two runs, and what was done between them.
pub(super) struct OneStep<'a, 'b> {
    pub runner: &'a Runner<'a, 'b>,
    pub from: &'a RunResults<'b>,
    pub to: &'a RunResults<'b>,
    pub corrections: &'a [CorrectionResults<'b>],
    pub own: &'a [usize],
}

impl<'b> OneStep<'_, 'b> {
    fn corrects(&self, plane: &str) -> bool {
        self.own.iter().any(|n| self.corrections[*n].plane == plane) || self.turned(plane).is_some()
    }

    /// What turning its weights put on in a plane; `None` where nothing says that they were turned.
    fn turned(&self, plane: &str) -> Option<Vector<Unbalance>> {
        let put_on = weights::put_on(self.runner.plane(plane)?, &self.from.weights, &self.to.weights)?;
        (put_on.amount() > Unbalance::ZERO).then_some(put_on)
    }

    fn reductions(&self, recorder: &mut Recorder<'b>) -> Vec<(String, Val<Ratio>)> {
        let mut reductions = Vec::new();
        if self.from.planes.is_empty() {
            let spot = Spot::heading(&self.to.block, self.runner.id);
            recorder.not_asked(&spot, &[&result::REDUCTION], "the rotor has no plane that the readings tell");
        }
        for (before, after) in self.from.planes.iter().zip(&self.to.planes) {
            let own = [before.own(), after.own()];
            let [first, second] = own.each_ref().map(Found::amount);
            let spot = Spot::heading(&self.to.block, self.runner.id).of_plane(before.name);
            let spec = &result::REDUCTION;
            let why = match (&first.known, &second.known) {
                _ if !self.corrects(before.name) => Some("no correction was made in this plane".into()),
                (Err(missing), _) | (_, Err(missing)) => Some(WhyNot::Lacks(missing.clone())),
                (Ok(_), Ok(_)) => None,
            };
            if let Some(why) = why {
                recorder.not_asked(&spot, &[spec], why);
                continue;
            }
            let vectors = own.iter().all(|found| matches!(found, Found::Vector(_)));
            let formula = if vectors { &by::REDUCED_BY } else { &by::REDUCED_BY_AMOUNTS };
            let inputs = (&second, &first);
            let reduction = recorder.work_out(&spot, spec, Unit::PERCENT, formula, inputs, |(after, before)| {
                unbalance_reduction_ratio(before, after)
            });
            reductions.push((before.name.to_owned(), reduction));
        }
        reductions
    }

    /// Which explanation fits the change best: of all planes together, and of each plane where these tell of no slip.
    fn effects(&self, recorder: &mut Recorder<'b>) -> Option<(Explained, Vec<(&'b str, Explained)>)> {
        let axes: Vec<Angle> = self.from.planes.iter().map(|plane| self.runner.axis(plane.name)).collect();
        let spot = Spot::heading(&self.to.block, self.runner.id);
        let (put_on, changed, explained) = match self.explained(&axes) {
            Ok(explained) => explained,
            Err(why) => {
                recorder.not_asked(&spot, &[&result::EFFECT, &result::EFFECT_IN_PLANE], why);
                return None;
            }
        };
        recorder.words(&spot, &result::EFFECT, in_words(&explained));
        if !matches!(explained.effect, Effect::AsMeant | Effect::Unexplained) {
            recorder.not_asked(&spot, &[&result::EFFECT_IN_PLANE], "all planes together show the slip");
            return Some((explained, Vec::new()));
        }
        let slip = |n: usize| {
            let alone = explain(&put_on[n..=n], &changed[n..=n], &axes[n..=n]).ok()?;
            let is_slip = matches!(alone.effect, Effect::Opposite | Effect::Mirrored);
            let off = put_on[n].amount() * alone.off_as_meant.value();
            (is_slip && off > self.uncertainty_of_change(n)).then_some((self.from.planes[n].name, alone))
        };
        let slips: Vec<_> = (0..put_on.len()).filter_map(slip).collect();
        if slips.is_empty() {
            recorder.not_asked(&spot, &[&result::EFFECT_IN_PLANE], "no plane shows a slip by itself");
        }
        for (plane, alone) in &slips {
            recorder.words(&spot.of_plane(plane), &result::EFFECT_IN_PLANE, in_words(alone));
        }
        Some((explained, slips))
    }

    /// What was put on and what changed in each plane, and which explanation fits all of it best.
    #[expect(clippy::type_complexity, reason = "two lists of vectors and what they amount to")]
    fn explained(&self, axes: &[Angle]) -> Result<(Vec<Vector<Unbalance>>, Vec<Vector<Unbalance>>, Explained), WhyNot> {
        if !self.has_same_seat() {
            return Err("the rotor sat turned on its arbor, and nothing tells what the arbor puts in".into());
        }
        let put_on = self.put_on().ok_or("not all that the corrections did is known")?;
        let changed = self.changed().ok_or("not every plane is known with its angle in both runs")?;
        let explained = explain(&put_on, &changed, axes).map_err(|error| WhyNot::Says(error.to_string().into()))?;
        Ok((put_on, changed, explained))
    }

    /// What each plane is expected to show, where that and what it shows are known.
    fn foretold(&self) -> Option<Vec<Foretold<'b>>> {
        let put_on = self.put_on().filter(|_| self.has_same_seat())?;
        // A run whose channels are not all read yet still has the arbor's share in it.
        let is_alone = |run: &RunResults<'b>| run.planes.iter().any(|plane| plane.rotor.is_some());
        if is_alone(self.from) != is_alone(self.to) {
            return None;
        }
        let whole: Unbalance = put_on.iter().map(|put| put.amount()).sum();
        let planes = self.from.planes.iter().zip(&self.to.planes).zip(put_on).enumerate();
        let one = |(n, ((before, after), put_on)): (usize, ((&PlaneRun<'b>, &PlaneRun<'b>), Vector<Unbalance>))| {
            let (before, shown) = (before.own_vector()?.get()?, after.own_vector()?);
            let (expected, read, own) = (before + put_on, shown.get()?, put_on.amount());
            let is_contradicted = (read - expected).amount() > self.may_be_off(n, own, whole - own);
            Some(Foretold { plane: after.name, expected, read, unit: shown.unit, is_contradicted })
        };
        Some(planes.filter_map(one).collect())
    }

    /// How far a plane may lie from what is expected without a word, by what was put on in it and in the others.
    pub(super) fn may_be_off(&self, plane: usize, own: Unbalance, others: Unbalance) -> Unbalance {
        let tolerance = self.runner.plane(self.to.planes[plane].name).and_then(|plane| plane.tolerance.get());
        let explained = [own * OF_OWN, others * OF_OTHERS, self.uncertainty_of_change(plane)];
        explained.into_iter().fold(tolerance.unwrap_or(Unbalance::ZERO), Unbalance::max)
    }

    /// Turned weights stand where they were set by eye, and say nothing that is known.
    fn tells(&self) -> Option<Step> {
        let put_on = self.put_on().filter(|_| self.has_same_seat() && self.to.remounted != Some(true))?;
        let plane = |n: usize| {
            let (before, after) = (&self.from.planes[n], &self.to.planes[n]);
            if self.turned(before.name).is_some() {
                return None;
            }
            let of_masses = 2.0 * self.standard_of_masses(before.name);
            Some(StepInPlane {
                put_on: put_on[n],
                off: after.own_vector()?.get()? - before.own_vector()?.get()? - put_on[n],
                known_to: Unbalance::from_base(self.uncertainty_of_change(n).base().hypot(of_masses)),
            })
        };
        Some(Step { planes: (0..put_on.len()).map(plane).collect::<Option<_>>()? })
    }

    /// What the masses put on in a plane are known to, in base units.
    pub(super) fn standard_of_masses(&self, plane: &str) -> f64 {
        let own = self.own.iter().map(|n| &self.corrections[*n]).filter(|one| one.plane == plane);
        let parts = own.filter_map(|one| one.done.as_ref()).flat_map(|done| &done.contributions);
        parts.map(|part| part.standard().powi(2)).sum::<f64>().sqrt()
    }

    /// Whether the rotor sat on its arbor in the same position, or what the arbor puts in is known.
    fn has_same_seat(&self) -> bool {
        let planes = || self.from.planes.iter().chain(&self.to.planes);
        self.from.turned.as_ref().map(Val::get) == self.to.turned.as_ref().map(Val::get)
            || planes().all(|plane| plane.rotor.is_some())
    }

    /// What the corrections put on in each plane, where all of it is known.
    pub(super) fn put_on(&self) -> Option<Vec<Vector<Unbalance>>> {
        if self.to.not_recorded {
            return None;
        }
        let turned = |plane: &PlaneRun<'b>| self.turned(plane.name).unwrap_or(Vector::zero());
        let mut put_on: Vec<Vector<Unbalance>> = self.from.planes.iter().map(turned).collect();
        for n in self.own {
            let correction = &self.corrections[*n];
            let plane = self.from.planes.iter().position(|plane| plane.name == correction.plane)?;
            put_on[plane] = put_on[plane] + correction.done.as_ref()?.get()?;
        }
        Some(put_on)
    }

    /// By how much the unbalance of each plane changed.
    fn changed(&self) -> Option<Vec<Vector<Unbalance>>> {
        let (before, after) = (self.from.vectors()?, self.to.vectors()?);
        before.iter().zip(&after).map(|(a, b)| Some(b.get()? - a.get()?)).collect()
    }

    /// How far readings alone may have moved a plane, k = 2.
    pub(super) fn uncertainty_of_change(&self, plane: usize) -> Unbalance {
        let of = |run: &RunResults<'b>| run.planes[plane].own().amount().expanded_uncertainty();
        Unbalance::from_base(of(self.from).hypot(of(self.to)))
    }
}

/// A share by which something is off, in per cent; nothing where it is off by the last digits of a sum.
fn share_off(off: Ratio) -> String {
    let percent = off.in_percent();
    crate::units::quantity(if percent.abs() < 1e-9 { 0.0 } else { percent }, "%", None)
}

fn in_words(explained: &Explained) -> String {
    let off = share_off(explained.off);
    match explained.effect {
        Effect::AsMeant => format!("as meant, {off} off"),
        Effect::Opposite => "half a turn off: heavy and light spot, or adding and removing, are mixed up".to_owned(),
        Effect::Mirrored => "mirrored: angles are counted the wrong way round".to_owned(),
        Effect::Swapped => "in the other plane: channels or planes are swapped".to_owned(),
        Effect::Unexplained => format!("not as meant, {off} off"),
    }
}
