//! What is asked of a run, and how to go on after it.

use super::arbor;
use super::extra;
use super::forms::{Form, Readout, chosen, without_head};
use super::question::{Into, Line, Question, Refused, Step, Wanted, at_end};
use super::record::{Begun, PutOn};
use crate::book::{Book, EffectiveBlock, ItemId, PlaneResults, ReadsLikeMass, RecordResults, RunResults, SetupResults};
use crate::card::{self, HalfTurn};
use crate::check;
use crate::sheet::{Block, Field, FieldValue};
use crate::syntax::Kind;
use crate::units::Unit;
use crate::vocabulary::plane::{self, Method};
use crate::vocabulary::run::{self, CalibrationMasses};
use crate::vocabulary::{Choice, Fact, YesNo, setup};

/// A fact of a run that is asked for.
pub(super) struct Asked {
    pub head: String,
    pub asks: String,
    pub example: String,
    pub usual: Option<String>,
    pub form: Form,
    /// Whether a run goes on without it.
    pub may_be_unknown: bool,
}

/// How to go on after a run.
pub(super) struct Then<'b> {
    pub item: ItemId,
    pub record: &'b Block,
    pub ways: Vec<&'static str>,
    /// The lines of a run with the rotor turned, where it sits on an arbor.
    pub turned: Vec<String>,
    /// Those of a run with the rotor taken out and put back: on an arbor it may then sit otherwise.
    pub mounted: Vec<String>,
    /// Those of a run with the rotor as it is.
    pub like_before: Vec<String>,
}

/// Where nobody knows any more which masses they are.
const ALL_MASSES: &str = "all masses that were put on";

const END: &str = "end";
const AGAIN: &str = "again";
const MOUNT: &str = "mount again";
const TURN: &str = "turn";

/// The first thing that a run does not say yet.
pub(super) fn open_line<'b>(begun: &Begun<'b, '_>, block: &'b Block) -> Option<Question<'b>> {
    let is_left_out = |asked: &Asked| asked.may_be_unknown && begun.left_out.contains(&asked.head);
    let is_open =
        |asked: &Asked| (!says(block, &asked.head) || hole(block, &asked.head).is_some()) && !is_left_out(asked);
    let asked = lines(begun, Some(block)).into_iter().find(is_open)?;
    let into = match hole(block, &asked.head) {
        Some(hole) => Into::Hole(begun.record, hole.value_span),
        None => Into::Block(begun.record, block),
    };
    Some(question(format!("Run {}", block.name_text()), asked, into))
}

/// The first question of a run that is not there yet.
pub(super) fn new_run<'b>(begun: &Begun<'b, '_>, name: &str, before: Vec<String>) -> Option<Question<'b>> {
    let is_said = |head: &str| before.iter().any(|line| line.starts_with(&format!("{head}:")));
    let asked = lines(begun, None).into_iter().find(|asked| !is_said(&asked.head))?;
    let outer = begun.book().item(begun.record);
    let name = free_name(outer, name);
    let heading = format!("{} {}", Kind::Run, check::name_as_written(&name));
    let after = still_open(begun).into_iter().filter(|line| !line.starts_with(&asked.head)).collect();
    Some(question(format!("Run {name}"), asked, Into::New { item: begun.record, outer, heading, before, after }))
}

