//! `balance`: the record of a rotor, asked at the machine.

use std::path::PathBuf;

use clap::Args;

use super::answers::{AnswerArguments, Answers};
use super::desk::{Desk, Tried};
use super::practice::{self, PracticeArguments, Virtual};
use crate::asking::{self, Begun, PutOn, Question, Rotor, Step};
use crate::book::{Book, Computed, Computing, RecordResults};
use crate::card;
use crate::check;
use crate::cli::find::{self, ItemKind};
use crate::cli::stated::stated;
use crate::cli::{Exit, Failure, Outcome, Session};
use crate::disk;
use crate::mechanics::verdict::Verdict;
use crate::sheet::FieldValue;
use crate::syntax::Kind;
use crate::text::harmless;
use crate::vocabulary::run::CalibrationMasses;
use crate::vocabulary::setup::Status;
use crate::vocabulary::{Choice, check_mass, record, setup};

/// Balance a rotor: answer questions at the machine, and the record is written for you
///
/// Asks one thing at a time, in the order of the bench: serial number, speed, what each channel reads, what was done. It says
/// at once what to take off or put on where, warns as `check` does, and ends with the verdict. The record is written after each
/// answer; stop with Ctrl-C when you like, and the same command picks up where you stopped. `back` takes the last answer out.
/// If the sheet is void or withdrawn, it says so and continues only if you confirm; the record then
/// has `despite`, and proves nothing.
#[derive(Args)]
#[command(after_help = "Examples:\n  rotorbook balance \"fan wheel 315 on the soft bench\"\n  \
    rotorbook balance \"fan wheel 315 on the soft bench\" --serial 26-0420 --answers run.txt\n  \
    rotorbook balance \"fan wheel 315 on the soft bench\" --rehearse")]
pub(in crate::cli) struct BalanceArguments {
    /// The name of the setup, or the code on its card; the name of a record, to go on with it
    #[arg(value_name = "SETUP")]
    name: String,

    /// The serial number of the rotor
    #[arg(long, value_name = "TEXT", value_parser = stated)]
    serial: Option<String>,

    /// Who balances it
    #[arg(long, value_name = "TEXT", value_parser = stated)]
    by: Option<String>,

    /// The customer
    #[arg(long, value_name = "TEXT", value_parser = stated)]
    customer: Option<String>,

    /// The order number
    #[arg(long, value_name = "TEXT", value_parser = stated)]
    order: Option<String>,

    /// The file of the record; without it, a file of its own beside the other records
    #[arg(short, long, value_name = "FILE")]
    output: Option<PathBuf>,

    #[command(flatten)]
    practice: PracticeArguments,

    #[command(flatten)]
    answers: AnswerArguments,
}

/// What is worked on.
struct Work {
    setup: String,
    record: Option<String>,
    left_out: Vec<String>,
    /// What was put on the rotor, and is not said to be off.
    put_on: Vec<PutOn>,
    /// The plane in which something was done just now.
    corrected: Option<String>,
    /// How many runs were told of.
    told: usize,
    /// The rotor that is practised on.
    on: Option<Virtual>,
    about: String,
    /// Why the sheet is not to be used, where the work goes on all the same.
    despite: Option<String>,
}

