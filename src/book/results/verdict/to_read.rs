//! What a technician may stop at: the largest readings that the setup's own budget shows to be within, whatever their
//! angles.

use std::cell::OnceCell;
use std::sync::Arc;

use super::budget::{Budget, Indexing, Sources, group};
use super::counting::of_setup;
use super::rows::JudgedRow;
use super::self_proof::SelfProof;
use super::state::{State, StatePlane};
use crate::book::derive::{Derivation, Val};
use crate::book::formulas as by;
use crate::book::results::bench::mode::{Gain, Worth};
use crate::book::results::measuring::{Found, Measuring};
use crate::book::results::plane::extra::{self, ExtraMass, elsewhere};
use crate::book::results::runs::counted::counted;
use crate::book::results::runs::run::Runner;
use crate::book::results::setup::SetupResults;
use crate::book::results::values::entry::{Outcome, Recorder, Spot, origin};
use crate::book::results::values::not_computed::WhyNot;
use crate::book::results::values::render::display_value;
use crate::book::vectors::VectorVal;
use crate::mechanics::budget::{Freedom, Part, expanded};
use crate::mechanics::limits::ARM;
use crate::units::{
    Amount, Angle, Bound, Contributions, Indication, Length, Ratio, Typed, Unbalance, Unit, Vector, rounded_to,
};
use crate::vocabulary::{Of, result};

/// Rows of one setup, each with what its budget is at readings of nothing and at the shares of the planes.
struct Rows {
    rows: Vec<OneRow>,
}

struct OneRow {
    of: Of,
    limit: Unbalance,
    /// What the shares do here at the worst phase.
    at_shares: Unbalance,
    /// What is taken out of every reading, and may point against it.
    taken_out: Unbalance,
    parts: Vec<[Part; 2]>,
}

impl OneRow {
    /// What all is known to when no plane reads more than so much of its share. What goes by a reading grows with it, and
    /// what does not stays. Student's t falls where well-known parts join few repeats: less that is read may be known
    /// worse, so a part counts at a reading of nothing where that is worse.
    fn known_to(&self, of_shares: Ratio) -> Unbalance {
        let part = |[nothing, all]: &[Part; 2]| {
            let between = |a: Unbalance, b: Unbalance| a + (b - a) * of_shares.value();
            let bound = nothing.bound.zip(all.bound).map(|(a, b)| between(a, b));
            Part { standard: between(nothing.standard, all.standard), bound, ..*all }
        };
        let mut parts: Vec<Part> = self.parts.iter().map(part).collect();
        let known_to = |parts: &[Part]| expanded(parts).unwrap_or(self.limit);
        let mut most = known_to(&parts);
        if parts.iter().all(|part| part.freedom == Freedom::ENDLESS) {
            return most;
        }
        for (n, [nothing, _]) in self.parts.iter().enumerate() {
            let read = std::mem::replace(&mut parts[n], *nothing);
            let without = known_to(&parts);
            if without > most { most = without } else { parts[n] = read }
        }
        most
    }

    fn is_within(&self, of_shares: Ratio) -> bool {
        self.limit - self.taken_out - self.at_shares * of_shares.value() >= self.known_to(of_shares)
    }
}

impl Rows {
    /// The largest part of the shares at which every row is within; `Err` with the row that is not, however little is read.
    fn most(&self) -> Result<Ratio, &OneRow> {
        if let Some(row) = self.rows.iter().find(|row| !row.is_within(Ratio::new(0.0))) {
            return Err(row);
        }
        // To a thousandth, below: nobody reads it finer.
        let part = |thousandths: u32| Ratio::new(f64::from(thousandths) / 1000.0);
        let within = |thousandths: u32| self.rows.iter().all(|row| row.is_within(part(thousandths)));
        if within(1000) {
            return Ok(part(1000));
        }
        let (mut low, mut high) = (0, 1000);
        while high - low > 1 {
            let middle = u32::midpoint(low, high);
            if within(middle) { low = middle } else { high = middle }
        }
        Ok(part(low))
    }
}

