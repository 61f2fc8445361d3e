//! Results on demand: each rotor is worked out once, however many setups ask for it.

use crate::vocabulary::{result, tolerance};
use std::sync::Arc;

use rustc_hash::FxHashSet;

use super::kept::Kept;
use super::record::RecordResults;
use super::rotor::results::RotorResults;
use super::setup::SetupResults;
use super::values::entry::{Entry, Recorder};
use super::values::not_computed::NotComputed;
use super::verdict::to_read;
use crate::book::effective::{Dropped, EffectiveBlock, effective};
use crate::book::files::{Book, ItemId};
use crate::book::lookups::{self, Lookups, RecordedBook};
use crate::book::readers::Facts;
use crate::sheet::{Block, FieldValue};
use crate::syntax::Kind;

/// Works out what is asked of one book, and remembers the rotors.
///
/// Making one costs nothing: what nobody asks for is not looked at.
pub struct Computing<'b> {
    book: &'b Book,
    kept: Arc<Results<'b>>,
    /// Where what is worked out for several gets a book of its own, so that it is known what it rests on.
    recorded: Option<&'b RecordedBook>,
    explains: bool,
    only_judged: bool,
}

/// What is worked out once, whoever asks.
#[derive(Default)]
struct Results<'b> {
    rotors: Kept<RotorResults<'b>>,
    /// Setups that records are on, of which many may be on one.
    setups: Kept<SetupResults<'b>>,
    /// The same as one of their proofs says they were.
    proven: Kept<SetupResults<'b>, (ItemId, Box<str>)>,
}

/// Works out what is asked of one book, and tells of each piece of work what it looked up.
pub struct RecordedComputing<'b> {
    all: Computing<'b>,
    book: &'b RecordedBook,
}

impl<'b> RecordedComputing<'b> {
    /// The same with all results, for whoever compares them.
    pub fn with_all_results(mut self) -> Self {
        self.all.only_judged = false;
        self
    }

    /// Does the work with a computing of its own and tells what was looked up through that, on whichever threads. What
    /// was worked out before is not worked out again.
    pub fn record<T>(&self, work: impl FnOnce(&Computing<'b>) -> T) -> (T, Lookups) {
        lookups::recording(self.book, |book| work(&self.all.reading(book)))
    }

    /// The same, with formulas and inputs beside each result or without; to be said before anything is worked out.
    pub fn explaining(self, explains: bool) -> Self {
        Self { all: self.all.explaining(explains), ..self }
    }

    /// The same computing, for work of which nobody has to know what it rests on.
    pub fn unrecorded(&self) -> &Computing<'b> {
        &self.all
    }

    /// Lets go of all that was worked out, on as many threads as made it.
    pub fn finish(self) {
        self.all.finish();
    }
}