pub(in crate::cli) fn run(session: &mut Session, arguments: &BalanceArguments) -> Outcome {
    let mut answers = Answers::of(&arguments.answers)?;
    let (mut desk, mut work) = begun(session, arguments)?;
    if !may_go_on(session, &mut answers, &desk, &mut work)? {
        return stopped(session, &desk, &work);
    }
    tell_what_to_set(session, &desk, &work)?;
    let serial = if work.on.is_some() { Some(practice::SERIAL) } else { arguments.serial.as_deref() };
    let mut answers = answers.with_serial(serial);
    loop {
        say_despite(&mut desk, &work)?;
        let book = desk.book.clone();
        let computing = Computing::without_explanations(&book);
        let setup = computing
            .setup(desk.item(Kind::Setup, &work.setup)?)
            .ok_or_else(|| Failure::new("the setup cannot be read"))?;
        let id = work.record.as_deref().map(|name| desk.item(Kind::Record, name)).transpose()?;
        let computed = id.map(|id| (id, computing.item(id)));
        let question = match &computed {
            Some((record, Computed::Record(results))) => {
                let setup = results.setup.as_deref().unwrap_or(&setup);
                let begun = Begun {
                    computing: &computing,
                    record: *record,
                    results,
                    setup,
                    left_out: &work.left_out,
                    put_on: &work.put_on,
                };
                if let Some(plane) = work.corrected.take() {
                    tell_what_is_left(session, results, &plane);
                }
                let question = asking::next_of_record(&begun);
                if question.as_ref().is_some_and(Question::comes_after_a_run) {
                    tell(session, &mut work, &book, results);
                }
                question
            }
            // A simulated rotor has no check mass.
            _ if work.on.is_some() => {
                let left_out = [&work.left_out[..], &[check_mass::CHECKED.to_string()]].concat();
                Some(asking::first(&setup, &book, rotor(&setup, &book, arguments), &left_out))
            }
            _ => Some(asking::first(&setup, &book, rotor(&setup, &book, arguments), &work.left_out)),
        };
        let Some(mut question) = question else { break };
        if let (Some(on), Some(record)) = (&mut work.on, id) {
            on.answer(session, &mut question, book.item(record));
        }
        if work.about != question.about && !question.about.is_empty() {
            session.terminal.show(&format!("\n{}", harmless(&question.about)));
        }
        work.about.clone_from(&question.about);
        let Some(answer) = answers.ask(session, &question)? else { return stopped(session, &desk, &work) };
        if answer == "back" {
            back(session, &mut desk, &mut work)?;
            continue;
        }
        match question.answered(&book, &answer) {
            Err(refused) => session.terminal.warn(&refused.0),
            Ok(Step::Ends | Step::GoesOnDespite) => break,
            Ok(Step::LeavesOut(plane)) => {
                if id.is_none() && work.on.is_none() && stops(session, &desk, &work)? {
                    return stopped(session, &desk, &work);
                }
                if let Some(plane) = question.corrects() {
                    session.terminal.show(&format!("  not written: nothing was done in plane {}", harmless(plane)));
                }
                work.left_out.push(plane);
            }
            Ok(Step::GoesOn(name)) => {
                session.terminal.say(&format!("continuing record \"{name}\""));
                work.record = Some(name);
            }
            Ok(Step::Begins { name, text }) => {
                let path = desk.place_of(&work.setup, &name, arguments.output.as_deref());
                desk.begin(&path, &text)?;
                if work.on.is_none() {
                    session.terminal.say(&format!("record \"{name}\" begun in {path}"));
                }
                desk.take_as_said(desk.item(Kind::Record, &name)?);
                work.record = Some(name);
            }
            Ok(Step::Writes { file, edits }) => {
                let item = id.filter(|id| id.file == file).unwrap_or(setup.id);
                if let Tried::Written = desk.change(session, item, &edits, &answer)? {
                    if id.is_none() && stops(session, &desk, &work)? {
                        return stopped(session, &desk, &work);
                    }
                    // What an order leaves is said with it.
                    work.corrected = question.corrects().filter(|_| !answer.is_empty()).map(str::to_owned);
                    work.put_on.extend(question.puts_on());
                    if question.asks_for_masses()
                        && edits.iter().any(|edit| edit.text.contains(CalibrationMasses::Off.words()))
                    {
                        work.put_on.clear();
                    }
                    if question.corrects_a_run() {
                        work.told = 0;
                    }
                    work.left_out.extend(question.once().map(str::to_owned));
                    if question.opens_a_run() {
                        // Trials are of the rotor, not of one run.
                        work.left_out.retain(|what| what.starts_with(Kind::Trial.words()));
                    }
                    super::written(session, &question, &edits);
                }
            }
        }
    }
    finish(session, &desk, &work)
}

/// Says what the machine is set to, as the card does: until the first run is there.
fn tell_what_to_set(session: &mut Session, desk: &Desk, work: &Work) -> Result<(), Failure> {
    let record = work.record.as_deref().map(|name| desk.item(Kind::Record, name)).transpose()?;
    if record.is_some_and(|id| desk.book.item(id).inner(Kind::Run).next().is_some()) {
        return Ok(());
    }
    let computing = Computing::without_explanations(&desk.book);
    if let Some(setup) = computing.setup(desk.item(Kind::Setup, &work.setup)?) {
        session.terminal.show("");
        card::before_first_run(&desk.book, &setup).iter().for_each(|line| session.terminal.show(&harmless(line)));
    }
    Ok(())
}