/// Adds the limits to read to the results of a setup.
pub(in crate::book::results) fn add<'b>(mut setup: SetupResults<'b>, recorder: Recorder<'b>) -> SetupResults<'b> {
    let mut recorder = recorder;
    work_out(&setup, &mut recorder);
    setup.entries.append(&mut recorder.entries);
    setup.not_computed.append(&mut recorder.not_computed);
    setup
}

fn work_out<'b>(setup: &SetupResults<'b>, recorder: &mut Recorder<'b>) {
    let spot = Spot::heading(&setup.block, setup.id);
    let measuring = setup.measuring();
    let sense = measuring.sheet.angles().sense(&recorder.facts);
    let spec = &result::LIMIT_TO_READ;
    let carriers: Vec<_> = setup.rotor.as_ref().map(|rotor| &rotor.block).into_iter().chain([&setup.block]).collect();
    let planes = setup.rotor.as_ref().map_or(&[][..], |rotor| &rotor.planes);
    // What states an error has a line of its own.
    let extra = extra::of(recorder, &carriers, planes).into_iter().filter(|mass| mass.error.is_none() && mass.counts());
    let extra: Vec<ExtraMass<'b>> = extra.collect();
    let runner = Runner { id: setup.id, setup, measuring: &measuring, sense, extra, carried_before: Vec::new() };
    let shares: Option<Vec<Val<Unbalance>>> =
        measuring.planes.iter().map(|name| runner.plane(name).map(|plane| plane.tolerance.clone())).collect();
    let Some(shares) = shares.filter(|shares| !shares.is_empty()) else {
        return recorder.not_asked(&spot, &[spec], "no plane of the rotor is read");
    };
    if let Some(missing) = shares.iter().find_map(|share| share.known.as_ref().err()) {
        return recorder.not_asked(&spot, &[spec], WhyNot::Lacks(missing.clone()));
    }
    if let Some(nothing_counts) = of_setup(setup, &measuring, recorder.facts.shop).into_iter().next() {
        return recorder.not_asked(&spot, &[spec], WhyNot::Says(nothing_counts.words.into()));
    }
    let beside = match beside(recorder, &runner, &spot) {
        Ok(beside) => beside,
        Err(why) => return recorder.not_asked(&spot, &[spec], why),
    };
    let rows = rows(recorder, &runner, (&spot, &beside), &shares);
    if rows.rows.is_empty() {
        return recorder.not_asked(&spot, &[spec], "no limit can be worked out from the planes that are read");
    }
    let most = rows.most();
    for (name, share) in measuring.planes.iter().zip(&shares) {
        let spot = spot.of_plane(name);
        match most {
            Ok(part) => {
                let most = share.get().unwrap_or(Unbalance::ZERO) * part.value();
                keep(recorder, &spot, &measuring, name, most, share);
            }
            Err(row) => {
                let (factor, unit) = match row.of {
                    Of::Couple => (ARM.base(), recorder.facts.shop.couple_unit()),
                    _ => (1.0, recorder.facts.shop.unbalance_unit),
                };
                let shown = |amount: Unbalance| display_value(amount.base() * factor, unit, 0.0);
                let known_to = row.known_to(Ratio::new(0.0));
                let words = format!("cannot be shown: ± {} of {} at {}", shown(known_to), shown(row.limit), row.of);
                recorder.words(&spot, spec, words);
            }
        }
    }
}

/// As the channel of the plane shows it; as an unbalance, where channels together tell the planes.
fn keep(
    recorder: &mut Recorder<'_>,
    spot: &Spot,
    measuring: &Measuring<'_, '_>,
    plane: &str,
    most: Unbalance,
    share: &Val<Unbalance>,
) {
    let unit = recorder.facts.shop.unbalance_unit;
    let reading: Option<(f64, Unit)> = (measuring.resting_on().is_none() && measuring.sheet.mode().is_some())
        .then(|| {
            // What was set with the calibration mass, of what it should have read.
            let set_at = |gain: &Option<Box<Gain>>| {
                gain.as_ref().map_or(Some(1.0), |gain| Some((gain.set.get()? / gain.should.get()?).value()))
            };
            let shown: Indication = match measuring.sheet.worth(plane, unit) {
                Worth::Itself(gain) => Indication::showing(most) * set_at(&gain)?,
                Worth::AtRadius(radius, gain) => Indication::showing(most / radius.get()?) * set_at(&gain)?,
                Worth::Of(one) => Indication::new((most / one.get()?).value()),
            };
            Some((shown.value(), measuring.sheet.machine?.readout.as_ref()?.unit))
        })
        .flatten();
    let (base, unit) = reading.unwrap_or((most.raw(), unit));
    let base = unit.to_base(rounded_to(unit.from_base(base), Bound::AtMost));
    let formula = recorder.explained(&by::READ_AT_MOST);
    let derivation =
        formula.map(|formula| Arc::new(Derivation { formula, inputs: [share.input()].into_iter().collect() }));
    recorder.push(spot, &result::LIMIT_TO_READ, Outcome::Amount { base, unit, standard: 0.0 }, derivation);
}

