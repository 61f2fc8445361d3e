//! `balance --rehearse`: a simulated rotor answers, and nothing is kept.

use clap::{Args, ValueEnum};

use crate::asking::Question;
use crate::book::{Book, Computing};
use crate::cli::{Exit, Failure, Session, findings};
use crate::mechanics::verdict::Verdict;
use crate::rehearsal::{Mistake, Plan, Practice, Subject};
use crate::sheet::Block;
use crate::syntax::Kind;
use crate::text::harmless;
use crate::units::Unit;
use crate::vocabulary::run::{self, AnglesFrom};
use crate::vocabulary::{Choice, YesNo};

/// The serial number of a simulated rotor.
pub(super) const SERIAL: &str = "rehearsed";

#[derive(Args)]
pub(super) struct PracticeArguments {
    /// Practise on a simulated rotor: it gives readings and responds to corrections, and no record is kept
    #[arg(long, help_heading = "Options for practice")]
    rehearse: bool,

    /// The seed to draw the rotor with, as printed by an earlier rehearsal
    #[arg(long, value_name = "NUMBER", requires = "rehearse", help_heading = "Options for practice")]
    seed: Option<u64>,

    /// A hidden mistake, for you to find
    #[arg(long, value_enum, value_name = "MISTAKE", requires = "rehearse", help_heading = "Options for practice")]
    mistake: Option<Slip>,
}

#[derive(Clone, Copy, PartialEq, Eq, Debug, ValueEnum)]
enum Slip {
    /// The angle of the first correction is measured the wrong way round
    WrongSense,
    /// The cables of two channels are swapped
    SwappedChannels,
    /// A calibration mass is left on until the first correction
    MassLeftOn,
}

/// A rotor that is practised on.
pub(super) struct Virtual {
    practice: Practice,
    /// Of how many runs the readings were shown.
    shown: usize,
}

impl PracticeArguments {
    /// Sets `book` to the one in which the rehearsal works.
    pub fn begun(&self, session: &mut Session, book: &mut Book, setup: &str) -> Result<Option<Virtual>, Failure> {
        if !self.rehearse {
            return Ok(None);
        }
        let cannot = |why: &str| Failure::new(format!("setup \"{setup}\" cannot be rehearsed: {why}"));
        let id = book.find(Kind::Setup, setup).map_err(|_| cannot("it is not one setup of the book"))?;
        findings::may_rehearse(session, &Computing::without_explanations(book), id)?;
        let subject = Subject::of(book, id);
        let warning = subject.warning();
        *book = subject.book;
        let plan = Plan::of(&Computing::without_explanations(book), id, None).map_err(|why| cannot(&why.0))?;
        let mistake = self.mistake.map(|slip| match slip {
            Slip::WrongSense => Mistake::WrongSense,
            Slip::SwappedChannels => Mistake::SwappedChannels,
            Slip::MassLeftOn => Mistake::MassLeftOn,
        });
        let practice = Practice::new(plan, self.seed.unwrap_or_else(crate::cli::rehearse::by_the_clock), mistake);
        session
            .terminal
            .show(&format!("A rehearsal on a simulated rotor, seed {}; no record is kept.", practice.seed()));
        if let Some(warning) = warning {
            session.terminal.show(&harmless(&warning));
        }
        Ok(Some(Virtual { practice, shown: 0 }))
    }
}

impl Virtual {
    /// Tells what the machine shows, and offers it as the answer.
    pub fn answer(&mut self, session: &mut Session, question: &mut Question<'_>, record: &Block) {
        if let Some(plane) = question.head.strip_prefix(run::WEIGHTS_AT.words()) {
            question.usual = self.practice.weights(plane.trim().trim_matches('"'));
            return;
        }
        if question.head == run::ANGLES_FROM.words() {
            question.usual = Some(AnglesFrom::Rotor.words().to_owned());
            return;
        }
        if question.head == run::TURNED_ON_ARBOR_BY.words() {
            question.usual.get_or_insert_with(|| format!("0 {}", Unit::DEGREE));
            return;
        }
        if question.head == run::REMOUNTED.words() {
            question.usual = Some(YesNo::No.words().to_owned());
            return;
        }
        let Some(channel) = question.head.strip_prefix(run::READING.words()) else { return };
        let shows = self.practice.shows(record);
        let runs = record.inner(Kind::Run).count();
        if self.shown != runs {
            self.shown = runs;
            let all: Vec<String> = shows.iter().map(|one| format!("{} {}", one.channel, one.answer)).collect();
            session.terminal.show(&format!("The machine shows: {}", all.join(";  ")));
        }
        let channel = channel.trim().trim_matches('"');
        question.usual = shows.into_iter().find(|one| one.channel == channel).map(|one| one.answer);
    }

    /// Says how it ended.
    pub fn end(&self, session: &mut Session, record: &Block, word: Option<Verdict>) -> Exit {
        session.terminal.show("\nWhat happened:");
        for line in self.practice.told(record, word) {
            session.terminal.show(&format!("  {line}"));
        }
        session.terminal.say(&format!("seed {}; a rehearsal keeps no record", self.practice.seed()));
        if self.practice.is_within(record) { Exit::Clean } else { Exit::Findings }
    }
}
