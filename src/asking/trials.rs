//! Trial runs that a setup leaves open: a job by trial runs begins with them, and they belong to the sheet.

use super::forms::{Form, Readout};
use super::question::{Into, Line, Question, Wanted};
use super::record::{Begun, PutOn};
use super::runs;
use crate::book::{Book, SetupResults, TrialResults, TrialRunResults};
use crate::card;
use crate::check;
use crate::sheet::{Block, FieldValue};
use crate::syntax::Kind;
use crate::units::{Angle, Unit};
use crate::vocabulary::trial::TrialMassAfter;
use crate::vocabulary::{AnyFact, Choice, YesNo, record, setup, trial};

/// The first value that is a `?`, and the first reading that is not there; then a trial that amounts without angles still
/// need, unless it is left out.
pub(super) fn open<'b>(book: &'b Book, setup: &SetupResults<'b>, left_out: &[String]) -> Option<Question<'b>> {
    let item = book.item(setup.id);
    let trials: Vec<&Block> = item.inner(Kind::Trial).collect();
    let open = (0..trials.len()).find_map(|n| of_trial(book, setup, &trials[..=n], left_out));
    open.or_else(|| one_more(book, setup).filter(|question| !question.is_left_out(left_out)))
}

/// Whether a record is of the rotor that trials without angles were made with: only then do they tell its angle.
pub(super) fn of_this_rotor<'b>(begun: &Begun<'b, '_>) -> Option<Question<'b>> {
    begun.setup.trials.as_ref()?.found.amount_as_found.as_ref()?;
    let record = begun.book().item(begun.record);
    let head = record::TRIAL_RUNS_OF_THIS_ROTOR.to_string();
    if record.field(record::TRIAL_RUNS_OF_THIS_ROTOR).is_some() || begun.left_out.contains(&head) {
        return None;
    }
    Some(Question {
        about: String::new(),
        asks: "Were the trial runs made with this rotor, and nothing done to it since".to_owned(),
        example: check::or_list(YesNo::WORDS),
        usual: None,
        head,
        wanted: Wanted::Line(Box::new(Line {
            into: Into::Block(begun.record, record),
            form: Form::Choice(YesNo::WORDS),
            puts_on: None,
            may_be_left_out: true,
            once: None,
        })),
    })
}

/// Another trial with the mass of those before it, where two unbalances explain what was read.
fn one_more<'b>(book: &'b Book, setup: &SetupResults<'b>) -> Option<Question<'b>> {
    let trials = setup.trials.as_ref()?;
    let why = trials.two_answers()?;
    let (first, plane) = trials.of_balancing_speed().find_map(|run| Some((run, run.plane?)))?;
    let written = |head: String, value: Option<String>| value.map(|value| format!("{head}: {value}"));
    let radius = [
        written(trial::RADIUS.to_string(), runs::fact_as_written(book, &first.block, trial::RADIUS)),
        written(trial::DIAMETER.to_string(), runs::fact_as_written(book, &first.block, trial::DIAMETER)),
    ];
    let mass_in = format!("{}: {}", trial::MASS_IN, check::name_as_written(plane));
    let speed = runs::fact_as_written(book, &setup.block, setup::BALANCING_SPEED).unwrap_or_else(|| "?".to_owned());
    let outer = book.item(setup.id);
    let names = std::iter::once("one more".to_owned()).chain((2..).map(|n: u32| format!("one more {n}")));
    let is_free = |name: &String| outer.inner(Kind::Trial).all(|trial| trial.name_text() != *name);
    let heading = format!("{} {}", Kind::Trial, check::name_as_written(&names.into_iter().find(is_free)?));
    let after =
        vec![format!("{}: {}", trial::TRIAL_MASS, TrialMassAfter::TakenOff), format!("{}: {speed}", trial::SPEED)];
    let mass = runs::fact_as_written(book, &first.block, trial::MASS);
    let mass = written(trial::MASS.to_string(), mass).into_iter().chain(radius.into_iter().flatten());
    let before = std::iter::once(mass_in).chain(mass).collect();
    let into = Into::New { item: setup.id, outer, heading, before, after };
    let places = places(setup, plane);
    let example = match free_place(trials, &places) {
        Some(place) => format!("place {place}, or {}", places[place - 1]),
        None => format!("{:.0} {}", (widest_gap(trials) / 10.0).round() * 10.0 % 360.0, Unit::DEGREE),
    };
    Some(Question {
        about: format!("Another trial run, because {why}; its mass comes off after it"),
        asks: format!("The same mass in {plane} at another angle. It sits at"),
        example: format!("{example}; `-` where it is not made"),
        usual: None,
        head: trial::ANGLE.to_string(),
        wanted: Wanted::Line(Box::new(Line {
            into,
            form: Form::Angle(places),
            puts_on: Some(PutOn::Trial),
            may_be_left_out: true,
            once: None,
        })),
    })
}