/// What extra masses put into each plane, or take out of it, whatever is read; nothing where there are none.
fn beside<'b>(recorder: &Recorder<'b>, runner: &Runner<'_, 'b>, spot: &Spot) -> Result<State<'b>, WhyNot> {
    let measuring = runner.measuring;
    let mut state = exactly(
        runner,
        measuring.planes.iter().map(|name| {
            let here = origin(&spot.of_plane(name), &result::LIMIT_TO_READ);
            Found::Vector(VectorVal::exact(Vector::zero(), here, recorder.facts.shop.unbalance_unit))
        }),
    );
    if runner.extra.is_empty() {
        return Ok(state);
    }
    if !runner.setup.reads_angles() {
        return Err("an extra mass cannot be taken account of without an angle".into());
    }
    let masses: Vec<&ExtraMass<'b>> = runner.extra.iter().collect();
    let at: Vec<Val<Length>> = measuring.planes.iter().map(|name| runner.at(name)).collect();
    let found: Vec<Found> = state.planes.iter().map(|plane| plane.found.clone()).collect();
    let counted = counted(recorder, &masses, &at, &found);
    if let Some(missing) = counted.iter().find_map(|found| found.amount().known.err()) {
        return Err(WhyNot::Lacks(missing));
    }
    state = exactly(runner, counted.into_iter());
    state.elsewhere = elsewhere(recorder, &masses, &at);
    Ok(state)
}

fn exactly<'b>(runner: &Runner<'_, 'b>, found: impl Iterator<Item = Found>) -> State<'b> {
    let plane = |(name, found): (&&'b str, Found)| StatePlane { name, at: runner.at(name), found, is_at_least: false };
    let planes = runner.measuring.planes.iter().zip(found).map(plane).collect();
    State { planes, runs: Vec::new(), elsewhere: Vec::new(), is_sum_alone: false }
}

/// What extra masses come to at one limit, and what that is known to in any direction.
fn of_extra_masses(row: &JudgedRow<'_>) -> Option<(Unbalance, Part)> {
    let vector = row.vector.as_ref()?;
    let [x, y] = vector.contributions.each_ref().map(Contributions::standard);
    let part = Part::known_to(Unbalance::from_base(x.hypot(y)), group(28, 0));
    Some((vector.get()?.amount(), part))
}

fn rows<'b>(
    recorder: &Recorder<'b>,
    runner: &Runner<'_, 'b>,
    (spot, beside): (&Spot, &State<'b>),
    shares: &[Val<Unbalance>],
) -> Rows {
    let limits = runner.setup.rotor.as_ref().map_or(&[][..], |rotor| &rotor.limits);
    let unread = runner.unread();
    let by_record = SelfProof::default();
    let judged = |state: &State<'b>, limit| {
        let sources = sources(runner, state, &by_record);
        let row = JudgedRow::of(recorder, spot, state, limit, unread);
        let (budget, taken_out) = (sources.budget(recorder, &row), sources.taken_out(recorder, &row));
        (row, budget, taken_out)
    };
    let none: Vec<Unbalance> = vec![Unbalance::ZERO; shares.len()];
    // A plane that reads nothing has what is taken out of its reading, and what goes by a reading goes by that.
    let places: Option<Vec<Length>> = runner.measuring.planes.iter().map(|name| runner.at(name).get()).collect();
    let at_none = state(recorder, runner, spot, &none);
    let taken_out = places.map_or_else(
        || none.clone(),
        |places| sources(runner, &at_none, &by_record).taken_out_in_planes(recorder, &places),
    );
    let of_masses = beside.planes.iter().map(|plane| plane.found.amount().get().unwrap_or(Unbalance::ZERO));
    let taken_out: Vec<Unbalance> = taken_out.into_iter().zip(of_masses).map(|(a, b)| a + b).collect();
    let nothing = state(recorder, runner, spot, &taken_out);
    let row = |limit| {
        let (at_nothing, low, _) = judged(&nothing, limit);
        let levers = at_nothing.row.as_ref()?;
        // At the worst phase: each plane as its lever points.
        let toward = |(n, share): (usize, &Val<Unbalance>)| {
            Some((share.get()? + taken_out[n]) * levers.lever(n).value().signum())
        };
        let with: Option<Vec<Unbalance>> = shares.iter().enumerate().map(toward).collect();
        let own: Option<Vec<Unbalance>> = shares.iter().map(|share| share.get()).collect();
        let at_shares = levers.worst(&own?);
        let (_, high, taken_out) = judged(&state(recorder, runner, spot, &with?), limit);
        let mut parts: Vec<[Part; 2]> = in_order(&low).zip(in_order(&high)).map(|(low, high)| [low, high]).collect();
        let (of_masses, known_to) = of_extra_masses(&JudgedRow::of(recorder, spot, beside, limit, unread))?;
        parts.push([known_to; 2]);
        let taken_out = taken_out + of_masses;
        Some(OneRow { of: limit.of.clone(), limit: limit.amount.get()?, at_shares, taken_out, parts })
    };
    Rows { rows: limits.iter().filter_map(row).collect() }
}

