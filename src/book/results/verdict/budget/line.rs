//! The lines of a budget, and what they are found from.

use std::borrow::Cow;
use std::cell::OnceCell;

use crate::book::proofs::Day;
use crate::book::results::measuring::Found;
use crate::book::results::runs::index::IndexResults;
use crate::book::results::runs::run::{RunResults, Runner};
use crate::book::results::verdict::rows::JudgedRow;
use crate::book::results::verdict::self_proof::SelfProof;
use crate::book::results::verdict::state::State;
use crate::mechanics::budget::{Part, combined, expanded};
use crate::mechanics::limits::Row;
use crate::units::{Length, Ratio, Typed, Unbalance};

/// Mountings of a record that the proof contradicts.
#[derive(Clone, Copy, Debug)]
pub struct MountingsApart {
    /// A run of each, by number.
    pub runs: [usize; 2],
    pub amount: Unbalance,
    /// The standard deviation of the mountings of the proof.
    pub of_proof: Unbalance,
}

/// How far a line of a budget is known.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Known {
    Measured,
    Stated,
    ByDefault,
    DoesNotApply,
    NotKnown,
}

impl Known {
    pub const fn words(self) -> &'static str {
        match self {
            Known::Measured => "by measurement",
            Known::Stated => "as stated",
            Known::ByDefault => "by default",
            Known::DoesNotApply => "does not apply",
            Known::NotKnown => "not known",
        }
    }
}

/// One line of a budget.
#[derive(Clone, Debug)]
pub struct Line {
    /// One of the names that a shop may need; the name of a stated balance error.
    pub name: Cow<'static, str>,
    pub known: Known,
    /// What it rests on, or why there is none.
    pub why: Cow<'static, str>,
    pub parts: Vec<Part>,
}

impl Line {
    pub(in crate::book::results::verdict) fn new(
        name: &'static str,
        known: Known,
        why: impl Into<Cow<'static, str>>,
    ) -> Self {
        Self { name: name.into(), known, why: why.into(), parts: Vec::new() }
    }

    pub(in crate::book::results::verdict) fn with(self, parts: impl IntoIterator<Item = Part>) -> Self {
        Self { parts: self.parts.into_iter().chain(parts).collect(), ..self }
    }

    /// What it amounts to by itself, expanded.
    pub fn amount(&self) -> Unbalance {
        expanded(&self.parts).unwrap_or(Unbalance::ZERO)
    }

    /// Its standard uncertainty.
    pub fn standard(&self) -> Unbalance {
        combined(&self.parts).unwrap_or(Unbalance::ZERO)
    }
}

/// All lines of one row, and what they make together.
#[derive(Clone, Debug, Default)]
pub struct Budget {
    /// Worst first.
    pub lines: Vec<Line>,
    /// At 95 %; `None` where it has no number.
    pub uncertainty: Option<Unbalance>,
    /// Mountings that lie farther apart than the proof lets expect.
    pub mountings_apart: Option<MountingsApart>,
    /// The standard uncertainties of all lines together.
    pub standard: Unbalance,
}

impl Budget {
    pub(in crate::book::results::verdict) fn of(mut lines: Vec<Line>) -> Self {
        lines.sort_by(|a, b| b.amount().base().total_cmp(&a.amount().base()));
        let parts: Vec<Part> = lines.iter().flat_map(|line| line.parts.iter().copied()).collect();
        let standard = combined(&parts).unwrap_or(Unbalance::ZERO);
        Self { uncertainty: expanded(&parts).ok(), lines, standard, mountings_apart: None }
    }

    /// By how much the standard uncertainty of the row is expanded; nothing where nothing is uncertain.
    pub fn coverage(&self) -> Option<f64> {
        let expanded = self.uncertainty.filter(|_| self.standard > Unbalance::ZERO)?;
        Some(expanded.base() / self.standard.base())
    }

    /// The names of the lines that nothing is known of.
    pub fn not_assessed(&self) -> impl Iterator<Item = &str> {
        self.lines.iter().filter(|line| line.known == Known::NotKnown).map(|line| &*line.name)
    }
}

/// Runs with the rotor turned on its arbor, which tell the arbor's own unbalance apart.
#[derive(Clone, Copy)]
pub(in crate::book::results) enum Indexing<'a, 'b> {
    /// Those of a record.
    Told(&'a IndexResults<'b>),
    /// Two half a turn apart, as the card has them made.
    HalfATurn,
    /// Those of an earlier state of the rotor: what they told of the arbor is taken out of one run.
    Earlier(&'a IndexResults<'b>),
}

impl Indexing<'_, '_> {
    /// How many runs are read together.
    pub fn runs(self) -> usize {
        match self {
            Indexing::Told(index) => index.runs.len(),
            Indexing::HalfATurn => 2,
            Indexing::Earlier(_) => 1,
        }
    }

