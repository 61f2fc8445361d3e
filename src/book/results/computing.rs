//! Results on demand: each rotor is worked out once, however many setups ask for it.

use std::sync::{Arc, OnceLock};

use rustc_hash::{FxHashMap, FxHashSet};

use super::entry::Entry;
use super::record::RecordResults;
use super::rotor::RotorResults;
use super::setup::SetupResults;
use crate::book::effective::{Dropped, EffectiveBlock, effective};
use crate::book::files::{Book, ItemId};
use crate::book::readers::Facts;
use crate::sheet::FieldValue;
use crate::syntax::Kind;

/// Works out what is asked of one book, and remembers the rotors.
pub struct Computing<'b> {
    book: &'b Book,
    rotors: FxHashMap<ItemId, OnceLock<Arc<RotorResults<'b>>>>,
    /// Setups that records stand on; others are worked out when they are asked for.
    setups: FxHashMap<ItemId, OnceLock<Arc<SetupResults<'b>>>>,
    /// Rotors that need themselves, through `scaled from` or `made of`; none of those references is followed.
    in_a_circle: FxHashSet<ItemId>,
    explains: bool,
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
        let rotors = book.items().filter(|id| book.item(*id).kind == Kind::Rotor);
        let rotors: FxHashMap<_, _> = rotors.map(|id| (id, OnceLock::new())).collect();
        let setups = setups_of_records(book).map(|id| (id, OnceLock::new())).collect();
        let in_a_circle = circles(book);
        Self { book, rotors, setups, in_a_circle, explains: true }
    }

    /// The same without keeping formulas and inputs beside each result, which judging a book does not need.
    pub fn without_explanations(book: &'b Book) -> Self {
        Self { explains: false, ..Self::new(book) }
    }

    pub fn book(&self) -> &'b Book {
        self.book
    }

    pub fn facts(&self) -> Facts<'b> {
        Facts { explains: self.explains, ..Facts::new(self.book, self.book.rules()) }
    }

    /// The results of a rotor; `None` when `id` is no rotor.
    pub fn rotor(&self, id: ItemId) -> Option<Arc<RotorResults<'b>>> {
        let cell = self.rotors.get(&id)?;
        Some(cell.get_or_init(|| Arc::new(RotorResults::of(self, id))).clone())
    }

    /// The results of a setup; `None` when `id` is no setup.
    pub fn setup(&self, id: ItemId) -> Option<Arc<SetupResults<'b>>> {
        if self.book.item(id).kind != Kind::Setup {
            return None;
        }
        let work_out = || Arc::new(SetupResults::of(self, id));
        Some(match self.setups.get(&id) {
            Some(cell) => cell.get_or_init(work_out).clone(),
            None => work_out(),
        })
    }

    /// The rotor that another needs; `None` when the reference leads nowhere or back to itself.
    pub fn rotor_named(&self, name: &str, asked_by: ItemId) -> Option<Arc<RotorResults<'b>>> {
        let id = self.book.find(Kind::Rotor, name).ok()?;
        if self.in_a_circle.contains(&asked_by) && self.in_a_circle.contains(&id) {
            return None;
        }
        self.rotor(id)
    }

    pub fn is_in_a_circle(&self, id: ItemId) -> bool {
        self.in_a_circle.contains(&id)
    }

    pub fn item(&self, id: ItemId) -> Computed<'b> {
        match self.book.item(id).kind {
            Kind::Rotor => match self.rotor(id) {
                Some(rotor) => Computed::Rotor(rotor),
                None => Computed::Facts(effective(self.book, id).0),
            },
            Kind::Setup => match self.setup(id) {
                Some(setup) => Computed::Setup(setup),
                None => Computed::Facts(effective(self.book, id).0),
            },
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

/// The setups that records name.
fn setups_of_records(book: &Book) -> impl Iterator<Item = ItemId> {
    let records = book.items().filter(|id| book.item(*id).kind == Kind::Record);
    records.filter_map(|record| match &book.item(record).field("setup")?.value {
        FieldValue::Name(name) => book.find(Kind::Setup, &name.text).ok(),
        _ => None,
    })
}

/// Rotors from which `scaled from` and `made of` lead back to themselves.
fn circles(book: &Book) -> FxHashSet<ItemId> {
    let mut circles = FxHashSet::default();
    for (_, id) in book.names_of(Kind::Rotor) {
        let mut seen = FxHashSet::default();
        let mut open = needs(book, id);
        while let Some(next) = open.pop() {
            if next == id {
                circles.insert(id);
                break;
            }
            if seen.insert(next) {
                open.extend(needs(book, next));
            }
        }
    }
    circles
}

/// The rotors that a rotor's results rest on.
fn needs(book: &Book, id: ItemId) -> Vec<ItemId> {
    let rotor = book.item(id);
    let parts = rotor.inner(Kind::MadeOf).map(|part| part.name_text());
    let scaled = rotor.inner(Kind::Tolerance).filter_map(|tolerance| match &tolerance.field("scaled from")?.value {
        FieldValue::Name(name) => Some(&*name.text),
        _ => None,
    });
    parts.chain(scaled).filter_map(|name| book.find(Kind::Rotor, name).ok()).collect()
}
