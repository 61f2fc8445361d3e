//! The cheapest way from a word that is not clean to one that is.

use super::budget::{Known, Line};
use super::judged::{Judged, word_of};
use crate::book::results::values::render::display_value;
use crate::mechanics::budget::{Freedom, Part, expanded};
use crate::mechanics::verdict::Verdict;
use crate::units::{Amount, Unbalance};
use crate::vocabulary::shop::BudgetLine;
use crate::vocabulary::{Choice, Of, readout, result, setup};

/// What would make each row within, in words; `None` where all are, or one is over.
pub(super) fn way(judged: &[Judged], whole: Verdict) -> Option<String> {
    match whole {
        Verdict::Within | Verdict::OverAsRead | Verdict::Over => None,
        Verdict::WithinAsRead => Some(assess(judged)),
        Verdict::NotShown => {
            let open = judged.iter().filter(|one| one.verdict == Some(Verdict::NotShown));
            // The row that is farthest from what it is known to.
            let excess = |one: &&Judged| one.uncertainty.map_or(0.0, Amount::raw) - one.left().unwrap_or(0.0);
            open.max_by(|a, b| excess(a).total_cmp(&excess(b))).map(of_row)
        }
    }
}

fn of_row(row: &Judged) -> String {
    let at = row.name();
    let worst = row.budget.lines.first().map_or(BudgetLine::Reading.words(), |line| &*line.name);
    // A correction by less than is known would be by chance.
    let is_told = row
        .measured
        .get()
        .is_none_or(|measured| row.uncertainty.is_none_or(|known_to| measured.raw() > known_to.raw()));
    if row.left().is_none_or(|left| left <= 0.0) {
        return match is_told {
            true => format!("correct it further: at {at} nothing is left of the limit"),
            false => format!(
                "make `{worst}` smaller: at {at} nothing is left of the limit, and less is read than it is known to"
            ),
        };
    }
    let tries = [("two more mountings", two_more as fn(&Line) -> Option<Line>), ("readings on a finer scale", finer)];
    let mut idle = Vec::new();
    for (words, change) in tries {
        let changed: Vec<Line> =
            row.budget.lines.iter().map(|line| change(line).unwrap_or_else(|| line.clone())).collect();
        let parts: Vec<Part> = changed.iter().flat_map(|line| line.parts.iter().copied()).collect();
        let Some(known_to) = expanded(&parts).ok().map(|known_to| row.acted(known_to)) else { continue };
        let shown = |base: f64| display_value(base, row.measured.unit, 0.0);
        let now = row.uncertainty.map_or(0.0, Amount::raw);
        if row.left().is_some_and(|left| known_to.raw() <= left) {
            let word = word_of(Verdict::Within);
            return format!("{words}: {word} at {at} (± {} becomes ± {})", shown(now), shown(known_to.raw()));
        }
        idle.push(words);
    }
    let further = if is_told { "correct it further, or " } else { "" };
    format!("{further}make `{worst}` smaller: {} would not be enough at {at}", idle.join(" or "))
}

/// Two mountings more than the one or more that there are now, found to scatter as those did.
fn two_more(line: &Line) -> Option<Line> {
    let is_measured = line.known == Known::Measured && *line.name == *BudgetLine::Mounting.words();
    is_measured.then(|| {
        let part = |part: &Part| Part {
            standard: part.standard / 3f64.sqrt(),
            freedom: part.freedom.and(Freedom::of_repeated(3)),
            ..*part
        };
        Line { parts: line.parts.iter().map(part).collect(), ..line.clone() }
    })
}

/// Nothing left of the step in which it is read.
fn finer(line: &Line) -> Option<Line> {
    let is_step = line.known == Known::ByDefault && *line.name == *BudgetLine::Reading.words();
    is_step.then(|| {
        let none = |part: &Part| Part { standard: Unbalance::ZERO, bound: Some(Unbalance::ZERO), ..*part };
        Line { parts: line.parts.iter().map(none).collect(), ..line.clone() }
    })
}

/// What has to be done so that every line is known.
fn assess(judged: &[Judged]) -> String {
    let mut steps: Vec<&str> = Vec::new();
    for one in judged {
        for name in one.budget.not_assessed() {
            let is_channels = matches!(one.of, Of::Channel(_)) && *name == *setup::MACHINE.words();
            let step = if is_channels { OF_CHANNELS } else { advice(name) };
            if !steps.contains(&step) {
                steps.push(step);
            }
        }
    }
    steps.join("; ")
}

const OF_CHANNELS: &str =
    "state how well the channels are known, with its source: `balance error machine`, a share of their own reading";

fn advice(line: &str) -> &'static str {
    let is = |one: BudgetLine| *one.words() == *line;
    match () {
        () if is(BudgetLine::Mounting) => "remount the rotor and run it again, twice, each with `remounted: yes`",
        () if is(BudgetLine::DialSetting) || is(BudgetLine::Calibration) || is(BudgetLine::Interference) => {
            "prove the sheet: a mass in each plane alone, a second mass, all masses off again"
        }
        () if is(BudgetLine::Arbor) => "run it with the rotor turned half a turn on its arbor",
        () if is(BudgetLine::Couple) => "read two planes, or let the tolerance say that one is enough: `planes: one`",
        () if is(BudgetLine::Keys) => "say what fills each keyway: `key: half key`",
        () if is(BudgetLine::Drive) => "run it with the end drive turned half a turn on the rotor",
        () if is(BudgetLine::Speed) => {
            "run it at the balancing speed, or say where the machine works, its resonance and the speed of each run"
        }
        () if is(BudgetLine::Bending) => {
            "balance it as a flexible rotor, in more planes and up to its service speed, or at speeds well below its critical"
        }
        () if is(BudgetLine::Trials) => "make one more trial than the planes need",
        () if is(BudgetLine::Reading) => "run it once more, or state the scatter of the readout",
        () if *line == *readout::VALUE.words() => "say which value of an oscillation the readout shows: `value: rms`",
        () if *line == *setup::MACHINE.words() => "state the smallest residual of the machine",
        () if *line == *result::LIMIT_AT.name => "weigh the rotor at two places, for its mass centre",
        () => "find out what this line of the budget amounts to",
    }
}
