//! `overview`: how the sheets of a shop stand, a line a setup.

use clap::{Args, ValueEnum};
use serde::Serialize;

use super::committed::Committed;
use super::find;
use super::layout::{WIDTH, columns, hanging};
use super::load::Loaded;
use super::report::counted;
use super::terminal::{Terminal, harmless};
use super::{Exit, Outcome, Session, csv};
use crate::book::{Book, Computed, Computing, Day, ItemId, ProofShows, SetupResults};
use crate::card::{self, BARRED};
use crate::check::{self, check_mass_outside};
use crate::mechanics::verdict::Verdict;
use crate::syntax::Kind;
use crate::trend;
use crate::vocabulary::setup::Status;
use crate::vocabulary::{Choice, machine, proof, record, setup};

/// Rises whenever a program that reads the document would have to be changed.
const VERSION: u32 = 1;

/// Show the status of all setups: released or not to be used and why, proven when, records since
///
/// A line a setup: what its card is stamped with, whether its calibration holds and if not why, what its check mass read last where
/// that was outside its band, when it was proven, when its machine was serviced last, how many records were made since the
/// proof and how many of them are not within, and how many values are still `?` in the sheets that it rests on.
#[derive(Args)]
#[command(after_help = "Examples:\n  rotorbook overview\n  rotorbook overview --format csv > overview.csv")]
pub(super) struct OverviewArguments {
    /// How to say it; json writes one document per book, each on a line
    #[arg(long, value_enum, default_value_t = Format::Text)]
    format: Format,
}

#[derive(Clone, Copy, PartialEq, Eq, Debug, ValueEnum)]
enum Format {
    /// A screen
    Text,
    /// For programs
    Json,
    /// For spreadsheets
    Csv,
}

#[derive(Serialize)]
struct Document {
    version: u32,
    setups: Vec<Standing>,
    /// What the records of each machine say that it drifts by; machines of which they say nothing are left out.
    drifts: Vec<Drift>,
}

#[derive(Serialize)]
struct Drift {
    machine: String,
    says: Vec<String>,
}

/// The stamp of a card.
#[derive(Serialize)]
struct Stamp {
    word: String,
    meaning: &'static str,
    #[serde(skip)]
    is_firm: bool,
}

/// How one setup stands.
#[derive(Serialize)]
struct Standing {
    setup: String,
    rotor: Option<String>,
    machine: Option<String>,
    /// `draft`, `released` or `withdrawn`, as the sheet says.
    status: &'static str,
    /// What its card is stamped with: `RELEASED C`, `DRAFT`, `NOT TO BE USED`; and why.
    stamp: Stamp,
    revision: Option<String>,
    /// The day of its latest proof, where that shows that it may be trusted.
    proven: Option<String>,
    /// What its latest proof shows: `proven`, `failed`, `unfinished`; `never` without one, `not wanted` where trial runs in its
    /// own bearings or a static stand need none.
    proof: &'static str,
    /// The day on which its machine was serviced last.
    serviced: Option<String>,
    /// Why its calibration is void; empty where it holds, or was never proven.
    void: Vec<String>,
    /// What its check mass read last, where that was outside its band.
    check_mass: Option<String>,
    /// Records since the proof, or all where there is none.
    records: usize,
    /// Those of them that are not within.
    not_within: usize,
    /// Values that are `?` in the sheet and all that it rests on.
    open: usize,
}

pub(super) fn run(session: &mut Session, arguments: &OverviewArguments) -> Outcome {
    let books = find::books(session)?;
    let computings: Vec<Computing<'_>> = books.iter().map(|loaded| Computing::for_judging(&loaded.book)).collect();
    let standings: Vec<Vec<Standing>> =
        books.iter().zip(&computings).map(|(loaded, computing)| of_book(loaded, computing)).collect();
    let terminal = &mut session.terminal;
    match arguments.format {
        Format::Json => {
            standings.into_iter().zip(&computings).for_each(|(setups, computing)| {
                terminal.json(&Document { version: VERSION, setups, drifts: drifts(computing) });
            });
        }
        Format::Csv => {
            let head = [
                "setup",
                "rotor",
                "machine",
                "status",
                "revision",
                "proven",
                "proof",
                "serviced",
                "void",
                "check mass",
                "records",
                "not within",
                "open",
                "stamp",
                "stamp means",
            ];
            let rows = standings.iter().flatten().map(Standing::cells);
            terminal.print(&csv::document(&head, rows));
        }
        Format::Text => {
            for (setups, computing) in standings.iter().zip(&computings) {
                text(terminal, setups);
                for one in drifts(computing) {
                    terminal.line("");
                    for says in one.says {
                        let line = hanging(&format!("{}: ", harmless(&one.machine)), &harmless(&says), WIDTH);
                        line.lines().for_each(|line| terminal.line(line));
                    }
                }
            }
        }
    }
    Ok(Exit::Clean)
}