fn question(about: String, asked: Asked, into: Into<'_>) -> Question<'_> {
    let Asked { head, asks, example, usual, form, may_be_unknown: may_be_left_out } = asked;
    Question {
        about,
        asks,
        example,
        usual,
        head,
        wanted: Wanted::Line(Box::new(Line { into, form, puts_on: None, may_be_left_out, once: None })),
    }
}

/// What a run must say: one that is broken off has a hole there.
pub(super) fn still_open(begun: &Begun<'_, '_>) -> Vec<String> {
    let masses = may_be_on(begun).map(|_| format!("{}: ?", run::CALIBRATION_MASSES));
    let speed = (!begun.setup.is_on_stand()).then(|| format!("{}: ?", run::SPEED));
    speed.into_iter().chain(masses).collect()
}

/// The masses that may still be on the rotor: those of the sheet that stay on, and those that were put on since the last run.
fn may_be_on(begun: &Begun<'_, '_>) -> Option<String> {
    let put_on = |mass: PutOn| begun.put_on.contains(&mass);
    // Trial runs come before the first run, whoever made them.
    let are_before = begun.results.runs.is_empty() && begun.setup.has_trial_masses();
    let may_be_trial = begun.setup.leaves_trial_masses_on() || put_on(PutOn::Trial) || are_before;
    let kinds = [
        (begun.setup.has_calibration_masses(), run::CALIBRATION_MASSES.words()),
        (may_be_trial, "trial masses"),
        (put_on(PutOn::Check), "check masses"),
    ];
    let kinds: Vec<&str> = kinds.into_iter().filter_map(|(may_be, kind)| may_be.then_some(kind)).collect();
    match kinds.is_empty() {
        // What was on in the last run, or reads so, comes off before the next.
        true => was_on(begun.results).then(|| ALL_MASSES.to_owned()),
        false => Some(check::and_list(&kinds)),
    }
}

/// Whether masses were on in the last run, or it reads as if one was.
fn was_on(record: &RecordResults<'_>) -> bool {
    let last = record.runs.len().checked_sub(1);
    let says_on = record.runs.last().is_some_and(|run| run.calibration_masses_on == Some(true));
    says_on || card::like_mass(record).any(|like| Some(like.run) == last)
}

/// Whether the mass that a run reads like was on: what the run says of it is looked at once more.
pub(super) fn mass_in_doubt<'b>(begun: &Begun<'b, '_>) -> Option<Question<'b>> {
    let question = |like: &ReadsLikeMass<'b>| {
        let run = &begun.results.runs[like.run];
        let block = run.block.own.filter(|_| run.block.item == begun.record)?;
        let head = run::CALIBRATION_MASSES.to_string();
        let once = format!("{head} of {}", run.name);
        if begun.left_out.contains(&once) {
            return None;
        }
        let into = match block.fields.iter().find(|field| head_of(field) == head) {
            Some(told) => Into::Told(begun.record, told.value_span),
            None => Into::Block(begun.record, block),
        };
        Some(Question {
            about: String::new(),
            asks: format!("Run {} reads like {}. Look at the rotor: in this run it was", run.name, like.mass),
            example: check::or_list(CalibrationMasses::WORDS),
            usual: None,
            head,
            wanted: Wanted::Line(Box::new(Line {
                into,
                form: Form::Choice(CalibrationMasses::WORDS),
                puts_on: None,
                may_be_left_out: false,
                once: Some(once),
            })),
        })
    };
    card::like_mass(begun.results).find_map(question)
}

/// `corrected`, `corrected 2`
pub(super) fn free_name(record: &Block, name: &str) -> String {
    let is_free = |name: &str| record.inner(Kind::Run).all(|run| run.name_text() != name);
    let numbered = (2..).map(|n: u32| format!("{name} {n}"));
    std::iter::once(name.to_owned()).chain(numbered).find(|name| is_free(name)).unwrap_or_default()
}

/// Whether a block has a fact of this head.
fn says(block: &Block, head: &str) -> bool {
    block.fields.iter().any(|field| head_of(field) == head)
}

fn head_of(field: &Field) -> String {
    match &field.name {
        Some(name) => format!("{} {}", field.key.name, check::name_as_written(&name.text)),
        None => field.key.name.to_owned(),
    }
}

fn of<T: ?Sized>(fact: Fact<T>, name: &str) -> String {
    format!("{fact} {}", check::name_as_written(name))
}

/// What is asked of a run, in the order of the bench; `block` is the run where it has begun.
fn lines(begun: &Begun<'_, '_>, block: Option<&Block>) -> Vec<Asked> {
    let setup = begun.setup;
    if setup.is_on_stand() {
        return on_a_stand(begun, block);
    }
    let mut lines = vec![Asked {
        head: run::SPEED.to_string(),
        asks: "Speed of the run".to_owned(),
        example: format!("1150 {}", Unit::RPM),
        usual: written(begun.book(), setup, setup::BALANCING_SPEED),
        form: Form::Amount(Unit::RPM),
        may_be_unknown: false,
    }];
    // A run that was broken off holds the question.
    let is_open = block.is_some_and(|block| hole(block, run::CALIBRATION_MASSES.words()).is_some());
    if let Some(which) = may_be_on(begun).or_else(|| is_open.then(|| ALL_MASSES.to_owned())) {
        let which = which[..1].to_uppercase() + &which[1..];
        lines.push(Asked {
            head: run::CALIBRATION_MASSES.to_string(),
            asks: format!("{which}, counted: all off, or still on"),
            example: check::or_list(CalibrationMasses::WORDS),
            // Whether the run counts goes by it: nobody answers it without a word.
            usual: None,
            form: Form::Choice(CalibrationMasses::WORDS),
            may_be_unknown: false,
        });
    }
    lines.extend(arbor::lines(begun, block));
    lines.extend(weights(begun, block));
    lines.extend(extra::masses(begun, block));
    let readout = Readout::of(setup);
    lines.extend(channels(setup).into_iter().map(|channel| reading(setup, &readout, channel)));
    lines
}

