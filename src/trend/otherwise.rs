//! Whether values over days follow a line, jump, or change in another way, as by a season that comes back.

use std::collections::BTreeMap;

use crate::mechanics::budget::{Freedom, coverage, differs_clearly};

/// A value on a day, with its standard uncertainty. Values of one group have a level of their own.
#[derive(Clone, Copy, Debug)]
pub struct Value {
    pub at: f64,
    pub group: usize,
    pub value: f64,
    pub standard: f64,
}

impl Value {
    fn weight(&self) -> f64 {
        1.0 / (self.standard * self.standard).max(1e-12)
    }
}

/// A jump from one level to another.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Jump {
    pub by: f64,
    /// At 95.45 %.
    pub known_to: f64,
    /// The level before it.
    pub from: f64,
    /// The last day before it, and the first after it.
    pub between: [f64; 2],
}

impl Jump {
    /// Over what was there before it, where levels count from one.
    fn over_the_level_before(self) -> Self {
        let before = 1.0 + self.from;
        Self { by: self.by / before, known_to: self.known_to / before.abs(), ..self }
    }
}

/// What changes neither along a line nor by one jump.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Otherwise {
    /// At the beginning and at the end.
    pub first: f64,
    pub last: f64,
    /// The largest from some values to the next, and the day it comes on.
    pub step: f64,
    pub on: f64,
}

/// How values change over the days.
#[derive(Clone, Copy, PartialEq, Debug)]
pub enum Course {
    /// By no more than scatter.
    Steady,
    Drifts,
    Jumps(Jump),
    /// By a drift, or by this jump: the values do not tell.
    DriftsOrJumps(Jump),
    Otherwise(Otherwise),
}

impl Course {
    /// How much there is of a change, that along a line given.
    pub fn size(self, line: f64) -> f64 {
        match self {
            Self::Steady => 0.0,
            Self::Drifts => line.abs(),
            Self::Jumps(jump) => jump.by.abs(),
            Self::DriftsOrJumps(jump) => line.abs().max(jump.by.abs()),
            Self::Otherwise(Otherwise { first, last, step, .. }) => (last - first).abs().max(step.abs()),
        }
    }

    /// A jump over what was there before it, where levels count from one.
    pub fn over_the_level_before(self) -> Self {
        match self {
            Self::Jumps(jump) => Self::Jumps(jump.over_the_level_before()),
            Self::DriftsOrJumps(jump) => Self::DriftsOrJumps(jump.over_the_level_before()),
            other => other,
        }
    }
}

/// A line through values: one slope, a level for each group.
#[derive(Debug)]
pub struct Through {
    pub slope: f64,
    /// Of the days about their mean, weighted.
    pub spread: f64,
    /// The mean day, and the mean value.
    pub middle: (f64, f64),
    pub freedom: f64,
    /// How many times as large as stated the scatter is, no less than once.
    pub scatter: f64,
    /// By day, at the level that all groups have in common.
    values: Vec<Value>,
    /// The days, and the values, each about the mean of its group.
    days: Vec<f64>,
    levels: Vec<f64>,
}

/// The step that fits best.
struct Step {
    /// The first value after it.
    place: usize,
    size: f64,
    /// One after it and zero before it, about the mean of each group.
    form: Vec<f64>,
}

/// Into so many parts the days are divided for the level at first and at last, and to tell a season from a line or a jump.
/// Source: common practice, no source.
const PARTS: usize = 5;
const PARTS_OF_A_SEASON: usize = 12;
/// In each part, and on each side of a step, so many values at least.
const OF_A_PART: usize = 3;

/// Of two forms with as many unknowns, one that lessens squares by so many times the scatter more leaves little to say for the
/// other. Source: differences of an information criterion, Burnham and Anderson, Model Selection and Multimodel Inference,
/// section 2.6 (from memory).
const FAR_BETTER: f64 = 6.0;

/// Weighted mean of what is taken of each.
fn mean<'a>(values: impl Iterator<Item = &'a Value>, of: impl Fn(&Value) -> f64) -> f64 {
    let (sum, weight) = values.fold((0.0, 0.0), |(sum, weight), one| {
        let own = one.weight();
        (sum + own * of(one), weight + own)
    });
    sum / weight
}

/// What is taken of each by its place, about the mean of its group.
fn about_groups(values: &[Value], of: impl Fn(usize) -> f64) -> Vec<f64> {
    let mut groups: BTreeMap<usize, (f64, f64)> = BTreeMap::new();
    for (n, one) in values.iter().enumerate() {
        let (sum, weight) = groups.entry(one.group).or_default();
        *sum += one.weight() * of(n);
        *weight += one.weight();
    }
    let mean = |group: usize| groups[&group].0 / groups[&group].1;
    values.iter().enumerate().map(|(n, one)| of(n) - mean(one.group)).collect()
}

/// What is left of one when as much of another as it holds is taken away.
fn less(one: &[f64], share: f64, other: &[f64]) -> Vec<f64> {
    one.iter().zip(other).map(|(one, other)| one - share * other).collect()
}