/// The place nearest to the middle of the widest gap between the trials, by its number.
fn free_place(trials: &TrialResults<'_>, places: &[String]) -> Option<usize> {
    let middle = Angle::degrees(widest_gap(trials));
    let off = |place: &String| {
        let degrees: f64 = place.split(' ').next()?.parse().ok()?;
        Some((Angle::degrees(degrees) - middle).cos())
    };
    let nearest = places.iter().enumerate().filter_map(|(n, place)| Some((n + 1, off(place)?)));
    nearest.max_by(|a, b| a.1.total_cmp(&b.1)).map(|(place, _)| place)
}

/// The middle of the widest gap between the angles of the trials, in degrees.
fn widest_gap(trials: &TrialResults<'_>) -> f64 {
    let angle = |run: &TrialRunResults<'_>| Some(run.put_on.as_ref()?.get()?.angle().in_degrees().rem_euclid(360.0));
    let mut angles: Vec<f64> = trials.of_balancing_speed().filter_map(angle).collect();
    angles.sort_by(f64::total_cmp);
    let next = angles.iter().skip(1).copied().chain(angles.first().map(|first| first + 360.0));
    let gap = angles.iter().copied().zip(next).max_by(|a, b| (a.1 - a.0).total_cmp(&(b.1 - b.0)));
    gap.map_or(0.0, |(from, to)| f64::midpoint(from, to)).rem_euclid(360.0)
}

/// What is asked of the last of these trials.
fn of_trial<'b>(
    book: &'b Book,
    setup: &SetupResults<'b>,
    trials: &[&'b Block],
    left_out: &[String],
) -> Option<Question<'b>> {
    let (block, before) = trials.split_last()?;
    let readout = Readout::of(setup);
    let mut asked = Vec::new();
    let mut ask = |head: String, asks: String, example: String, form: Form| asked.push((head, asks, example, form));
    if block.field(trial::MASS_IN).is_some() {
        let grams = Form::Amount(Unit::GRAM);
        ask(trial::MASS.to_string(), "Trial mass, weighed".to_owned(), format!("5 {}", Unit::GRAM), grams);
        for (fact, asks) in
            [(trial::RADIUS, "Radius to its centre"), (trial::DIAMETER, "Twice the radius to its centre")]
        {
            let millimetres = Form::Amount(Unit::MILLIMETRE);
            ask(fact.to_string(), asks.to_owned(), format!("110 {}", Unit::MILLIMETRE), millimetres);
        }
        let places = match block.field(trial::MASS_IN).map(|field| &field.value) {
            Some(FieldValue::Name(name)) => places(setup, &name.text),
            _ => Vec::new(),
        };
        let or_place = if places.is_empty() { "" } else { ", or `place 3`" };
        ask(
            trial::ANGLE.to_string(),
            "It sits at".to_owned(),
            format!("0 {}{or_place}", Unit::DEGREE),
            Form::Angle(places),
        );
        let words = TrialMassAfter::WORDS;
        ask(
            trial::TRIAL_MASS.to_string(),
            "Before the next run the mass is".to_owned(),
            check::or_list(words),
            Form::Choice(words),
        );
    }
    ask(
        trial::SPEED.to_string(),
        "Speed of the run".to_owned(),
        format!("1150 {}", Unit::RPM),
        Form::Amount(Unit::RPM),
    );
    let mut open = asked.into_iter().find_map(|(head, asks, example, form)| {
        let hole = runs::hole(block, &head)?;
        Some((head, asks, example, form, Into::Hole(setup.id, hole.value_span)))
    });
    let about = about(&book.file(setup.id.file).text, block, before);
    if open.is_none()
        && let Some(question) = as_weighed(book, setup, (block, before), &about)
        && !question.is_left_out(left_out)
    {
        return Some(question);
    }
    if open.is_none() {
        open = runs::channels(setup).into_iter().find_map(|channel| {
            let asked = runs::reading(setup, &readout, channel);
            let into = match runs::hole(block, &asked.head) {
                Some(hole) => Into::Hole(setup.id, hole.value_span),
                None if runs::is_written(block, &asked.head) => return None,
                None => Into::Block(setup.id, block),
            };
            Some((asked.head, asked.asks, asked.example, asked.form, into))
        });
    }
    let (head, asks, example, form, into) = open?;
    let usual = (head == trial::SPEED.words())
        .then(|| runs::fact_as_written(book, &setup.block, setup::BALANCING_SPEED))
        .flatten();
    // The run as found has none, and comes first.
    let puts_on = block.field(trial::MASS_IN).map(|_| PutOn::Trial);
    Some(Question {
        about,
        asks,
        example,
        usual,
        head,
        wanted: Wanted::Line(Box::new(Line { into, form, puts_on, may_be_left_out: false, once: None })),
    })
}