/// What is computed of one item.
pub enum Computed<'b> {
    Rotor(Arc<RotorResults<'b>>),
    Setup(Arc<SetupResults<'b>>),
    Record(Box<RecordResults<'b>>),
    /// Nothing is computed of items of other kinds.
    Facts(EffectiveBlock<'b>),
}

impl<'b> Computing<'b> {
    pub fn new(book: &'b Book) -> Self {
        Self { book, kept: Arc::default(), recorded: None, explains: true, only_judged: false }
    }

    /// The same without keeping formulas and inputs beside each result, which judging a book does not need.
    pub fn without_explanations(book: &'b Book) -> Self {
        Self { explains: false, ..Self::new(book) }
    }

    /// The same, with formulas and inputs beside each result or without; to be said before anything is worked out.
    pub fn explaining(self, explains: bool) -> Self {
        Self { explains, ..self }
    }

    /// The same for judging a book, without what is neither judged nor pinned: tables, and limits to read, which take a
    /// budget each.
    pub fn for_judging(book: &'b Book) -> Self {
        Self { only_judged: true, ..Self::without_explanations(book) }
    }

    /// The same, telling of each piece of work what it looked up.
    pub fn recorded(book: &'b RecordedBook) -> RecordedComputing<'b> {
        let all = Self { recorded: Some(book), ..Self::for_judging(book.unrecorded()) };
        RecordedComputing { all, book }
    }

    /// What is kept here, for work that reads another book of the same contents.
    fn reading(&self, book: &'b Book) -> Self {
        Self { book, kept: self.kept.clone(), ..*self }
    }

    /// The computing to make with what is kept.
    fn own(&self) -> Self {
        self.reading(self.recorded.map_or(self.book, RecordedBook::own))
    }

    /// Lets go of all that was worked out, on as many threads as made it.
    pub fn finish(self) {
        if let Some(kept) = Arc::into_inner(self.kept) {
            kept.rotors.finish();
            kept.setups.finish();
            kept.proven.finish();
        }
    }

    pub fn book(&self) -> &'b Book {
        self.book
    }

    pub fn facts(&self) -> Facts<'b> {
        Facts { explains: self.explains, only_judged: self.only_judged, ..Facts::new(self.book, self.book.rules()) }
    }

    /// The results of a rotor; `None` when `id` is no rotor.
    pub fn rotor(&self, id: ItemId) -> Option<Arc<RotorResults<'b>>> {
        if self.book.item(id).kind != Kind::Rotor {
            return None;
        }
        Some(self.kept.rotors.get_or_work_out(id, self.book, || {
            let own = self.own();
            (RotorResults::of(&own, id), own.book)
        }))
    }

    /// The results of a setup that a record is on, which are kept; `None` when `id` is no setup.
    pub fn setup(&self, id: ItemId) -> Option<Arc<SetupResults<'b>>> {
        if self.book.item(id).kind != Kind::Setup {
            return None;
        }
        Some(self.kept.setups.get_or_work_out(id, self.book, || {
            let own = self.own();
            (own.work_out_setup(id), own.book)
        }))
    }

    /// The results of a setup as one of its proofs says that it was; `None` without a proof of this name.
    pub fn setup_as_proven(&self, id: ItemId, proof: &str) -> Option<Arc<SetupResults<'b>>> {
        let is_one = |block: &Block| block.name_text() == proof;
        self.book.item(id).inner(Kind::Proof).any(is_one).then(|| {
            self.kept.proven.get_or_work_out((id, proof.into()), self.book, || {
                let own = self.own();
                (SetupResults::as_proven(&own, id, proof), own.book)
            })
        })
    }

    /// The results of a setup: those that are kept, else worked out for this once.
    fn setup_itself(&self, id: ItemId) -> Arc<SetupResults<'b>> {
        self.kept.setups.get(&id, self.book).unwrap_or_else(|| Arc::new(self.work_out_setup(id)))
    }

    fn work_out_setup(&self, id: ItemId) -> SetupResults<'b> {
        let setup = SetupResults::of(self, id);
        let is_pinned = || self.book.item(id).pins.iter().any(|pin| pin.name.starts_with(result::LIMIT_TO_READ.name));
        if self.only_judged && !is_pinned() {
            return setup;
        }
        let recorder = Recorder::new(self.facts().with_masses(setup.masses));
        to_read::add(setup, recorder)
    }

    /// The results of a record, worked out for this once; `None` when `id` is no record.
    pub fn record(&self, id: ItemId) -> Option<RecordResults<'b>> {
        (self.book.item(id).kind == Kind::Record).then(|| RecordResults::of(self, id))
    }

    /// The rotor that another needs; `None` when the reference leads nowhere or back to itself.
    pub fn rotor_named(&self, name: &str, asked_by: ItemId) -> Option<Arc<RotorResults<'b>>> {
        let id = self.book.find(Kind::Rotor, name).ok()?;
        if id == asked_by || leads_to(self.book, id, asked_by) {
            return None;
        }
        self.rotor(id)
    }

    /// Whether a rotor needs itself, through `scaled from` or `made of`.
    pub fn is_in_a_circle(&self, id: ItemId) -> bool {
        leads_to(self.book, id, id)
    }

    /// The results of an item that are judged or pinned; others may be among them.
    pub fn item_judged(&self, id: ItemId) -> Computed<'b> {
        Self { only_judged: true, ..self.reading(self.book) }.item(id)
    }

    pub fn item(&self, id: ItemId) -> Computed<'b> {
        match self.book.item(id).kind {
            Kind::Rotor => match self.rotor(id) {
                Some(rotor) => Computed::Rotor(rotor),
                None => Computed::Facts(effective(self.book, id).0),
            },
            Kind::Setup => Computed::Setup(self.setup_itself(id)),
            Kind::Record => Computed::Record(Box::new(RecordResults::of(self, id))),
            _ => Computed::Facts(effective(self.book, id).0),
        }
    }
}

impl<'b> Computed<'b> {
    pub fn effective(&self) -> &EffectiveBlock<'b> {
        match self {
            Computed::Rotor(rotor) => &rotor.block,
            Computed::Setup(setup) => &setup.block,
            Computed::Record(record) => &record.block,
            Computed::Facts(block) => block,
        }
    }

    pub fn dropped(&self) -> &[Dropped] {
        match self {
            Computed::Setup(setup) => &setup.dropped,
            _ => &[],
        }
    }

    pub fn entries(&self) -> &[Entry] {
        match self {
            Computed::Rotor(rotor) => &rotor.entries,
            Computed::Setup(setup) => &setup.entries,
            Computed::Record(record) => &record.entries,
            Computed::Facts(_) => &[],
        }
    }
}

impl Computed<'_> {
    /// The results that were left out, each with its reason.
    pub fn not_computed(&self) -> &[NotComputed] {
        match self {
            Computed::Rotor(rotor) => &rotor.not_computed,
            Computed::Setup(setup) => &setup.not_computed,
            Computed::Record(record) => &record.not_computed,
            Computed::Facts(_) => &[],
        }
    }
}

/// Whether `to` is among the rotors that `from` rests on, however far down.
fn leads_to(book: &Book, from: ItemId, to: ItemId) -> bool {
    let mut seen = FxHashSet::default();
    let mut open = needs(book, from);
    while let Some(next) = open.pop() {
        if next == to {
            return true;
        }
        if seen.insert(next) {
            open.extend(needs(book, next));
        }
    }
    false
}

/// The rotors that a rotor's results rest on.
fn needs(book: &Book, id: ItemId) -> Vec<ItemId> {
    let rotor = book.item(id);
    let parts = rotor.inner(Kind::MadeOf).map(|part| part.name_text());
    let scaled =
        rotor.inner(Kind::Tolerance).filter_map(|tolerance| match &tolerance.field(tolerance::SCALED_FROM)?.value {
            FieldValue::Name(name) => Some(&*name.text),
            _ => None,
        });
    parts.chain(scaled).filter_map(|name| book.find(Kind::Rotor, name).ok()).collect()
}
