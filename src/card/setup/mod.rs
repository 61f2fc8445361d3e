//! The cards of a setup: the run card, by which the next rotor is balanced, and the set-up card, by which the machine is
//! set again when the check mass says so, or for the first time.

mod head;
mod mount;
mod panel;
mod prove;
mod run;
mod speed;
mod steps;

use super::checked::Checked;
use super::document::{Card, Row, Section, Side, Stamp, Value};
use super::values::Results;
use super::words::Words;
use super::{Printed, Sides, foot, sketch};
use crate::book::{self, Book, Path, SetupResults};
use crate::syntax::Kind;
use crate::vocabulary::Fact;

/// A setup with what its cards are made from.
pub(super) struct Sheet<'a, 'b> {
    pub book: &'b Book,
    pub setup: &'a SetupResults<'b>,
    pub printed: &'a Printed,
    /// What leads from the paper to the sheet; empty on a card that is only compared.
    pub code: &'a str,
}

impl<'a, 'b> Sheet<'a, 'b> {
    fn results(&self) -> Results<'a>
    where
        'b: 'a,
    {
        Results { book: self.book, entries: &self.setup.entries }
    }

    fn fact<T: ?Sized>(&self, fact: Fact<T>) -> Option<Value> {
        super::values::fact(self.book, &self.setup.block, fact)
    }

    fn wanted<T: ?Sized>(&self, fact: Fact<T>) -> Value {
        super::values::wanted(self.book, &self.setup.block, fact)
    }

    fn fact_row<T: ?Sized>(&self, fact: Fact<T>, label: &'static str) -> Option<Row> {
        super::values::row(self.book, &self.setup.block, fact, label)
    }

    /// Where the results of the whole setup stand.
    fn whole(&self) -> &'a Path {
        &self.setup.block.path
    }

    /// Where the results of a plane's calibration stand, whether or not the sheet writes one.
    fn calibration(&self, plane: &str) -> Path {
        self.whole().then(book::Step::named(Kind::Calibrate, plane))
    }

    /// The planes that the sheet reads, each with the channel that reads it.
    fn planes(&self) -> Vec<(&'b str, Option<&'b str>)> {
        self.setup.calibrations.iter().map(|one| (one.plane, self.channel_of(one.plane))).collect()
    }

    fn channel_of(&self, plane: &str) -> Option<&'b str> {
        self.setup.channels.iter().find(|(_, reads)| *reads == plane).map(|(channel, _)| *channel)
    }

    /// What the readout is read in, and where a technician fills in a reading.
    fn channels(&self) -> Vec<&'b str> {
        match self.setup.channels.is_empty() {
            false => self.setup.channels.iter().map(|(channel, _)| *channel).collect(),
            true => self.setup.machine.as_ref().map(|machine| machine.channels.clone()).unwrap_or_default(),
        }
    }

    /// Whether trial runs tell what a reading means, made or to be made.
    fn is_by_trials(&self) -> bool {
        self.setup.worked_by.is_by_trials()
    }

    /// Whether the trial runs that it rests on tell something.
    fn has_trials_made(&self) -> bool {
        let found = self.setup.trials.as_ref().map(|trials| &trials.found);
        found.is_some_and(|found| !found.coefficients.is_empty() || found.worth_of_amount.is_some())
    }
}

/// What is stamped on its sides.
pub(super) fn stamp(book: &Book, setup: &SetupResults<'_>, checked: &Checked<'_>, printed: &Printed) -> Stamp {
    head::stamp(&Sheet { book, setup, printed, code: "" }, checked)
}

pub(super) fn open_settings(book: &Book, setup: &SetupResults<'_>) -> Vec<String> {
    panel::open(&Sheet { book, setup, printed: &super::COMPARED, code: "" })
}

pub(super) fn before_first_run(book: &Book, setup: &SetupResults<'_>) -> Vec<Section> {
    run::before_first_run(&Sheet { book, setup, printed: &super::COMPARED, code: "" })
}

/// The sides that are asked for; else the run card of a released sheet, and both of any other.
pub(super) fn card(
    book: &Book,
    setup: &SetupResults<'_>,
    checked: &Checked<'_>,
    (printed, code): (&Printed, &str),
    sides: Sides,
) -> Card {
    let sheet = Sheet { book, setup, printed, code };
    let (run, set_up) = match sides {
        Sides::Run => (true, false),
        Sides::SetUp => (false, true),
        Sides::Both => (true, true),
        Sides::Usual => (true, !setup.is_released()),
    };
    let of_run = run.then(|| side(&sheet, checked, "Run card", run::sections(&sheet), Vec::new()));
    let foot = || foot::of(setup.rotor.as_deref());
    let of_set_up = set_up.then(|| side(&sheet, checked, "Set-up card", set_up_sections(&sheet), foot()));
    Card {
        kind: Kind::Setup,
        name: book.item(setup.id).name_text().to_owned(),
        sides: of_run.into_iter().chain(of_set_up).collect(),
        preview: printed.preview,
    }
}

fn side(
    sheet: &Sheet<'_, '_>,
    checked: &Checked<'_>,
    what: &'static str,
    sections: Vec<Section>,
    foot: Vec<Words>,
) -> Side {
    Side {
        what,
        name: head::name(sheet),
        under: head::under(sheet, checked),
        stamp: Some(head::stamp(sheet, checked)),
        alarms: head::alarms(sheet, checked),
        sections,
        foot,
        every: head::every(sheet),
    }
}

fn set_up_sections(sheet: &Sheet<'_, '_>) -> Vec<Section> {
    let sections = vec![
        mount::mount(sheet),
        sketch::side(sheet.book, sheet.setup.rotor.as_deref(), Some(sheet.setup)),
        panel::section(sheet, "Set the panel, in its order".into()),
        speed::speed(sheet),
        steps::steps(sheet),
        prove::proof(sheet),
    ];
    sections.into_iter().flatten().collect()
}

/// A section when it has something to say.
fn unless_empty(section: Section) -> Option<Section> {
    (!section.parts.is_empty()).then_some(section)
}

/// A sentence with a hole in it.
fn hole(words: impl Into<Words>) -> Value {
    Value::Hole(words.into())
}

fn rows(rows: Vec<Option<Row>>) -> Vec<Row> {
    rows.into_iter().flatten().collect()
}