/// What the mass of a trial weighs that the sheet plans, before anything is read with it: as it is weighed. The same mass is
/// weighed once.
fn as_weighed<'b>(
    book: &'b Book,
    setup: &SetupResults<'b>,
    (block, before): (&'b Block, &[&'b Block]),
    about: &str,
) -> Option<Question<'b>> {
    let text = &book.file(setup.id.file).text;
    let mass = |block: &'b Block| block.field(trial::MASS).filter(|field| !field.value.is_hole());
    let planned = mass(block).filter(|_| block.field(trial::MASS_IN).is_some())?;
    let is_read =
        |block: &Block| block.fields.iter().any(|field| field.key.is(trial::READING) && !field.value.is_hole());
    let written = planned.value_span.of(text);
    let is_same = |other: &&'b Block| mass(other).is_some_and(|mass| mass.value_span.of(text) == written);
    if is_read(block) || before.iter().any(|other| is_same(other) && is_read(other)) {
        return None;
    }
    let head = trial::MASS.to_string();
    Some(Question {
        about: about.to_owned(),
        asks: "Trial mass as weighed, with what holds it".to_owned(),
        example: format!("5 {}", Unit::GRAM),
        usual: Some(written.to_owned()),
        head: head.clone(),
        wanted: Wanted::Line(Box::new(Line {
            into: Into::Told(setup.id, planned.value_span),
            form: Form::Amount(Unit::GRAM),
            puts_on: Some(PutOn::Trial),
            may_be_left_out: false,
            once: Some(format!("{} {}: {head}", Kind::Trial, check::name_as_written(block.name_text()))),
        })),
    })
}

/// The angles of the places of a plane, where they have numbers.
fn places(setup: &SetupResults<'_>, plane: &str) -> Vec<String> {
    let plane = setup.rotor.as_deref().and_then(|rotor| rotor.plane(plane));
    plane.filter(|plane| plane.has_numbers()).map(card::angles_of_places).unwrap_or_default()
}

/// `Trial run screw in c: PUT 12.0 g in plane c, radius 110 mm, at 90 deg; it stays on`
fn about(text: &str, block: &Block, before: &[&Block]) -> String {
    let said = |fact: AnyFact, words: &str| {
        let field = block.field(fact).filter(|field| !field.value.is_hole())?;
        Some(format!("{words}{}", field.value_span.of(text)))
    };
    let stays = |block: &Block| block.choice(trial::TRIAL_MASS) == Some(TrialMassAfter::LeftOn);
    let mut words = format!("Trial run {}", block.name_text());
    if let Some(off) = before.last().filter(|last| last.field(trial::MASS_IN).is_some() && !stays(last)) {
        words += &format!("; the mass of {} is OFF", off.name_text());
    }
    let Some(plane) = said(trial::MASS_IN.any(), "in plane ") else { return words };
    let place = [
        Some(plane),
        said(trial::RADIUS.any(), "radius "),
        said(trial::DIAMETER.any(), "diameter "),
        said(trial::ANGLE.any(), "at "),
    ];
    let place = place.into_iter().flatten().collect::<Vec<_>>().join(", ");
    let mass = said(trial::MASS.any(), "").unwrap_or_else(|| "the trial mass".to_owned());
    let then = match block.choice(trial::TRIAL_MASS) {
        Some(TrialMassAfter::LeftOn) => "; it stays on",
        Some(TrialMassAfter::TakenOff) => "; it comes off after the run",
        None => "",
    };
    format!("{words}: PUT {mass} {place}{then}")
}
