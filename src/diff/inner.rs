//! Blocks within an item that have another name than before: planes, controls, scales, trials, runs and the like.
//!
//! One that is gone is followed to one that has come where both say nearly the same, or where all that named the one now
//! names the other. What is said of each, and each use of its name, is a vote.

use smallvec::SmallVec;

use super::pairs::{NEARLY_THE_SAME, gather, share};
use super::proofs::{is_of_one_day, reads_the_same};
use super::renames::Renames;
use super::uses::{Inside, Named, Uses, in_both, number, uses, without};
use super::votes::{Likely, settled};
use crate::book::{Book, ItemId};
use crate::sheet::{Block, Field, FieldValue, NameAt};
use crate::syntax::Kind;
use crate::vocabulary::{self, NameOf, control, machine};

/// Names that are others now, each with what it was and is.
pub(super) type Inner = SmallVec<[(Inside, Box<str>, Box<str>); 1]>;

/// What is called otherwise in an item of two books. `called` gives an item of either book one number.
pub(super) fn renamed(old: (&Book, ItemId), new: (&Book, ItemId), called: &Called<'_>) -> Inner {
    let (before, after) = (declared(old.0.item(old.1)), declared(new.0.item(new.1)));
    let has = |all: &[Declared<'_>], one: &Declared<'_>| all.iter().any(|other| other.is_named_as(one));
    let gone: Vec<&Declared<'_>> = before.iter().filter(|one| !has(&after, one)).collect();
    let come: Vec<&Declared<'_>> = after.iter().filter(|one| !has(&before, one)).collect();
    let pairs =
        || gone.iter().enumerate().flat_map(|(o, was)| come.iter().enumerate().map(move |(n, is)| (o, *was, n, *is)));
    let mut pairs = pairs().filter(|(_, was, _, is)| was.kind == is.kind).peekable();
    if pairs.peek().is_none() {
        return Inner::new();
    }
    let names: Vec<Named<'_>> = gone.iter().chain(&come).map(|one| (one.kind, one.name)).collect();
    let mut then = uses(old.0, old.1, &names, called.old);
    let mut now = uses(new.0, new.1, &names, called.new);
    // A sheet that was overlooked still says the name from before.
    then.iter_mut().zip(&mut now).for_each(|(then, now)| Uses::keep_what_differs(then, now));
    let texts = (&*old.0.file(old.1.file).text, &*new.0.file(new.1.file).text);
    let gone: Vec<Voter<'_>> = gone.iter().zip(then).map(|(one, uses)| Voter::of(one, texts.0, uses)).collect();
    let come: Vec<Voter<'_>> =
        come.iter().zip(now.into_iter().skip(gone.len())).map(|(one, uses)| Voter::of(one, texts.1, uses)).collect();
    let likely = pairs.map(|(o, _, n, _)| Likely {
        old: o,
        new: n,
        share: gone[o].share(&come[n]),
        is_enough: is_one((o, &gone), (n, &come)),
    });
    let found = settled(likely.collect()).into_iter();
    found.map(|(o, n)| (gone[o].of.kind, gone[o].of.name.into(), come[n].of.name.into())).collect()
}

/// One number for an item of either book.
pub(super) struct Called<'c> {
    pub old: &'c dyn Fn(ItemId) -> u64,
    pub new: &'c dyn Fn(ItemId) -> u64,
}

/// A name that is declared in an item: by a block, or in a list.
struct Declared<'b> {
    kind: Inside,
    name: &'b str,
    block: Option<&'b Block>,
    /// Its number in the list.
    at: u64,
}

impl Declared<'_> {
    fn is_named_as(&self, other: &Declared<'_>) -> bool {
        self.kind == other.kind && self.name == other.name
    }

    /// A number for each thing that is said of it where it is declared.
    fn said(&self, text: &str) -> Vec<u64> {
        let Some(block) = self.block else { return vec![self.at] };
        let mut said = Vec::new();
        gather(block, text, 0, &mut said);
        said.sort_unstable();
        said
    }
}

