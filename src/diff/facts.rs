//! The facts of one item in two versions.

use super::inner::is_declared;
use super::order;
use super::renames::Renames;
use super::value::{amounts_in, highest, same, same_pin};
use crate::book::{Computing, EffectiveBlock, EffectiveField, FileId, ItemId, effective, head_of};
use crate::sheet::{FieldValue, Pin, Stated};
use crate::syntax::Kind;
use crate::text::Span;
use crate::units::Indication;
use crate::vocabulary::{Fact, KeySpec, ResultSpec, Standing, results_of, setup};

/// One fact that is not what it was.
#[derive(Clone, Debug)]
pub struct FactChange {
    /// The blocks it is in, as their headings read, then its head.
    pub path: Vec<String>,
    pub change: FactChangeKind,
    /// As written; `None` where it does not stand.
    pub old: Option<String>,
    pub new: Option<String>,
    /// The kind of block it is in.
    pub within: Kind,
    /// Its key; `None` for a block without facts.
    pub key: Option<&'static KeySpec>,
    /// As read.
    pub values: (Option<FieldValue>, Option<FieldValue>),
    /// Where the values are written.
    pub(super) places: (Option<Written>, Option<Written>),
}

/// A file of a book, and a stretch of it.
pub(super) type Written = (FileId, Span);

impl FactChange {
    /// Whether it is this fact, in whichever block.
    pub fn is<T>(&self, fact: Fact<T>) -> bool {
        self.key.is_some_and(|key| key.is(fact))
    }

    /// How many times as large the only amount of it is now.
    pub fn ratio(&self) -> Option<f64> {
        let (old, new) = (highest(self.values.0.as_ref()?)?, highest(self.values.1.as_ref()?)?);
        (old > 0.0 && new > 0.0).then(|| new / old)
    }

    /// Whether the values differ by less than the last digit of the one that is written more coarsely: 9.20 lb and 4.17 kg.
    pub(super) fn is_rounding(&self) -> bool {
        let (Some(old), Some(new)) = (&self.values.0, &self.values.1) else { return false };
        let (old, new) = (amounts_in(old), amounts_in(new));
        let near = |(a, b): (&&Stated, &&Stated)| {
            a.dimension() == b.dimension() && (a.base - b.base).abs() <= a.half_step.max(b.half_step)
        };
        !old.is_empty() && old.len() == new.len() && old.iter().zip(&new).all(near)
    }
}

#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum FactChangeKind {
    Added,
    Removed,
    Changed,
    /// The value is the same, and known better or worse than before.
    Precision,
}

impl FactChangeKind {
    pub const fn word(self) -> &'static str {
        match self {
            FactChangeKind::Added => "added",
            FactChangeKind::Removed => "removed",
            FactChangeKind::Changed => "changed",
            FactChangeKind::Precision => "precision",
        }
    }
}

/// A pinned result that is written differently: its path, and what stands there.
#[derive(Clone, Debug)]
pub struct PinChange {
    pub path: Vec<String>,
    /// The result that its name may mean.
    pub spec: Option<&'static ResultSpec>,
    pub old: Option<String>,
    pub new: Option<String>,
}

/// What changed in the text of one item.
#[derive(Clone, Debug, Default)]
pub struct Facts {
    /// Changes of value, in the order of the sheet, then changes of precision.
    pub facts: Vec<FactChange>,
    pub pins: Vec<PinChange>,
    /// Names of planes, controls and the like that hold in it, as they were and as they are.
    pub renamed: Vec<(String, String)>,
}

impl Facts {
    pub fn is_empty(&self) -> bool {
        self.facts.is_empty() && self.pins.is_empty()
    }
}

/// One version of an item, read with the instruments and masses of its book.
struct Side<'b> {
    facts: crate::book::Facts<'b>,
    item: ItemId,
    text: &'b str,
}

impl<'b> Side<'b> {
    fn of(computing: &Computing<'b>, item: ItemId) -> (Self, EffectiveBlock<'b>) {
        let book = computing.book();
        let block = effective(book, item).0;
        let named = (block.kind == Kind::Setup).then(|| block.field(setup::MASSES)).flatten();
        let masses = named.and_then(|field| match &field.field.value {
            FieldValue::Name(name) => book.find(Kind::Masses, &name.text).ok(),
            _ => None,
        });
        let facts = computing.facts().with_masses(masses);
        (Self { facts, item, text: &book.file(item.file).text }, block)
    }

