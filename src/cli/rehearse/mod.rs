//! `rehearse`: simulated rotors, worked by a setup before the first steel is.

mod document;
mod text;
mod what_if;

use std::time::{SystemTime, UNIX_EPOCH};

use clap::{Args, ValueEnum};

use super::find::{self, ItemKind};
use super::{Exit, Failure, Outcome, Session, findings, progress};
use crate::book::{Book, Computing, ItemId};
use crate::card::{Bar, Rehearsed};
use crate::rehearsal::{self, Order, Plan, Rehearsal, Subject};
use crate::syntax::Kind;
use crate::units::plainly;
use what_if::Change;

/// Rehearse a setup: balance simulated rotors by this sheet on this machine
///
/// Draws random rotors and works on each as the card says: calibrate, run, correct as called for, remount, judge. They
/// are turned by the equations of motion and read with the machine's own scatter, steps, interference, mountings,
/// places and pieces. The true motion decides whether a rotor is within in the end; the record's verdict appears beside
/// it. Values that no sheet states are drawn from ranges, which are listed. The seed is printed, and the same seed
/// draws the same rotors.
#[derive(Args)]
#[command(after_help = "Examples:\n  rotorbook rehearse \"fan wheel 315 on the soft bench\"\n  \
    rotorbook rehearse \"fan wheel 315 on the soft bench\" --what-if \"rotor / plane rim / places = 16 from 0 deg\" \
    --what-if \"mountings = 3\"")]
pub(super) struct RehearseArguments {
    /// The name of the setup
    #[arg(value_name = "SETUP")]
    name: String,

    /// How many rotors
    #[arg(long, value_name = "NUMBER", default_value_t = USUAL, value_parser = clap::value_parser!(u64).range(1..=1_000_000))]
    rotors: u64,

    /// The number to draw by, as an earlier rehearsal printed it
    #[arg(long, value_name = "NUMBER")]
    seed: Option<u64>,

    /// How often each rotor is laid in before it is judged; one in its own bearings is run so often
    #[arg(long, value_name = "NUMBER", default_value_t = 2, value_parser = clap::value_parser!(u64).range(1..=9))]
    mountings: u64,

    /// How the rotors come, in tolerances of each plane, as in `2 to 20`; without it, as in the records of this setup
    #[arg(long, value_name = "RANGE")]
    as_found: Option<String>,

    /// A change to compare with, as in `machine / readout / scale fine / smallest step = 0.1 mark`; up to three times
    #[arg(long, value_name = "CHANGE")]
    what_if: Vec<String>,

    /// How to say it
    #[arg(long, value_enum, default_value_t = Format::Text)]
    format: Format,
}

#[derive(Clone, Copy, PartialEq, Eq, Debug, ValueEnum)]
enum Format {
    /// A screen
    Text,
    /// For programs
    Json,
}

/// Rotors of a rehearsal, unless more or less are asked for.
const USUAL: u64 = 1_000;

/// One way to work, with the words for what is different.
struct Way {
    change: Option<String>,
    rehearsal: Rehearsal,
}

pub(super) fn run(session: &mut Session, arguments: &RehearseArguments) -> Outcome {
    if arguments.what_if.len() > 3 {
        return Err(Failure::new("no more than three changes are compared at a time"));
    }
    let books = find::books(session)?;
    let (loaded, id) = find::item(&books, &arguments.name, Some(ItemKind(Kind::Setup)))?;
    let name = loaded.book.item(id).name_text();
    let as_found = arguments.as_found.as_deref().map(range).transpose()?;
    let order = Order {
        rotors: arguments.rotors,
        seed: arguments.seed.unwrap_or_else(by_the_clock),
        mountings: arguments.mountings as usize,
    };
    findings::may_rehearse(session, &Computing::without_explanations(&loaded.book), id)?;
    let subject = Subject::of(&loaded.book, id);
    let mut ways = vec![(None, subject.book.clone(), order)];
    for change in &arguments.what_if {
        let (book, order) = match Change::of(change)? {
            Change::Mountings(mountings) => (subject.book.clone(), Order { mountings, ..order }),
            Change::Fact(fact) => (fact.made(&subject.book, id)?, order),
        };
        ways.push((Some(change.clone()), book, order));
    }
    let plans = ways.iter().map(|(change, book, _)| plan(book, name, as_found, change.as_deref()));
    let plans = plans.collect::<Result<Vec<Plan>, Failure>>()?;
    let bar = progress::rehearsing(order.rotors * ways.len() as u64);
    let rehearsed = ways.into_iter().zip(&plans).map(|((change, book, order), plan)| {
        let rehearsal = rehearsal::rehearse(plan, &book, order, &|done| bar.inc(done));
        let rehearsal = rehearsal.map_err(|why| cannot(name, change.as_deref(), &why.0))?;
        Ok(Way { change, rehearsal })
    });
    let rehearsed = rehearsed.collect::<Result<Vec<Way>, Failure>>()?;
    bar.finish_and_clear();
    match arguments.format {
        Format::Json => session.terminal.json(&document::of(name, &subject.void, &rehearsed)),
        Format::Text => text::write(&mut session.terminal, name, subject.warning().as_deref(), &rehearsed),
    }
    Ok(Exit::Clean)
}

