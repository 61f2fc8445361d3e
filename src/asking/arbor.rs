//! How the rotor sits on its arbor in a run.

use super::forms::Form;
use super::question::{Into, Line, Question, Wanted};
use super::record::Begun;
use super::runs::{Asked, is_read};
use crate::book::RunResults;
use crate::card;
use crate::check;
use crate::sheet::Block;
use crate::units::{Amount, Unit};
use crate::vocabulary::run::{self, AnglesFrom};
use crate::vocabulary::{Choice, YesNo};

const TURNED: &str = "0 deg, 180 deg";

/// What is asked of a run where the rotor is turned on its arbor.
pub(super) fn lines(begun: &Begun<'_, '_>, block: Option<&Block>) -> Vec<Asked> {
    let mut lines = Vec::new();
    if !begun.setup.is_told_by_half_sums() {
        return lines;
    }
    lines.extend(taken_off(begun, block));
    // Whoever put it back looks how it sits: no key says it for him.
    let was_taken_off = block.and_then(|block| block.choice(run::REMOUNTED)) == Some(YesNo::Yes);
    let before = run_before(begun, block).filter(|run| run.turned.is_some() && !was_taken_off);
    lines.push(Asked {
        head: run::TURNED_ON_ARBOR_BY.to_string(),
        asks: "The rotor is turned on the arbor by".to_owned(),
        example: TURNED.to_owned(),
        usual: before.map(|run| turned_further(run, 0.0)),
        form: Form::Amount(Unit::DEGREE),
        may_be_unknown: false,
    });
    // Not turned, both zeros lie on each other.
    if block.is_some_and(|block| is_turned(begun, block)) {
        lines.push(Asked {
            head: run::ANGLES_FROM.to_string(),
            asks: "The rotor sits turned: angles are read from the zero mark of the".to_owned(),
            example: check::or_list(AnglesFrom::WORDS),
            usual: begun
                .results
                .runs
                .iter()
                .rev()
                .find_map(|run| run.block.choice(run::ANGLES_FROM))
                .map(|from| from.to_string()),
            form: Form::Choice(AnglesFrom::WORDS),
            may_be_unknown: false,
        });
    }
    lines
}

/// Whether a run that has begun says that the rotor sits turned on its arbor.
fn is_turned(begun: &Begun<'_, '_>, block: &Block) -> bool {
    let run = begun.results.runs.iter().find(|run| run.block.written.span == block.span);
    run.is_some_and(RunResults::sits_turned)
}

/// Whether the rotor came off its arbor to be corrected: it then sits there anew, and nobody but who did it knows.
fn taken_off(begun: &Begun<'_, '_>, block: Option<&Block>) -> Option<Asked> {
    if block.is_some_and(is_read) {
        return None;
    }
    let before = run_before(begun, block)?.block.written.span;
    let before = begun.results.runs.iter().position(|run| run.block.written.span == before);
    let is_corrected = begun.results.corrections.iter().any(|one| one.written_after == before);
    is_corrected.then(|| Asked {
        head: run::REMOUNTED.to_string(),
        asks: "Was it taken off the arbor since the run before".to_owned(),
        example: check::or_list(YesNo::WORDS),
        usual: None,
        form: Form::Choice(YesNo::WORDS),
        may_be_unknown: false,
    })
}

/// How the rotor sits, where the last run reads as if it sat otherwise than the run says.
pub(super) fn in_doubt<'b>(begun: &Begun<'b, '_>, last: &RunResults<'b>) -> Option<Question<'b>> {
    let doubt = card::seat_in_doubt(begun.results)?;
    let told = last.block.field(run::TURNED_ON_ARBOR_BY)?;
    let head = run::TURNED_ON_ARBOR_BY.to_string();
    if begun.left_out.contains(&head) || last.block.item != begun.record {
        return None;
    }
    let into = Into::Told(begun.record, told.field.value_span);
    Some(Question {
        about: String::new(),
        asks: format!("It reads as if turned by {}. Look at the arbor: the rotor is turned on it by", doubt.likelier()),
        example: TURNED.to_owned(),
        usual: None,
        head,
        wanted: Wanted::Line(Box::new(Line {
            into,
            form: Form::Amount(Unit::DEGREE),
            puts_on: None,
            may_be_left_out: true,
            once: None,
        })),
    })
}

/// The run before one that has begun, or before a new one.
fn run_before<'r, 'b>(begun: &Begun<'b, 'r>, block: Option<&Block>) -> Option<&'r RunResults<'b>> {
    let runs = &begun.results.runs;
    let at = block.and_then(|block| runs.iter().position(|run| run.block.written.span == block.span));
    runs.get(at.unwrap_or(runs.len()).checked_sub(1)?)
}

/// What the next run has from this one, wherever the rotor sits then: whose angles are read, where somebody was asked for it with
/// the rotor turned.
pub(super) fn like_before(begun: &Begun<'_, '_>) -> Vec<String> {
    let turned = begun.results.runs.iter().rev().filter(|run| run.sits_turned());
    let from = turned.filter_map(|run| run.block.choice(run::ANGLES_FROM)).next();
    from.map(|from| format!("{}: {from}", run::ANGLES_FROM)).into_iter().collect()
}

/// How far the rotor is turned on its arbor in a run, and then in one with it turned: `180 deg`
fn turned_further(run: &RunResults<'_>, further: f64) -> String {
    let now =
        run.turned.as_ref().and_then(|turned| turned.get()).map_or(0.0, |turned| Unit::DEGREE.from_base(turned.raw()));
    format!("{:.0} {}", (now + further).rem_euclid(360.0), Unit::DEGREE)
}

pub(super) fn turned_by(run: &RunResults<'_>, further: f64) -> String {
    format!("{}: {}", run::TURNED_ON_ARBOR_BY, turned_further(run, further))
}

/// The lines of a run with the rotor as it sits on its arbor: nothing was done since.
pub(super) fn as_it_sits(begun: &Begun<'_, '_>, run: &RunResults<'_>) -> Vec<String> {
    let turned = run.turned.is_some().then(|| turned_by(run, 0.0));
    turned.into_iter().chain(like_before(begun)).collect()
}

pub(super) fn remounted() -> String {
    format!("{}: {}", run::REMOUNTED, YesNo::Yes)
}