/// Where sliding weights come before anything is turned, and those that are turned with others: until something is read.
fn weights(begun: &Begun<'_, '_>, block: Option<&Block>) -> Vec<Asked> {
    let planes = begun.setup.rotor.as_deref().map_or(&[][..], |rotor| &rotor.planes);
    let slide = planes.iter().filter(|plane| plane.method == Some(Method::SlidingWeights));
    let number = |plane: &str| planes.iter().find(|own| own.name == plane).map_or(2, number_of_weights);
    let asked = |plane: &str, asks: String, example: String, usual: Option<String>| Asked {
        head: of(run::WEIGHTS_AT, plane),
        asks,
        example,
        usual,
        may_be_unknown: true,
        form: Form::Amounts(Unit::DEGREE, number(plane)),
    };
    if begun.results.runs.is_empty() || block.is_some_and(|block| begun.is_first(block)) {
        let stand = |plane: &PlaneResults<'_>| {
            let example = format!("{}; `-` where nobody knows, or none is on", all_round(plane));
            asked(plane.name, format!("Angles of the weights in {} now, weight 1 first", plane.name), example, None)
        };
        return slide.map(stand).collect();
    }
    let was_turned = |block: &Block| block.fields.iter().any(|field| field.key.is(run::WEIGHTS_AT));
    if !block.is_some_and(|block| was_turned(block) && !is_read(block)) {
        return Vec::new();
    }
    let turn = |(plane, to): (String, String)| {
        asked(
            &plane,
            format!("Plane {plane}: {}. Done", card::turn_weights(&to)),
            format!("{to}; `-` for nothing"),
            Some(to),
        )
    };
    card::weights_called_for(begun.results).into_iter().map(turn).collect()
}

/// Whether a run has a first reading.
pub(super) fn is_read(block: &Block) -> bool {
    let facts = [run::READING.words(), run::BALANCED_BY.words(), run::STARTS_WITH.words()];
    block.fields.iter().any(|field| facts.contains(&field.key.name) && !field.value.is_hole())
}

/// `0, 120, 240`: as many angles as the plane has weights.
fn all_round(plane: &PlaneResults<'_>) -> String {
    let number = number_of_weights(plane);
    let angle = |n: usize| format!("{:.0}", n as f64 * 360.0 / number as f64);
    (0..number).map(angle).collect::<Vec<_>>().join(", ")
}

fn number_of_weights(plane: &PlaneResults<'_>) -> usize {
    match plane.block.field(plane::WEIGHTS).map(|field| &field.field.value) {
        Some(FieldValue::Number(number)) => *number as usize,
        _ => 2,
    }
}

pub(super) fn reading(setup: &SetupResults<'_>, readout: &Readout, channel: &str) -> Asked {
    Asked {
        head: of(run::READING, channel),
        asks: reads(setup, channel),
        example: readout.example(),
        usual: None,
        form: Form::Reading(readout.beside(run::READING, channel)),
        may_be_unknown: false,
    }
}

/// `Reading left (hub)`
pub(super) fn reads(setup: &SetupResults<'_>, channel: &str) -> String {
    match setup.channels.iter().find(|(own, _)| *own == channel) {
        Some((_, plane)) => format!("Reading {channel} ({plane})"),
        None => format!("Reading {channel}"),
    }
}

fn on_a_stand(begun: &Begun<'_, '_>, block: Option<&Block>) -> Vec<Asked> {
    let planes = begun.setup.rotor.as_deref().map_or(&[][..], |rotor| &rotor.planes);
    let rests = block.and_then(|block| block.choice(run::RESTS_ANYWHERE));
    let mut lines = vec![Asked {
        head: run::RESTS_ANYWHERE.to_string(),
        asks: "Does the rotor stay wherever it is turned to".to_owned(),
        example: check::or_list(YesNo::WORDS),
        usual: None,
        form: Form::Choice(YesNo::WORDS),
        may_be_unknown: false,
    }];
    lines.extend(weights(begun, block));
    lines.extend(extra::masses(begun, block));
    let mass = |fact: Fact<crate::units::Mass>, plane: &str, asks: String| Asked {
        head: of(fact, plane),
        asks,
        example: format!("46 {}", Unit::GRAM),
        usual: None,
        form: Form::Amount(Unit::GRAM),
        may_be_unknown: false,
    };
    if rests == Some(YesNo::No) {
        lines.push(Asked {
            head: run::HEAVY_SPOT.to_string(),
            asks: "The rotor comes to rest with this angle below".to_owned(),
            example: format!("312 {}", Unit::DEGREE),
            usual: None,
            form: Form::Amount(Unit::DEGREE),
            may_be_unknown: false,
        });
        lines.extend(planes.iter().map(|plane| {
            mass(run::BALANCED_BY, plane.name, format!("The mass opposite, in {}, that holds it anywhere", plane.name))
        }));
    }
    lines.extend(planes.iter().map(|plane| {
        mass(run::STARTS_WITH, plane.name, format!("The least mass in {} that sets it rolling", plane.name))
    }));
    lines
}