fn of_book(loaded: &Loaded, computing: &Computing<'_>) -> Vec<Standing> {
    let book = &loaded.book;
    let ids: Vec<ItemId> = book.items().filter(|id| book.item(*id).kind == Kind::Setup).collect();
    let found = check::check(book);
    let committed = Committed::of(loaded, ids.iter().copied());
    let one = |id: &ItemId| {
        let setup = computing.setup(*id)?;
        let computed = Computed::Setup(setup.clone());
        let stamped = card::standing(book, &computed, *id, &found, &committed.printed(loaded, &[*id]))?;
        standing(computing, *id, &setup, stamped)
    };
    let mut setups: Vec<Standing> = ids.iter().filter_map(one).collect();
    setups.sort_by(|a, b| a.setup.cmp(&b.setup));
    setups
}

/// What drifts, machine by machine.
fn drifts(computing: &Computing<'_>) -> Vec<Drift> {
    let book = computing.book();
    let machines = book.items().filter(|id| book.item(*id).kind == Kind::Machine);
    let drift = machines.map(|id| {
        let found = trend::of_machine(computing, id);
        Drift { says: found.sentences(), machine: found.machine }
    });
    drift.filter(|one| !one.says.is_empty()).collect()
}

fn standing(
    computing: &Computing<'_>,
    id: ItemId,
    setup: &SetupResults<'_>,
    stamped: card::Standing,
) -> Option<Standing> {
    let card::Standing::Stamped(stamp) = stamped else { return None };
    let book = computing.book();
    let name = |id: ItemId| book.item(id).name_text().to_owned();
    let day_of_proof = setup.block.latest_proof().and_then(|proof| proof.day(proof::DATE));
    let shows = setup.proof_shows(book.rules());
    let proven = day_of_proof.filter(|_| shows == ProofShows::Proven);
    let machine = setup.machine.as_ref();
    let serviced = machine.and_then(|machine| machine.block.latest(machine::SERVICED, None)).map(|(day, _)| day);
    let revision = setup
        .block
        .field(setup::REVISION)
        .map(|field| field.field.value_span.of(&book.file(field.item.file).text).trim_matches('"').to_owned());
    let verdicts = verdicts(computing, id, day_of_proof);
    let good = |verdict: &&Option<Verdict>| matches!(verdict, Some(Verdict::Within | Verdict::WithinAsRead));
    Some(Standing {
        setup: name(id),
        rotor: setup.rotor.as_deref().map(|rotor| name(rotor.id)),
        machine: machine.map(|machine| name(machine.id)),
        status: setup.block.choice(setup::STATUS).unwrap_or(Status::Draft).words(),
        stamp: Stamp { word: stamp.word.into_owned(), meaning: stamp.meaning, is_firm: stamp.firm },
        revision,
        proven: proven.map(|day| day.to_string()),
        proof: shows.words(),
        serviced: serviced.map(|day| day.to_string()),
        void: setup.void_causes.iter().map(|cause| cause.what.to_string()).collect(),
        check_mass: setup.check_mass.as_ref().and_then(check_mass_outside),
        records: verdicts.len(),
        not_within: verdicts.len() - verdicts.iter().filter(good).count(),
        open: card::open_values(book, id),
    })
}

/// The verdicts of the records since a day.
fn verdicts(computing: &Computing<'_>, setup: ItemId, since: Option<Day>) -> Vec<Option<Verdict>> {
    let book: &Book = computing.book();
    let records = book.naming(Kind::Setup, book.item(setup).name_text()).iter();
    let records = records.filter(|id| book.item(**id).kind == Kind::Record);
    records
        .filter_map(|id| match computing.item(*id) {
            Computed::Record(one) => {
                let day = one.block.day(record::DATE);
                let is_later = since.is_none_or(|since| day.is_none_or(|day| day >= since));
                is_later.then(|| one.verdict.as_ref().map(|verdict| verdict.verdict))
            }
            _ => None,
        })
        .collect()
}