fn sources<'a, 'b>(runner: &'a Runner<'a, 'b>, state: &'a State<'b>, by_record: &'a SelfProof) -> Sources<'a, 'b> {
    // On an arbor no run by itself is read: half the vector sum is, of which the arbor is no part.
    let index = runner.setup.is_told_by_half_sums().then_some(Indexing::HalfATurn);
    let day = None;
    Sources { runner, runs: &[], state, index, by_record, before_proof: false, day, proven: OnceCell::new() }
}

/// The planes with so much in each, along one line, as readings would tell it: exact, but for what is known of the way from
/// readings to unbalances where trials tell that.
fn state<'b>(recorder: &Recorder<'b>, runner: &Runner<'_, 'b>, spot: &Spot, planes: &[Unbalance]) -> State<'b> {
    let measuring = runner.measuring;
    let unit = recorder.facts.shop.unbalance_unit;
    let spots: Vec<Spot> = measuring.planes.iter().map(|name| spot.of_plane(name)).collect();
    let along = |amount: Unbalance| Vector::from_polar(amount, Angle::ZERO);
    let spec = &result::LIMIT_TO_READ;
    let found: Vec<Found> = match measuring.worth_of_amount() {
        Some(worth) => {
            let amount = |(spot, amount): (&Spot, &Unbalance)| {
                let mut contributions = Contributions::none();
                let share = worth.get().map_or(0.0, |worth| (amount.abs() / worth).value());
                contributions.add(&worth.contributions, share);
                Found::Amount(Val {
                    known: Ok(amount.abs()),
                    contributions,
                    origin: origin(spot, spec),
                    ..worth.clone()
                })
            };
            spots.iter().zip(planes).map(amount).collect()
        }
        None => {
            let exact = || {
                let one =
                    |(spot, amount): (&Spot, &Unbalance)| VectorVal::exact(along(*amount), origin(spot, spec), unit);
                spots.iter().zip(planes).map(one).collect()
            };
            let unbalances: Vec<Vector<Unbalance>> = planes.iter().map(|amount| along(*amount)).collect();
            let told = measuring.told_by_trials(recorder, &spots, spec, &unbalances).unwrap_or_else(exact);
            told.into_iter().map(Found::Vector).collect()
        }
    };
    exactly(runner, found.into_iter())
}

/// The parts of a budget, however its lines are sorted.
fn in_order(budget: &Budget) -> impl Iterator<Item = Part> {
    let mut parts: Vec<Part> = budget.lines.iter().flat_map(|line| line.parts.iter().copied()).collect();
    parts.sort_by_key(|part| part.group);
    parts.into_iter()
}
