//! The card of a setup, in the order of the work at the machine.

mod correct;
mod head;
mod mount;
mod prove;
mod speed;
mod steps;

use super::checked::Checked;
use super::document::{Card, Row, Section, Stamp, Value};
use super::values::Results;
use super::words::Words;
use super::{Printed, foot, sketch};
use crate::book::{self, Book, Path, SetupResults};
use crate::syntax::Kind;
use crate::units::Amount;
use crate::vocabulary::Fact;
use crate::vocabulary::setup::{self, Status};

/// A setup with what its card is made from.
pub(super) struct Sheet<'a, 'b> {
    pub book: &'b Book,
    pub setup: &'a SetupResults<'b>,
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
        let channel =
            |plane: &str| self.setup.channels.iter().find(|(_, reads)| *reads == plane).map(|(channel, _)| *channel);
        self.setup.calibrations.iter().map(|one| (one.plane, channel(one.plane))).collect()
    }

    /// The smallest part of a reading that can be read, in base units of the readout; of the finest scale.
    fn step(&self) -> Option<f64> {
        let readout = self.setup.machine.as_ref()?.readout.as_ref()?;
        let scales = readout.scales.iter().filter_map(|scale| Some(scale.one_mark? * scale.smallest_step?));
        readout.smallest_step.get().map(Amount::raw).or(scales.min_by(f64::total_cmp))
    }

    /// What the readout is read in, and where a technician fills in a reading.
    fn channels(&self) -> Vec<&'b str> {
        match self.setup.channels.is_empty() {
            false => self.setup.channels.iter().map(|(channel, _)| *channel).collect(),
            true => self.setup.machine.as_ref().map(|machine| machine.channels.clone()).unwrap_or_default(),
        }
    }
}

pub(super) fn card(book: &Book, setup: &SetupResults<'_>, checked: &Checked<'_>, printed: &Printed) -> Card {
    let sheet = Sheet { book, setup };
    let mut alarms = checked.alarms(book);
    if !setup.void_causes.is_empty() {
        let causes: Vec<&str> = setup.void_causes.iter().map(|cause| &*cause.what).collect();
        alarms.push(Words::strong("CALIBRATION VOID: ").state(causes.join("; ")).say(". Prove the sheet again first."));
    }
    let sections = vec![
        head::stop_if(&sheet),
        sketch::section(book, setup.rotor.as_deref(), Some(setup)),
        mount::mount(&sheet),
        mount::presettings(&sheet),
        speed::speed(&sheet),
        steps::steps(&sheet),
        correct::correct(&sheet),
        prove::final_run(&sheet),
        prove::verdict(&sheet),
    ];
    Card {
        kind: Kind::Setup,
        name: book.item(setup.id).name_text().to_owned(),
        stamp: Some(stamp(setup)),
        alarms,
        head: head::head(&sheet),
        sections: sections.into_iter().flatten().collect(),
        foot: foot::of(setup.rotor.as_deref(), checked, printed),
        preview: false,
    }
}

fn stamp(setup: &SetupResults<'_>) -> Stamp {
    match setup.block.choice(setup::STATUS) {
        Some(Status::Released) => Stamp { word: "RELEASED", meaning: "for work at the machine", firm: true },
        Some(Status::Withdrawn) => Stamp::WITHDRAWN,
        Some(Status::Draft) | None => Stamp { word: "DRAFT", meaning: "not released: numbers may change", firm: false },
    }
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