/// Whether the check mass shows that the sheet does not hold; says so.
fn stops(session: &mut Session, desk: &Desk, work: &Work) -> Result<bool, Failure> {
    let computing = Computing::without_explanations(&desk.book);
    let Some(setup) = computing.setup(desk.item(Kind::Setup, &work.setup)?) else { return Ok(false) };
    let why = asking::stop_by_check_mass(&setup);
    if let Some(why) = &why {
        session.terminal.show(&format!("\nSTOP: {}", harmless(why)));
    }
    Ok(why.is_some())
}

/// The book, with the setup or the record that the name means.
fn begun(session: &mut Session, arguments: &BalanceArguments) -> Result<(Desk, Work), Failure> {
    let mut books = find::books(session)?;
    let name = find::by_code(&books, &arguments.name)?.unwrap_or_else(|| arguments.name.clone());
    let is_record = find::item(&books, &name, Some(ItemKind(Kind::Record))).is_ok();
    let kind = if is_record { Kind::Record } else { Kind::Setup };
    let (loaded, id) = find::item(&books, &name, Some(ItemKind(kind)))?;
    let (mut setup, mut record) = (loaded.book.item(id).name_text().to_owned(), None);
    if is_record {
        record = Some(setup);
        let named = loaded.book.item(id).field(record::SETUP).map(|field| &field.value);
        let Some(FieldValue::Name(name)) = named else { return Err(Failure::new("the record names no setup")) };
        setup = name.text.to_string();
    }
    let root = loaded.root.clone();
    let at = books.iter().position(|other| other.root == root).unwrap_or(0);
    let mut loaded = books.swap_remove(at);
    let on = arguments.practice.begun(session, &mut loaded.book, &setup)?;
    if on.is_some() && record.is_some() {
        return Err(Failure::new("practice begins with a setup, not with a record"));
    }
    let desk = if on.is_some() { Desk::for_practice(loaded) } else { Desk::of(loaded) };
    Ok((
        desk,
        Work {
            setup,
            record,
            left_out: Vec::new(),
            put_on: Vec::new(),
            corrected: None,
            told: 0,
            on,
            about: String::new(),
            despite: None,
        },
    ))
}

/// Says why nobody is to work by the sheet, and whether the work goes on all the same.
fn may_go_on(session: &mut Session, answers: &mut Answers, desk: &Desk, work: &mut Work) -> Result<bool, Failure> {
    let computing = Computing::without_explanations(&desk.book);
    let Some(setup) = computing.setup(desk.item(Kind::Setup, &work.setup)?) else { return Ok(true) };
    let name = &work.setup;
    if work.on.is_none() {
        // A void calibration is asked about below.
        super::may_begin(session, &computing, &setup, &["calibration-void"])?;
    }
    let status = setup.block.choice(setup::STATUS);
    let void = setup.void_causes.iter().map(|cause| format!("the calibration is void: {}", cause.what));
    let withdrawn = (status == Some(Status::Withdrawn)).then(|| "the sheet is withdrawn".to_owned());
    let open = card::open_settings(&desk.book, &setup);
    let open = (!open.is_empty()).then(|| format!("it gives no setting for {}", check::and_list(&open)));
    let causes: Vec<String> = withdrawn.into_iter().chain(void).chain(open).collect();
    if causes.is_empty() {
        if !setup.is_released() {
            session.terminal.say(&format!("setup \"{name}\" is not released: its numbers may change"));
        }
        return Ok(true);
    }
    let why = causes.join("; ");
    session.terminal.warn(&format!("setup \"{name}\" is not to be used: {why}"));
    let is_said = |record: &String| {
        Ok::<_, Failure>(desk.book.item(desk.item(Kind::Record, record)?).field(record::DESPITE).is_some())
    };
    if work.on.is_some() || work.record.as_ref().map(is_said).transpose()? == Some(true) {
        return Ok(true);
    }
    let question = Question::whether_despite(String::new());
    loop {
        let Some(answer) = answers.ask(session, &question)? else { return Ok(false) };
        match question.answered(&desk.book, &answer) {
            Ok(Step::GoesOnDespite) => {
                work.despite = Some(why);
                return Ok(true);
            }
            Ok(_) => return Ok(false),
            Err(refused) => session.terminal.warn(&refused.0),
        }
    }
}