impl Through {
    /// Weighted least squares. `None` where there are no two days, or no more values than unknowns.
    pub fn of(values: &[Value], unknowns: f64) -> Option<Self> {
        let freedom = values.len() as f64 - unknowns;
        if freedom <= 0.0 {
            return None;
        }
        let mut values = values.to_vec();
        values.sort_by(|one, other| one.at.total_cmp(&other.at));
        let days = about_groups(&values, |n| values[n].at);
        let levels = about_groups(&values, |n| values[n].value);
        let middle = (mean(values.iter(), |one| one.at), mean(values.iter(), |one| one.value));
        for (one, level) in values.iter_mut().zip(&levels) {
            one.value = level + middle.1;
        }
        let mut through = Self { slope: 0.0, spread: 0.0, middle, freedom, scatter: 1.0, values, days, levels };
        through.spread = through.product(&through.days, &through.days);
        if through.spread <= 0.0 {
            return None;
        }
        through.slope = through.product(&through.days, &through.levels) / through.spread;
        through.scatter = through.within(&through.beside_the_line(), freedom).sqrt();
        Some(through)
    }

    fn product(&self, one: &[f64], other: &[f64]) -> f64 {
        self.values.iter().zip(one.iter().zip(other)).map(|(value, (one, other))| value.weight() * one * other).sum()
    }

    fn beside_the_line(&self) -> Vec<f64> {
        less(&self.levels, self.slope, &self.days)
    }

    /// Mean square of what is left, no less than what is stated.
    fn within(&self, left: &[f64], freedom: f64) -> f64 {
        (self.product(left, left) / freedom).max(1.0)
    }

    /// How much of a form is in what is left, and by how much taking it away lessens the squares.
    fn share(&self, left: &[f64], form: &[f64]) -> (f64, f64) {
        let (product, square) = (self.product(left, form), self.product(form, form));
        if square > 0.0 { (product / square, product * product / square) } else { (0.0, 0.0) }
    }

    /// Whether squares are lessened by more than chance does, by the quotient of squares. Source: extra sum of squares, Draper
    /// and Smith, Applied Regression Analysis, section 6.1 (from memory).
    fn counts(&self, lessened: f64, left: &[f64], freedom: f64, tries: usize) -> bool {
        let within = self.within(left, freedom).sqrt();
        differs_clearly([lessened.sqrt(), 1.0], [within, freedom], tries)
    }

    /// Where a step would be told: between two days, with enough values to either side in groups that lie on both.
    fn places(&self) -> Vec<usize> {
        let mut sides: BTreeMap<usize, [usize; 2]> = BTreeMap::new();
        for one in &self.values {
            sides.entry(one.group).or_default()[1] += 1;
        }
        let mut told = Vec::new();
        for (place, two) in (1..).zip(self.values.windows(2)) {
            let [before, after] = sides.entry(two[0].group).or_default();
            (*before, *after) = (*before + 1, *after - 1);
            let on_both = sides.values().filter(|side| side.iter().all(|count| *count > 0));
            let [before, after] = on_both.fold([0; 2], |[b, a], [before, after]| [b + before, a + after]);
            if two[1].at > two[0].at && before >= OF_A_PART && after >= OF_A_PART {
                told.push(place);
            }
        }
        told
    }

    fn step(&self, place: usize) -> Vec<f64> {
        about_groups(&self.values, |n| f64::from(u8::from(n >= place)))
    }

    /// The step that lessens the squares most, and by how much.
    fn best_step(&self, places: &[usize]) -> Option<(Step, f64)> {
        let step = |place: &usize| {
            let form = self.step(*place);
            let (size, lessened) = self.share(&self.levels, &form);
            (Step { place: *place, size, form }, lessened)
        };
        places.iter().map(step).max_by(|(_, one), (_, other)| one.total_cmp(other))
    }