impl Standing {
    fn cells(&self) -> [String; 15] {
        let text = |text: &Option<String>| text.clone().unwrap_or_default();
        [
            self.setup.clone(),
            text(&self.rotor),
            text(&self.machine),
            self.status.to_owned(),
            text(&self.revision),
            text(&self.proven),
            self.proof.to_owned(),
            text(&self.serviced),
            self.void.join("; "),
            text(&self.check_mass),
            self.records.to_string(),
            self.not_within.to_string(),
            self.open.to_string(),
            self.stamp.word.clone(),
            self.stamp.meaning.to_owned(),
        ]
    }

    /// `RELEASED C`, `NOT TO BE USED`, `RELEASED C, CHECK FAILED`
    fn state(&self) -> String {
        let check = if self.check_mass.is_some() { ", CHECK FAILED" } else { "" };
        format!("{}{check}", self.stamp.word)
    }

    /// Why nobody may go by a sheet that is released or was, where nothing else of it says so.
    fn barred(&self) -> Option<String> {
        let is_told = !self.stamp.is_firm && self.void.is_empty() && self.status != Status::Draft.words();
        let revision = self.revision.as_ref().map(|revision| format!("revision {revision}: ")).unwrap_or_default();
        (is_told || self.stamp.word == BARRED && self.void.is_empty())
            .then(|| format!("{revision}{}", self.stamp.meaning))
    }
}

fn text(terminal: &mut Terminal, setups: &[Standing]) {
    let released = setups.iter().filter(|one| one.stamp.is_firm);
    let void = setups.iter().filter(|one| !one.void.is_empty()).count();
    let shows = |shows: ProofShows| setups.iter().filter(|one| one.proof == shows.words()).count();
    let (failed, never) = (shows(ProofShows::Failed) + shows(ProofShows::Unfinished), shows(ProofShows::Never));
    let open = setups.iter().filter(|one| one.open > 0).count();
    terminal.line(&format!(
        "{}: {} released, {void} with a void calibration, {never} never proven, {open} with values still open",
        counted(setups.len(), "setup"),
        released.count()
    ));
    if failed > 0 {
        terminal.line(&match failed {
            1 => "1 proof fails or is unfinished".to_owned(),
            _ => format!("{failed} proofs fail or are unfinished"),
        });
    }
    terminal.line("");
    let heads = ["setup", "state", "proven", "serviced", "records", "not within", "open"].map(str::to_owned).to_vec();
    let number = |count: usize| if count == 0 { "–".to_owned() } else { count.to_string() };
    let day = |day: &Option<String>| day.clone().unwrap_or_else(|| "–".to_owned());
    let row = |one: &Standing| {
        vec![
            shortened(&one.setup),
            one.state(),
            match &one.proven {
                None if one.proof != ProofShows::Never.words() => one.proof.to_owned(),
                proven => day(proven),
            },
            day(&one.serviced),
            number(one.records),
            number(one.not_within),
            number(one.open),
        ]
    };
    let rows: Vec<Vec<String>> = std::iter::once(heads).chain(setups.iter().map(row)).collect();
    let lines = columns(&rows);
    for (n, line) in lines.iter().enumerate() {
        let line = harmless(line);
        terminal.line(&if n == 0 { terminal.paint.bold(&line) } else { line });
        let Some(one) = n.checked_sub(1).map(|n| &setups[n]) else { continue };
        let void = (!one.void.is_empty()).then(|| one.void.join("; "));
        let barred = one.barred();
        let told = [("    ", &barred), ("    void: ", &void), ("    check mass: ", &one.check_mass)];
        for (head, why) in told {
            let why = why.as_ref().map(|why| hanging(head, &harmless(why), WIDTH));
            why.iter().flat_map(|why| why.lines()).for_each(|line| terminal.line(line));
        }
    }
}

/// A name that leaves the other columns their room.
fn shortened(name: &str) -> String {
    const MOST: usize = 44;
    match name.chars().count() > MOST {
        true => name.chars().take(MOST - 1).chain(['…']).collect(),
        false => name.to_owned(),
    }
}