/// Writes into the record what it was run despite.
fn say_despite(desk: &mut Desk, work: &Work) -> Result<(), Failure> {
    let (Some(despite), Some(name)) = (&work.despite, &work.record) else { return Ok(()) };
    let id = desk.item(Kind::Record, name)?;
    let block = desk.book.item(id);
    if block.field(record::DESPITE).is_some() {
        return Ok(());
    }
    let line = format!("{}: {}", record::DESPITE, check::quoted(despite));
    let text = &desk.book.file(id.file).text;
    let edit = block.field(record::SETUP).and_then(|setup| check::line_behind(text, setup, &line));
    let edit =
        edit.ok_or_else(|| Failure::new("`setup` has no line of its own in the record: run `rotorbook fmt` first"))?;
    desk.add(id.file, &[edit])
}

fn rotor<'b>(setup: &crate::book::SetupResults<'b>, book: &'b Book, arguments: &BalanceArguments) -> Rotor<'b> {
    Rotor {
        by: arguments.by.clone(),
        customer: arguments.customer.clone(),
        order: arguments.order.clone(),
        ..Rotor::of(setup, book, &disk::today())
    }
}

/// Says what a run that is complete calls for, once.
fn tell(session: &mut Session, work: &mut Work, book: &Book, results: &RecordResults<'_>) {
    let runs = results.runs.len();
    if results.last_state.is_empty() || runs <= work.told {
        work.told = work.told.min(runs);
        return;
    }
    work.told = runs;
    session.terminal.show("");
    for line in card::summary(book, results) {
        session.terminal.show(&line);
    }
}

/// Says what a correction leaves: an order that was done in part is seen before the next run.
fn tell_what_is_left(session: &mut Session, results: &RecordResults<'_>, plane: &str) {
    if let Some(words) = card::off_the_places(results, plane) {
        session.terminal.show(&format!("  {}", harmless(&words)));
    }
    match card::left_by_corrections(results, plane) {
        Some((words, true)) => {
            let words = format!("{words}. If this is not what was done, `back` takes the answer out");
            session.terminal.warn(&harmless(&words));
        }
        Some((words, false)) => session.terminal.show(&format!("  {}", harmless(&words))),
        None => {}
    }
}

fn back(session: &mut Session, desk: &mut Desk, work: &mut Work) -> Result<(), Failure> {
    work.about = String::new();
    // What was told of a run may have gone by the answer that is taken out.
    work.told = 0;
    if work.left_out.pop().is_some() || desk.back()? {
        session.terminal.say("last answer removed");
    } else {
        let record = work.record.as_deref().map(|name| desk.item(Kind::Record, name)).transpose()?;
        let last = record.and_then(|id| super::last_answer(&desk.book, id.file, &desk.book.item(id).blocks));
        session.terminal.say(&super::nothing_to_take_back(last, "balance"));
    }
    Ok(())
}

fn stopped(session: &mut Session, desk: &Desk, work: &Work) -> Outcome {
    if work.on.is_some() {
        finish(session, desk, work)?;
        return Ok(Exit::Findings);
    }
    match &work.record {
        Some(name) => session
            .terminal
            .say(&format!("stopped; every answer is in the record, and `rotorbook balance \"{name}\"` continues it")),
        None => session.terminal.say("stopped; no record was begun"),
    }
    Ok(Exit::Findings)
}

fn finish(session: &mut Session, desk: &Desk, work: &Work) -> Outcome {
    let Some(name) = &work.record else { return Ok(Exit::Clean) };
    let computing = Computing::without_explanations(&desk.book);
    let Computed::Record(results) = computing.item(desk.item(Kind::Record, name)?) else { return Ok(Exit::Clean) };
    let word = results.verdict.as_ref().map(|verdict| verdict.verdict);
    if let Some(on) = &work.on {
        return Ok(on.end(session, desk.book.item(results.id), word));
    }
    session.terminal.say(&format!(
        "record \"{name}\": {}; `rotorbook card \"{name}\" -o card.pdf` prints it",
        word.map_or("no verdict", crate::book::word_of)
    ));
    let is_good = word.is_some_and(Verdict::is_good);
    Ok(if is_good { Exit::Clean } else { Exit::Findings })
}