    /// How the values change: whether the line counts is known. A line and the best step are each held against both together:
    /// what the other adds to it tells it is not enough. `ways`: so many components are looked at.
    pub fn course(&self, line_counts: bool, ways: usize) -> Course {
        let beside_line = self.beside_the_line();
        // That it is no line is looked for in two ways, which together are as seldom by chance as a line.
        let is_lacking = self.lacks_fit(&beside_line, 2 * ways);
        let places = self.places();
        let Some((step, lessened)) = self.best_step(&places) else {
            return match (line_counts, is_lacking) {
                (_, true) => self.otherwise(),
                (true, false) => Course::Drifts,
                (false, false) => Course::Steady,
            };
        };
        let tries = places.len() * ways;
        let beside_step = less(&self.levels, step.size, &step.form);
        // Its place is found from the values, as its size is.
        let freedom = self.freedom - 1.0;
        let step_counts = self.counts(lessened, &beside_step, freedom, 2 * tries);
        if !(line_counts || step_counts || is_lacking) {
            return Course::Steady;
        }
        let adds = |left: &[f64], form: &[f64], beside: &[f64], tries: usize| {
            let form = less(form, self.share(form, beside).0, beside);
            let (share, lessened) = self.share(left, &form);
            self.counts(lessened, &less(left, share, &form), freedom - 1.0, tries)
        };
        let line_adds = adds(&beside_step, &self.days, &step.form, ways);
        let step_adds = places.iter().any(|place| adds(&beside_line, &self.step(*place), &self.days, tries));
        // A year that ends as it began has two unknowns, as a step with its place has.
        let by_season = self.season(&self.levels, &[]);
        let season_adds = {
            let added = self.season(&beside_line, &[&self.days]);
            let freedom = self.freedom - 2.0;
            let within = ((self.product(&beside_line, &beside_line) - added) / freedom).max(1.0);
            differs_clearly([(added / 2.0).sqrt(), 2.0], [within.sqrt(), freedom], ways)
        };
        let is_line = line_counts && !is_lacking && !step_adds && !season_adds;
        let is_season = by_season - lessened > FAR_BETTER * self.within(&beside_step, freedom);
        let is_step = !line_adds && !is_season && !self.lacks_fit(&beside_step, 2 * ways);
        match (is_line, is_step) {
            (true, true) => Course::DriftsOrJumps(self.jump(&step, &beside_step)),
            (true, false) => Course::Drifts,
            (false, true) if step_counts => Course::Jumps(self.jump(&step, &beside_step)),
            _ => self.otherwise(),
        }
    }

    /// By how much one whole wave over all days, of any phase, lessens squares, beside other forms.
    fn season(&self, left: &[f64], beside: &[&[f64]]) -> f64 {
        let (Some(first), Some(last)) = (self.values.first(), self.values.last()) else { return 0.0 };
        let turn = |n: usize| (self.values[n].at - first.at) / (last.at - first.at) * std::f64::consts::TAU;
        let (mut left, mut known) = (left.to_vec(), beside.iter().map(|form| form.to_vec()).collect::<Vec<_>>());
        let mut all = 0.0;
        for wave in [f64::sin, f64::cos] {
            let form = about_groups(&self.values, |n| wave(turn(n)));
            let form = known.iter().fold(form, |form, other| less(&form, self.share(&form, other).0, other));
            let (share, lessened) = self.share(&left, &form);
            left = less(&left, share, &form);
            all += lessened;
            known.push(form);
        }
        all
    }

    fn jump(&self, step: &Step, left: &[f64]) -> Jump {
        let freedom = self.freedom - 1.0;
        let standard = (self.within(left, freedom) / self.product(&step.form, &step.form)).sqrt();
        let (before, after) = self.values.split_at(step.place);
        Jump {
            by: step.size,
            known_to: coverage(Freedom::of(freedom)) * standard,
            from: mean(before.iter(), |one| one.value),
            between: [before[step.place - 1].at, after[0].at],
        }
    }

    /// Lack of fit: the means of parts of the days scatter about what was fitted more than the values within a part do, by the
    /// quotient of squares. Source: NIST/SEMATECH e-Handbook of Statistical Methods, section 4.4.4.6 (from memory).
    fn lacks_fit(&self, left: &[f64], ways: usize) -> bool {
        let parts = self.parts(PARTS_OF_A_SEASON);
        let (between_freedom, within_freedom) = (parts as f64 - 2.0, self.freedom - (parts as f64 - 2.0));
        let of_part = |n: usize| {
            let range = self.part(n, parts);
            let values = self.values[range.clone()].iter().zip(&left[range]);
            let (sum, weight) = values
                .fold((0.0, 0.0), |(sum, weight), (one, left)| (sum + one.weight() * left, weight + one.weight()));
            sum * sum / weight
        };
        let between: f64 = (0..parts).map(of_part).sum();
        let within = ((self.product(left, left) - between) / within_freedom).max(1.0);
        let between = [(between / between_freedom).sqrt(), between_freedom];
        differs_clearly(between, [within.sqrt(), within_freedom], ways)
    }

    fn parts(&self, most: usize) -> usize {
        most.min(self.values.len() / OF_A_PART)
    }

    fn part(&self, n: usize, parts: usize) -> std::ops::Range<usize> {
        let count = self.values.len();
        count * n / parts..count * (n + 1) / parts
    }

    fn otherwise(&self) -> Course {
        let (count, parts) = (self.values.len(), self.parts(PARTS));
        let level = |range: std::ops::Range<usize>| mean(self.values[range].iter(), |one| one.value);
        let beside = OF_A_PART.max(count / (2 * PARTS));
        let step = |n: usize| level(n..n + beside) - level(n - beside..n);
        let of_a_day = |n: &usize| self.values[*n].at > self.values[n - 1].at;
        let places = (beside..=count.saturating_sub(beside)).filter(of_a_day);
        let on = places.max_by(|a, b| step(*a).abs().total_cmp(&step(*b).abs()));
        let (first, last) = (level(self.part(0, parts)), level(self.part(parts - 1, parts)));
        // Where all are of one day or too few, nothing is told otherwise.
        on.map_or(Course::Steady, |on| {
            Course::Otherwise(Otherwise { first, last, step: step(on), on: self.values[on].at })
        })
    }
}