    /// The factor on the scatter of one mounting: the mean of n runs has 1/√n of it; one run less an arbor that n other
    /// runs told has √(1 + 1/n).
    pub fn of_one_mounting(self) -> f64 {
        match self {
            Indexing::Told(_) | Indexing::HalfATurn => (self.runs() as f64).recip().sqrt(),
            Indexing::Earlier(index) => (1.0 + (index.runs.len() as f64).recip()).sqrt(),
        }
    }
}

/// What the lines of a budget are found from.
pub(in crate::book::results) struct Sources<'a, 'b> {
    pub runner: &'a Runner<'a, 'b>,
    pub runs: &'a [RunResults<'b>],
    pub state: &'a State<'b>,
    pub index: Option<Indexing<'a, 'b>>,
    /// What the record shows of its readings by itself.
    pub by_record: &'a SelfProof,
    /// Whether the record is older than what proves its setup; then no proof shows anything for it.
    pub before_proof: bool,
    pub day: Option<Day>,
    /// What the proof found, which is the same for every row.
    pub proven: OnceCell<Proven>,
}

/// The planes as the proof found them.
pub(in crate::book::results) struct Proven {
    /// At each mounting.
    pub mountings: Vec<Vec<Found>>,
    /// Before its masses were put on, and after they were taken off.
    pub start_and_back: Option<[Vec<Found>; 2]>,
}

/// A row with its numbers, for the lines that weigh planes by their levers.
pub(in crate::book::results) struct At<'r, 'b> {
    pub judged: &'r JudgedRow<'b>,
    pub row: &'r Row,
    /// What is read in each plane.
    pub amounts: Vec<Unbalance>,
}

impl At<'_, '_> {
    pub fn planes(&self) -> std::ops::Range<usize> {
        0..self.amounts.len()
    }

    /// What an amount in a plane comes to here.
    pub fn of_plane(&self, plane: usize, amount: Unbalance) -> Unbalance {
        amount * self.row.lever(plane).value().abs()
    }

    /// What a share of a plane's own reading comes to here.
    pub fn of_reading(&self, plane: usize, share: Ratio) -> Unbalance {
        self.of_plane(plane, self.amounts[plane] * share.value().abs())
    }

    /// What an unbalance somewhere along the rotor comes to here; whole where that place is not known.
    pub fn of_place(&self, place: Option<Length>, amount: Unbalance) -> Unbalance {
        let places: Vec<Length> = self.judged.places.iter().filter_map(|at| at.get()).collect();
        let lever = place.and_then(|at| self.judged.acting?.lever(at, &places).ok());
        amount * lever.map_or(1.0, |lever| lever.value().abs())
    }
}

/// Which parts of a budget rest on one fact: a number for each line, and for each plane or source of it.
pub(in crate::book::results::verdict) const fn group(line: u32, of: usize) -> u32 {
    line * 1000 + of as u32
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::mechanics::budget::Freedom;

    fn line(name: &'static str, part: Part) -> Line {
        Line::new(name, Known::Measured, "").with([part])
    }

    /// Worked by hand. 3 and 4, each known by its standard uncertainty: 5, twice that is 10. Where the 3 scatters over two
    /// comparisons, 5⁴ ÷ (3⁴ ÷ 2) = 15.4 of them count for the whole, whose factor is above 2; by its own factor for two
    /// comparisons, 4.53, the 3 alone is 13.6, more than the whole.
    #[test]
    fn standard_uncertainties_add_up_and_expanded_ones_do_not() {
        let grams = Unbalance::gram_millimetres;
        let of =
            |part: Part| Budget::of(vec![line("reading", part), line("calibration", Part::known_to(grams(4.0), 2))]);
        let near = |a: f64, b: f64| (a - b).abs() < 1e-9;
        for part in [Part::known_to(grams(3.0), 1), Part::scattered(grams(3.0), Freedom::of(2.0), 1)] {
            let budget = of(part);
            let standards = budget.lines.iter().map(|line| line.standard().in_gram_millimetres());
            assert!(near(standards.map(|one| one.powi(2)).sum::<f64>(), 25.0));
            assert!(near(budget.standard.in_gram_millimetres(), 5.0));
        }
        assert!(near(of(Part::known_to(grams(3.0), 1)).coverage().unwrap(), 2.0));
        let scattered = of(Part::scattered(grams(3.0), Freedom::of(2.0), 1));
        let factor = scattered.coverage().unwrap();
        assert!(factor > 2.1 && factor < 2.3, "{factor}");
        assert!((scattered.lines[0].amount().in_gram_millimetres() - 13.6).abs() < 0.05);
    }
}