/// A rehearsal as usual, as it is told on a card.
pub(super) fn for_card(
    session: &mut Session,
    book: &Book,
    id: ItemId,
    seed: Option<u64>,
) -> Result<Rehearsed, Failure> {
    if book.item(id).kind != Kind::Setup {
        return Err(Failure::new("only a setup is rehearsed"));
    }
    findings::may_rehearse(session, &Computing::without_explanations(book), id)?;
    let name = book.item(id).name_text();
    let subject = Subject::of(book, id);
    let plan = plan(&subject.book, name, None, None)?;
    let order = Order { rotors: USUAL, seed: seed.unwrap_or_else(by_the_clock), mountings: 2 };
    let bar = progress::rehearsing(order.rotors);
    let rehearsal = rehearsal::rehearse(&plan, &subject.book, order, &|done| bar.inc(done));
    let rehearsal = rehearsal.map_err(|why| cannot(name, None, &why.0))?;
    bar.finish_and_clear();
    let bars = text::bars(&rehearsal);
    let bars = bars.into_iter().map(|(label, count, is_open)| Bar { label, count, is_open });
    Ok(Rehearsed {
        sentences: subject.warning().into_iter().chain(text::sentences(&rehearsal)).collect(),
        bars: bars.collect(),
        drawn: format!("{}, seed {}", text::rotors(order.rotors), order.seed),
    })
}

fn plan(book: &Book, setup: &str, as_found: Option<[f64; 2]>, change: Option<&str>) -> Result<Plan, Failure> {
    let id = book.find(Kind::Setup, setup);
    let id = id.map_err(|_| cannot(setup, change, "it is not one setup of the book"))?;
    Plan::of(&Computing::without_explanations(book), id, as_found).map_err(|why| cannot(setup, change, &why.0))
}

fn cannot(setup: &str, change: Option<&str>, why: &str) -> Failure {
    let of = change.map_or_else(String::new, |change| format!(", with `{change}`"));
    Failure::new(format!("setup \"{setup}\" cannot be rehearsed{of}: {why}"))
}

/// A seed that is short enough to be typed again.
pub(super) fn by_the_clock() -> u64 {
    let since = SystemTime::now().duration_since(UNIX_EPOCH).unwrap_or_default();
    u64::from(since.subsec_nanos()) / 1_000 + since.as_secs() % 1_000 * 7
}

/// `2 to 20`
fn range(text: &str) -> Result<[f64; 2], Failure> {
    let ends = text.split_once("to").map(|(low, high)| (low.trim().parse::<f64>(), high.trim().parse::<f64>()));
    match ends {
        Some((Ok(low), Ok(high))) if low > 0.0 && high > low && high.is_finite() => Ok([low, high]),
        Some((Ok(low), Ok(_))) if low <= 0.0 => {
            let why = "its lower end is not above zero, and rotors are drawn by their ratio to the tolerance";
            Err(Failure::new(format!("`{text}` is not a range: {why}")).help("write it as `0.1 to 0.5`"))
        }
        Some((Ok(low), Ok(high))) if high <= low => {
            let why = "its upper end is not above its lower end";
            let help = format!("write it as `{} to {}`", plainly(low * 0.9), plainly(low * 1.1));
            Err(Failure::new(format!("`{text}` is not a range: {why}")).help(help))
        }
        _ => {
            let why = "it is not two numbers with `to` between them";
            Err(Failure::new(format!("`{text}` is not a range: {why}")).help("write it as `2 to 20`"))
        }
    }
}