    fn written(&self, field: &EffectiveField<'b>) -> String {
        spaced(field.field.value_span.of(self.text))
    }

    /// The facts that the item itself states in a block.
    fn own_fields<'e>(&'e self, block: &'e EffectiveBlock<'b>) -> impl Iterator<Item = &'e EffectiveField<'b>> {
        block.fields.iter().filter(|field| field.item == self.item)
    }

    /// What each amount of a fact is known to.
    fn standards(&self, block: &EffectiveBlock<'b>, field: &EffectiveField<'b>) -> Vec<f64> {
        let of = |stated: &&Stated| match field.field.value {
            // The readout's own step belongs to the machine, not to the fact.
            FieldValue::Reading(_) | FieldValue::Readings(_) if field.field.key.standing == Standing::Measured => {
                stated.stated_uncertainty().unwrap_or(stated.half_step / 3f64.sqrt())
            }
            _ => {
                let origin = self.facts.origin_of(block, *field);
                self.facts.stated::<Indication>(block, *field, stated, origin).standard_uncertainty()
            }
        };
        amounts_in(&field.field.value).iter().map(of).collect()
    }
}

/// Compares the facts of an item of one book with those of an item of another, or with none.
pub fn facts_between(
    old: Option<(&Computing<'_>, ItemId)>,
    new: Option<(&Computing<'_>, ItemId)>,
    renames: &Renames,
) -> Facts {
    let before = old;
    let old = old.map(|(computing, id)| Side::of(computing, id));
    let new = new.map(|(computing, id)| Side::of(computing, id));
    let here = before.map(|(computing, id)| renames.within(computing.book(), id));
    let renames = here.as_ref().unwrap_or(renames);
    let sides = Sides { old: old.as_ref().map(|old| &old.0), new: new.as_ref().map(|new| &new.0), renames };
    let mut found = Facts::default();
    sides.block(&[], old.as_ref().map(|old| &old.1), new.as_ref().map(|new| &new.1), &mut found);
    found.facts.sort_by_key(|fact| fact.change == FactChangeKind::Precision);
    found.renamed = renames.of_the_item().iter().map(|(was, is)| ((*was).to_owned(), (*is).to_owned())).collect();
    found
}

struct Sides<'s, 'o, 'n> {
    old: Option<&'s Side<'o>>,
    new: Option<&'s Side<'n>>,
    renames: &'s Renames,
}

/// A block with whose it is.
type Of<'s, 'b> = (&'s Side<'b>, &'s EffectiveBlock<'b>);

impl<'s, 'o, 'n> Sides<'s, 'o, 'n> {
    fn block(
        &self,
        path: &[String],
        old: Option<&'s EffectiveBlock<'o>>,
        new: Option<&'s EffectiveBlock<'n>>,
        found: &mut Facts,
    ) {
        let (old, new) = (self.old.zip(old), self.new.zip(new));
        if !path.is_empty() && old.is_some() != new.is_some() {
            self.empty_block(path, old, new, found);
        }
        let olds: Vec<_> = old.iter().flat_map(|(side, block)| side.own_fields(block)).collect();
        let news: Vec<_> = new.iter().flat_map(|(side, block)| side.own_fields(block)).collect();
        let within = old.map(|(_, block)| block.kind).or(new.map(|(_, block)| block.kind)).unwrap_or(Kind::Setup);
        let old_head = |field: &&EffectiveField<'_>| {
            let now = self.renames.head_among(within, field.field, news.iter().map(|new| new.field));
            (field.field.key.name, now.to_owned())
        };
        let head = |field: &&EffectiveField<'_>| (field.field.key.name, field.field.name_text().to_owned());
        let same = |(o, n): (&&EffectiveField<'o>, &&EffectiveField<'n>)| match (old, new) {
            (Some(old), Some(new)) => self.says(old, o, new, n) != Says::Otherwise,
            _ => false,
        };
        for (o, n) in paired(&olds, &news, old_head, head, |o, n| same((o, n))) {
            self.fact(path, old.zip(o.copied()), new.zip(n.copied()), found);
        }
        self.pins(path, old, new, found);
        let old_blocks: Vec<_> = old.iter().flat_map(|(_, block)| own_blocks(block)).collect();
        let new_blocks: Vec<_> = new.iter().flat_map(|(_, block)| own_blocks(block)).collect();
        let old_head = |block: &&EffectiveBlock<'o>| {
            let now = new_blocks.iter().map(|new| (new.kind, new.name_text()));
            (block.kind, self.renames.block_among(block.kind, block.name_text(), now).to_owned())
        };
        let new_head = |block: &&EffectiveBlock<'n>| (block.kind, block.name_text().to_owned());
        let alike = |o: &&'s EffectiveBlock<'o>, n: &&'s EffectiveBlock<'n>| {
            let mut found = Facts::default();
            self.block(&["…".to_owned()], Some(o), Some(n), &mut found);
            found.is_empty()
        };
        let both = paired(&old_blocks, &new_blocks, old_head, new_head, alike);
        order::reordered(path, within, &old_blocks, &both, found);
        for (o, n) in both {
            let block = n.map(|n| crate::book::heading(n.written)).or(o.map(|o| crate::book::heading(o.written)));
            self.renamed_block(path, o.copied(), n.copied(), found);
            let path: Vec<String> = path.iter().cloned().chain(block).collect();
            self.block(&path, o.copied(), n.copied(), found);
        }
    }

    /// A block with another name of its own is told where it is declared, and nowhere else.
    fn renamed_block(
        &self,
        path: &[String],
        old: Option<&EffectiveBlock<'o>>,
        new: Option<&EffectiveBlock<'n>>,
        found: &mut Facts,
    ) {
        let Some((old, new)) = old.zip(new).filter(|(_, new)| is_declared(new.kind)) else { return };
        if old.name_text() != new.name_text() {
            let [was, now] = [old.written, new.written].map(crate::book::heading);
            found.facts.push(FactChange {
                path: path.iter().cloned().chain([now.clone()]).collect(),
                change: FactChangeKind::Changed,
                old: Some(was),
                new: Some(now),
                within: new.kind,
                key: None,
                values: (None, None),
                places: (None, None),
            });
        }
    }

    /// A block that comes or goes and states nothing is a fact by itself.
    fn empty_block(&self, path: &[String], old: Option<Of<'_, 'o>>, new: Option<Of<'_, 'n>>, found: &mut Facts) {
        let states = |written: &crate::sheet::Block| !written.fields.is_empty() || !written.blocks.is_empty();
        let written = old.map(|(_, block)| block.written).or(new.map(|(_, block)| block.written));
        let Some(written) = written.filter(|written| !states(written)) else { return };
        let stands = |stands: bool| stands.then(|| "a block without facts".to_owned());
        found.facts.push(FactChange {
            path: path.to_vec(),
            change: if new.is_some() { FactChangeKind::Added } else { FactChangeKind::Removed },
            old: stands(old.is_some()),
            new: stands(new.is_some()),
            within: written.kind,
            key: None,
            values: (None, None),
            places: (None, None),
        });
    }

    fn fact(
        &self,
        path: &[String],
        old: Option<(Of<'_, 'o>, &EffectiveField<'o>)>,
        new: Option<(Of<'_, 'n>, &EffectiveField<'n>)>,
        found: &mut Facts,
    ) {
        let change = match (old, new) {
            (Some((old, o)), Some((new, n))) => match self.says(old, o, new, n) {
                Says::TheSame => return,
                Says::LessOrMoreSurely => FactChangeKind::Precision,
                Says::Otherwise => FactChangeKind::Changed,
            },
            (Some(_), None) => FactChangeKind::Removed,
            (None, Some(_)) => FactChangeKind::Added,
            (None, None) => return,
        };
        let field = new.map(|(_, n)| n.field).or(old.map(|(_, o)| o.field));
        let Some(field) = field else { return };
        let within = new.map(|((_, block), _)| block.kind).or(old.map(|((_, block), _)| block.kind));
        found.facts.push(FactChange {
            path: path.iter().cloned().chain([head_of(field)]).collect(),
            change,
            old: old.map(|((side, _), o)| side.written(o)),
            new: new.map(|((side, _), n)| side.written(n)),
            within: within.unwrap_or(Kind::Setup),
            key: Some(field.key),
            values: (old.map(|(_, o)| o.field.value.clone()), new.map(|(_, n)| n.field.value.clone())),
            places: (old.map(|(_, o)| written_at(o)), new.map(|(_, n)| written_at(n))),
        });
    }

    fn says(
        &self,
        (old_side, old_block): Of<'_, 'o>,
        old: &EffectiveField<'o>,
        (new_side, new_block): Of<'_, 'n>,
        new: &EffectiveField<'n>,
    ) -> Says {
        if old_side.written(old) == new_side.written(new) {
            return Says::TheSame;
        }
        if !same(&old.field.value, &new.field.value, new.field.key, self.renames) {
            return Says::Otherwise;
        }
        let (before, after) = (old_side.standards(old_block, old), new_side.standards(new_block, new));
        let same =
            before.len() == after.len() && before.iter().zip(&after).all(|(a, b)| super::outcome::spread(*a, *b));
        if same { Says::TheSame } else { Says::LessOrMoreSurely }
    }

    fn pins(&self, path: &[String], old: Option<Of<'_, 'o>>, new: Option<Of<'_, 'n>>, found: &mut Facts) {
        let olds: Vec<&Pin> = old.iter().filter_map(|(_, block)| block.own).flat_map(|own| &own.pins).collect();
        let news: Vec<&Pin> = new.iter().filter_map(|(_, block)| block.own).flat_map(|own| &own.pins).collect();
        let head = |pin: &&Pin| pin.name.to_string();
        let old_head = |pin: &&Pin| match news.iter().any(|new| new.name == pin.name) {
            true => pin.name.to_string(),
            false => self.renames.pin_now(&pin.name),
        };
        let kind = new.map(|(_, block)| block.kind).or(old.map(|(_, block)| block.kind));
        let spec = |name: &str| kind.and_then(|kind| results_of(kind).find(|spec| spec.answers_to(name)));
        for (o, n) in paired(&olds, &news, old_head, head, |_, _| true) {
            if o.zip(n).is_some_and(|(o, n)| same_pin(&o.value, &n.value)) {
                continue;
            }
            let Some(name) = n.or(o).map(|pin| pin.name.to_string()) else { continue };
            let spec = spec(&name);
            let written = |text: &str, pin: &Pin| spaced(pin.value_span.of(text));
            found.pins.push(PinChange {
                path: path.iter().cloned().chain([name]).collect(),
                spec,
                old: o.zip(old).map(|(pin, (side, _))| written(side.text, pin)),
                new: n.zip(new).map(|(pin, (side, _))| written(side.text, pin)),
            });
        }
    }
}

#[derive(PartialEq, Eq)]
enum Says {
    TheSame,
    /// The same value with another precision.
    LessOrMoreSurely,
    Otherwise,
}

/// The blocks that the item itself writes.
fn own_blocks<'e, 'b>(block: &'e EffectiveBlock<'b>) -> impl Iterator<Item = &'e EffectiveBlock<'b>> {
    block.blocks.iter().filter(|inner| inner.own.is_some())
}

/// Things of two versions side by side: in the order of the new one, then those that are gone.
///
/// Those of one head are paired as they are the same, and then as they follow each other.
fn paired<'t, O, N, K: PartialEq>(
    olds: &'t [O],
    news: &'t [N],
    old_head: impl Fn(&O) -> K,
    new_head: impl Fn(&N) -> K,
    same: impl Fn(&O, &N) -> bool,
) -> Vec<(Option<&'t O>, Option<&'t N>)> {
    let old_heads: Vec<K> = olds.iter().map(&old_head).collect();
    let new_heads: Vec<K> = news.iter().map(&new_head).collect();
    let mut partner: Vec<Option<usize>> = vec![None; news.len()];
    let mut taken = vec![false; olds.len()];
    let alone = |heads_old: &K| {
        old_heads.iter().filter(|head| *head == heads_old).count() < 2
            && new_heads.iter().filter(|head| *head == heads_old).count() < 2
    };
    for by_sameness in [true, false] {
        for (n, head) in new_heads.iter().enumerate().filter(|(n, _)| partner[*n].is_none()).collect::<Vec<_>>() {
            if by_sameness && alone(head) {
                continue;
            }
            let fits = |o: &usize| !taken[*o] && old_heads[*o] == *head && (!by_sameness || same(&olds[*o], &news[n]));
            partner[n] = (0..olds.len()).find(fits);
            if let Some(o) = partner[n] {
                taken[o] = true;
            }
        }
    }
    let both = news.iter().zip(&partner).map(|(new, partner)| (partner.map(|o| &olds[o]), Some(new)));
    let gone = olds.iter().zip(&taken).filter(|(_, taken)| !**taken).map(|(old, _)| (Some(old), None));
    both.chain(gone).collect()
}

fn written_at(field: &EffectiveField<'_>) -> Written {
    (field.item.file, field.field.value_span)
}

/// With single spaces.
fn spaced(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}
