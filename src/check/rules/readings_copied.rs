use std::cmp::{Ordering, Reverse};
use std::hash::{Hash, Hasher};

use rustc_hash::{FxHashMap, FxHasher};
use smallvec::SmallVec;

use crate::book::{Book, Day, ItemId};
use crate::check::{Draft, Severity, Sink, wording};
use crate::sheet::{Block, FieldValue, Stated, StatedReading};
use crate::syntax::Kind;
use crate::text::Span;
use crate::vocabulary::setup::{self, Status};
use crate::vocabulary::{Date, Fact, proof, record};

/// Two measurements do not share so many readings by chance: amounts to a step of the needle, and angles.
pub const REPEATED: usize = 4;

pub(super) fn judge(book: &Book, sink: &mut Sink) {
    let all: Vec<Measurement<'_>> = book.items().flat_map(|id| measurements(book, id)).collect();
    let mut having: FxHashMap<u64, SmallVec<[usize; 1]>> = FxHashMap::default();
    for (n, one) in all.iter().enumerate() {
        one.readings.iter().for_each(|reading| having.entry(*reading).or_default().push(n));
    }
    for (n, own) in all.iter().enumerate() {
        let mut others: Vec<usize> =
            own.readings.iter().flat_map(|reading| first_of(&having[reading])).filter(|other| *other != n).collect();
        others.sort_unstable();
        others.dedup();
        let shared = others.into_iter().map(|other| (other, own.shares(&all[other])));
        let Some((other, same)) = shared.max_by_key(|(other, same)| (*same, Reverse(*other))) else {
            continue;
        };
        if same >= REPEATED && 2 * same > own.readings.len() && own.may_be_the_copy(&all[other]) {
            sink.report(say(book, own, &all[other], same));
        }
    }
}

/// What was read at one time: a proof, the trials of a setup, a record.
struct Measurement<'b> {
    id: ItemId,
    place: Span,
    /// Of a setup, the proof; `None` for its trials.
    proof: Option<&'b Block>,
    /// A number for each reading with an angle, with where it stands.
    readings: Vec<u64>,
    date: Option<Day>,
    /// Of its sheet.
    sheet_date: Option<Day>,
    is_released: bool,
}

/// Those that share a reading; of a crowd, the first of them: a copy shares rarer ones too, or is one of many.
fn first_of(having: &[usize]) -> impl Iterator<Item = usize> {
    const CROWD: usize = 64;
    const OF_CROWD: usize = 16;
    having.iter().copied().take(if having.len() > CROWD { OF_CROWD } else { CROWD })
}

impl Measurement<'_> {
    /// How many readings both have; they are sorted.
    fn shares(&self, other: &Self) -> usize {
        self.readings.iter().filter(|reading| other.readings.binary_search(reading).is_ok()).count()
    }

    /// Of two days the later, of itself or of its sheet; of one day, nobody knows, unless one of them alone is released.
    fn may_be_the_copy(&self, other: &Self) -> bool {
        let days = [(self.date, other.date), (self.sheet_date, other.sheet_date)];
        let both = days.into_iter().filter_map(|(own, other)| own.zip(other));
        let order = both.map(|(own, other)| own.cmp(&other)).find(|order| order.is_ne());
        order.map_or(self.is_released <= other.is_released, Ordering::is_gt)
    }

    fn words(&self, book: &Book) -> String {
        let item = book.item(self.id);
        let name = wording::quoted(item.name_text());
        match self.proof {
            _ if item.kind == Kind::Record => format!("record {name}"),
            Some(proof) => format!("proof {} of setup {name}", wording::quoted(proof.name_text())),
            None => format!("the trials of setup {name}"),
        }
    }
}

fn say(book: &Book, own: &Measurement<'_>, other: &Measurement<'_>, same: usize) -> Draft {
    let count = own.readings.len();
    let message = format!(
        "{same} of the {count} readings with an angle are those of {}; nobody reads the same twice",
        other.words(book)
    );
    let draft = Draft::new(own.id.file, own.place, message)
        .help("put in what was read here, or take the readings out until somebody has read them")
        .related(other.id.file, other.place, "the same readings");
    if own.is_released { draft.weighing(Severity::Error) } else { draft }
}

fn measurements(book: &Book, id: ItemId) -> Vec<Measurement<'_>> {
    let item = book.item(id);
    let is_released = item.kind == Kind::Setup && item.choice(setup::STATUS) == Some(Status::Released);
    let sheet_date = if item.kind == Kind::Setup { day(item, setup::DATE) } else { None };
    let new =
        |place, proof, date| Measurement { id, place, proof, readings: Vec::new(), date, sheet_date, is_released };
    let mut found = Vec::new();
    match item.kind {
        Kind::Setup => {
            let mut trials = new(item.heading, None, None);
            for block in &item.blocks {
                match block.kind {
                    // A proof is called by its day, which a copy changes.
                    Kind::Proof => {
                        let mut one = new(block.heading, Some(block), day(block, proof::DATE));
                        gather(block, number(Kind::Proof), &mut one.readings);
                        found.push(one);
                    }
                    kind => gather(block, number((kind, block.name_text())), &mut trials.readings),
                }
            }
            found.push(trials);
        }
        Kind::Record => {
            let mut one = new(item.heading, None, day(item, record::DATE));
            gather(item, number(Kind::Record), &mut one.readings);
            found.push(one);
        }
        _ => {}
    }
    for one in &mut found {
        one.readings.sort_unstable();
        one.readings.dedup();
    }
    found
}

fn day(block: &Block, fact: Fact<Date>) -> Option<Day> {
    Day::of(&block.field(fact)?.value)
}

fn gather(block: &Block, within: u64, found: &mut Vec<u64>) {
    for field in &block.fields {
        let all = match &field.value {
            FieldValue::Reading(one) => std::slice::from_ref(&**one),
            FieldValue::Readings(all) => all.as_slice(),
            _ => continue,
        };
        if all.iter().any(|one| one.angle.is_some()) {
            let said: SmallVec<[_; 4]> = all.iter().map(in_one_unit).collect();
            found.push(number((within, field.key.name, field.name_text(), said)));
        }
    }
    for inner in &block.blocks {
        gather(inner, number((within, inner.kind, inner.name_text())), found);
    }
}

/// What a reading says, whatever unit it is written in.
fn in_one_unit(reading: &StatedReading) -> impl Hash + use<'_> {
    let amount = |stated: &Stated| (stated.dimension(), rounded(stated.base));
    (amount(&reading.amount), reading.scale.as_ref().map(|scale| &*scale.text), reading.angle.as_ref().map(amount))
}

/// The bits of a number without the last twenty, which differ by the unit that it was written in.
fn rounded(number: f64) -> u64 {
    ((number + 0.0).to_bits() + (1 << 19)) >> 20
}

fn number(of: impl Hash) -> u64 {
    let mut hasher = FxHasher::default();
    of.hash(&mut hasher);
    hasher.finish()
}