/// The names that an item declares: of blocks, however deep, of channels, of positions of its switches.
fn declared(item: &Block) -> Vec<Declared<'_>> {
    let mut all = Vec::new();
    named_blocks(item, &mut all);
    if item.kind == Kind::Machine {
        listed(Inside::Channel, item.field(machine::CHANNELS), "", &mut all);
        for control in item.inner(Kind::Control) {
            listed(Inside::Position, control.field(control::POSITIONS), control.name_text(), &mut all);
        }
    }
    all
}

fn named_blocks<'b>(block: &'b Block, all: &mut Vec<Declared<'b>>) {
    for inner in &block.blocks {
        if is_declared(inner.kind) && inner.name.is_some() {
            all.push(Declared { kind: Inside::Block(inner.kind), name: inner.name_text(), block: Some(inner), at: 0 });
        }
        named_blocks(inner, all);
    }
}

fn listed<'b>(kind: Inside, field: Option<&'b Field>, of: &str, all: &mut Vec<Declared<'b>>) {
    if let Some(FieldValue::Names(names)) = field.map(|field| &field.value) {
        let one =
            |(at, name): (usize, &'b NameAt)| Declared { kind, name: &name.text, block: None, at: number((of, at)) };
        all.extend(names.iter().enumerate().map(one));
    }
}

/// A name that is gone or has come, with all that speaks for which it is.
struct Voter<'b> {
    of: &'b Declared<'b>,
    said: Vec<u64>,
    uses: Uses,
}

impl<'b> Voter<'b> {
    fn of(of: &'b Declared<'b>, text: &str, uses: Uses) -> Self {
        Self { of, said: of.said(text), uses }
    }

    /// The share that two of them have in common of what is said of them, and of where they are used.
    fn share(&self, other: &Self) -> f64 {
        let all =
            [(&self.said, &other.said), (&self.uses.said, &other.uses.said), (&self.uses.places, &other.uses.places)];
        let sum = |(same, own, others), (a, b): &(&Vec<u64>, &Vec<u64>)| {
            (same + in_both(a, b), own + a.len(), others + b.len())
        };
        let (same, own, others) = all.iter().fold((0, 0, 0), sum);
        share(same, own, others)
    }

    /// Whether nearly the same is said of both. A proof is another one unless it was read on the same day, or reads the
    /// same.
    fn is_near(&self, other: &Self) -> bool {
        match (self.of.block, other.of.block) {
            (Some(was), Some(is)) if is.kind == Kind::Proof => {
                reads_the_same(was, is, &Renames::default()) || is_of_one_day(was, is)
            }
            _ => share(in_both(&self.said, &other.said), self.said.len(), other.said.len()) >= NEARLY_THE_SAME,
        }
    }
}

/// Whether one that is gone and one that has come may be one: all that used the one uses the other; or they are nearly
/// the same, and nothing that used the one uses a third.
fn is_one((o, gone): (usize, &[Voter<'_>]), (n, come): (usize, &[Voter<'_>])) -> bool {
    let (was, is) = (&gone[o], &come[n]);
    let (then, now) = (&was.uses.places, &is.uses.places);
    if !then.is_empty() && then == now && was.of.kind != Inside::Block(Kind::Proof) {
        return true;
    }
    let has_any = |all: &[Voter<'_>], but: usize, places: &[u64]| {
        let others = all.iter().enumerate().filter(|(n, one)| *n != but && one.of.kind == was.of.kind);
        others.flat_map(|(_, one)| &one.uses.places).any(|place| places.contains(place))
    };
    was.is_near(is) && !has_any(come, n, &without(then, now)) && !has_any(gone, o, &without(now, then))
}

/// Whether a block of this kind is told of where it is declared, when it has another name.
pub(super) fn is_declared(kind: Kind) -> bool {
    vocabulary::block(kind).name == Some(NameOf::Own)
}