pub(super) fn channels<'b>(setup: &SetupResults<'b>) -> Vec<&'b str> {
    match setup.channels.is_empty() {
        false => setup.channels.iter().map(|(channel, _)| *channel).collect(),
        true => setup.machine.as_ref().map(|machine| machine.channels.clone()).unwrap_or_default(),
    }
}

/// A fact of a setup as it is written.
fn written<T: ?Sized>(book: &Book, setup: &SetupResults<'_>, fact: Fact<T>) -> Option<String> {
    fact_as_written(book, &setup.block, fact)
}

pub(super) fn fact_as_written<T: ?Sized>(book: &Book, block: &EffectiveBlock<'_>, fact: Fact<T>) -> Option<String> {
    let field = block.field(fact).filter(|field| !field.field.value.is_hole())?;
    Some(field.field.value_span.of(&book.file(field.item.file).text).to_owned())
}

pub(super) fn then<'b>(begun: &Begun<'b, '_>, last: &RunResults<'b>) -> Question<'b> {
    let indexed = begun.setup.is_told_by_half_sums();
    let half_turn = card::half_turn(begun.results);
    let usual = match half_turn {
        Some(_) => Some(TURN),
        None if was_on(begun.results) => Some(AGAIN),
        None => is_good(begun.results).then_some(END),
    };
    let mut ways = vec![END, AGAIN];
    if !begun.setup.is_on_stand() {
        ways.push(MOUNT);
    }
    if indexed {
        ways.push(TURN);
    }
    let open = still_open(begun);
    let seat = [arbor::turned_by(last, 180.0), arbor::remounted()];
    let turned = open.iter().cloned().chain(seat).chain(arbor::like_before(begun)).collect();
    let mounted = open.iter().cloned().chain(arbor::like_before(begun)).chain([arbor::remounted()]).collect();
    let asks = match half_turn {
        Some(HalfTurn::Separates) => "Turn the rotor half a turn on the arbor",
        Some(HalfTurn::IsFinal) => "Turn the rotor half a turn on the arbor for the second of the final runs",
        None => "What now",
    };
    let then = Then {
        item: begun.record,
        record: begun.book().item(begun.record),
        turned,
        mounted,
        like_before: open.into_iter().chain(arbor::as_it_sits(begun, last)).collect(),
        ways: ways.clone(),
    };
    Question {
        about: String::new(),
        asks: asks.to_owned(),
        example: check::or_list(&ways),
        usual: usual.map(str::to_owned),
        head: String::new(),
        wanted: Wanted::Then(Box::new(then)),
    }
}

pub(super) fn go_on(book: &Book, then: &Then<'_>, given: &str) -> Result<Step, Refused> {
    // `TURN THE ROTOR HALF A TURN`, as the card calls for it.
    let given = if without_head(given, "turn the rotor").is_some() { TURN } else { given };
    let (name, lines) = match chosen(&then.ways, given)? {
        AGAIN => ("run again", then.like_before.clone()),
        MOUNT => ("mounted again", then.mounted.clone()),
        TURN => ("turned on the arbor", then.turned.clone()),
        _ => return Ok(Step::Ends),
    };
    open(book, then.item, then.record, name, &lines)
}

/// A new run at the end of a record, with these lines.
pub(super) fn open(book: &Book, item: ItemId, record: &Block, name: &str, lines: &[String]) -> Result<Step, Refused> {
    let name = check::name_as_written(&free_name(record, name));
    let lines: String = lines.iter().map(|line| format!("  {line}\n")).collect();
    at_end(book, item, record, &format!("\n{} {name} {{\n{lines}}}", Kind::Run))
}

/// Whether a value of a block is a `?`.
pub(super) fn hole<'f>(block: &'f Block, head: &str) -> Option<&'f Field> {
    block.fields.iter().find(|field| head_of(field) == head && field.value == FieldValue::Unknown)
}

/// Whether a block says a fact of this head, whatever it says.
pub(super) fn is_written(block: &Block, head: &str) -> bool {
    says(block, head)
}

impl<'b> Begun<'b, '_> {
    fn is_first(&self, block: &Block) -> bool {
        self.results.runs.first().is_some_and(|run| run.block.written.span == block.span)
    }
}

/// What the verdict of a record lets be.
pub(super) fn is_good(record: &RecordResults<'_>) -> bool {
    record.verdict.as_ref().is_some_and(|verdict| verdict.verdict.is_good())
}
