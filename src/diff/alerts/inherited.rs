//! What a setup takes over through `like`, and what of it changed because the other setup did.

use crate::book::{Book, EffectiveBlock, EffectiveField, ItemId, effective, head_of, heading};
use crate::diff::book::ItemName;
use crate::diff::facts::{FactChange, FactChangeKind};
use crate::diff::renames::Renames;
use crate::diff::value::same;
use crate::syntax::Kind;
use crate::vocabulary::setup;

use super::Looked;

/// A setup with the facts that changed for it through `like`.
pub(super) struct Affected {
    pub item: ItemName,
    pub facts: Vec<FactChange>,
}

impl Looked<'_> {
    /// Whether a fact that comes or goes is taken over in the version that does not state it.
    pub(super) fn is_in_force_beside(&self, fact: &FactChange) -> bool {
        let version = match (&fact.old, &fact.new) {
            (None, Some(_)) => self.pair.old.map(|id| (self.old, id)),
            (Some(_), None) => self.pair.new.map(|id| (self.new, id)),
            _ => None,
        };
        let Some((head, blocks)) = fact.path.split_last().filter(|_| self.takes_over()) else { return false };
        version.is_some_and(|(book, id)| {
            let whole = effective(book, id).0;
            let block = blocks
                .iter()
                .try_fold(whole, |block, name| block.blocks.into_iter().find(|inner| heading(inner.written) == *name));
            block.is_some_and(|block| block.fields.iter().any(|field| head_of(field.field) == *head))
        })
    }

    /// Whether it is like another setup, before or after.
    fn takes_over(&self) -> bool {
        let is_like = |book: &Book, id: Option<ItemId>| id.is_some_and(|id| book.item(id).field(setup::LIKE).is_some());
        self.diff.item.kind == Kind::Setup && (is_like(self.old, self.pair.old) || is_like(self.new, self.pair.new))
    }
}

/// The setups that take over facts that changed: those like the one that changed, and it itself where it is like another.
pub(super) fn affected(looked: &Looked<'_>) -> Vec<Affected> {
    let (Some(old), Some(new)) = (looked.pair.old, looked.pair.new) else { return Vec::new() };
    if looked.diff.item.kind != Kind::Setup {
        return Vec::new();
    }
    let mut setups = heirs(looked.new, new);
    if !looked.diff.facts.is_empty() && looked.takes_over() {
        setups.insert(0, new);
    }
    let of = |id: ItemId| {
        let item = ItemName::of(looked.new, id);
        let before = if id == new { Some(old) } else { counterpart(looked, &item) }?;
        // Of heirs, only what comes from here: what comes from elsewhere is told there.
        let from = (id != new).then_some((old, new));
        let facts = changed(looked, before, id, from);
        (!facts.is_empty()).then_some(Affected { item, facts })
    };
    setups.into_iter().filter_map(of).collect()
}

/// The setup of the old book that has this name now.
fn counterpart(looked: &Looked<'_>, item: &ItemName) -> Option<ItemId> {
    let is_it = |id: &ItemId| {
        let before = looked.old.item(*id);
        before.kind == item.kind && looked.renames.name_now(item.kind, before.name_text()) == item.name
    };
    looked.old.find(item.kind, &item.name).ok().or_else(|| looked.old.items().find(is_it))
}

/// The setups that are like one, and those that are like them.
fn heirs(book: &Book, setup: ItemId) -> Vec<ItemId> {
    let mut heirs = Vec::new();
    let mut open = vec![setup];
    while let Some(next) = open.pop() {
        for id in book.naming(Kind::Setup, book.item(next).name_text()) {
            let is_new = *id != setup && book.item(*id).kind == Kind::Setup && !heirs.contains(id);
            if is_new && book.item(*id).field(setup::LIKE).is_some() {
                heirs.push(*id);
                open.push(*id);
            }
        }
    }
    heirs.sort();
    heirs
}

/// Facts of a setup that are others, and that it does not state itself; with `from`, only those of that other setup.
fn changed(looked: &Looked<'_>, old: ItemId, new: ItemId, from: Option<(ItemId, ItemId)>) -> Vec<FactChange> {
    let renames = &looked.renames.within(looked.old, old);
    let both = Both { old: (looked.old, old), new: (looked.new, new), from, renames };
    let mut found = Vec::new();
    both.block(&[], Some(&effective(looked.old, old).0), Some(&effective(looked.new, new).0), &mut found);
    found
}

struct Both<'l> {
    old: (&'l Book, ItemId),
    new: (&'l Book, ItemId),
    from: Option<(ItemId, ItemId)>,
    renames: &'l Renames,
}

impl Both<'_> {
    fn block(
        &self,
        path: &[String],
        old: Option<&EffectiveBlock<'_>>,
        new: Option<&EffectiveBlock<'_>>,
        found: &mut Vec<FactChange>,
    ) {
        let Some(kind) = new.or(old).map(|block| block.kind) else { return };
        if !matches!(kind, Kind::Setup | Kind::Settings | Kind::Calibrate) {
            return;
        }
        let heads = |block: Option<&EffectiveBlock<'_>>| -> Vec<String> {
            block.into_iter().flat_map(|block| &block.fields).map(|field| head_of(field.field)).collect()
        };
        for head in union(heads(new), heads(old)) {
            let at = |field: &&EffectiveField<'_>| head_of(field.field) == head;
            let mut olds: Vec<_> = old.into_iter().flat_map(|block| &block.fields).filter(at).collect();
            let mut news: Vec<_> = new.into_iter().flat_map(|block| &block.fields).filter(at).collect();
            // Of a fact that may be there several times, those that say something else.
            if olds.len().max(news.len()) > 1 {
                let says = |o: &EffectiveField<'_>, n: &EffectiveField<'_>| {
                    same(&o.field.value, &n.field.value, n.field.key, self.renames)
                };
                olds.retain(|o| {
                    let at = news.iter().position(|n| says(o, n));
                    at.map(|at| news.remove(at)).is_none()
                });
            }
            for n in 0..olds.len().max(news.len()) {
                found.extend(self.fact(path, kind, &head, olds.get(n).copied(), news.get(n).copied()));
            }
        }
        let names = |block: Option<&EffectiveBlock<'_>>| -> Vec<String> {
            block.into_iter().flat_map(|block| &block.blocks).map(|inner| heading(inner.written)).collect()
        };
        for name in union(names(new), names(old)) {
            let at = |inner: &&EffectiveBlock<'_>| heading(inner.written) == name;
            let o = old.and_then(|block| block.blocks.iter().find(at));
            let n = new.and_then(|block| block.blocks.iter().find(at));
            self.block(&[path, std::slice::from_ref(&name)].concat(), o, n, found);
        }
    }

    fn fact(
        &self,
        path: &[String],
        within: Kind,
        head: &str,
        old: Option<&EffectiveField<'_>>,
        new: Option<&EffectiveField<'_>>,
    ) -> Option<FactChange> {
        let is_own = old.is_none_or(|o| o.item == self.old.1) && new.is_none_or(|n| n.item == self.new.1);
        let comes_from = |(before, after): (ItemId, ItemId)| {
            old.is_some_and(|o| o.item == before) || new.is_some_and(|n| n.item == after)
        };
        if is_own || !self.from.is_none_or(comes_from) {
            return None;
        }
        let key = new.or(old)?.field.key;
        if let (Some(o), Some(n)) = (old, new)
            && same(&o.field.value, &n.field.value, key, self.renames)
        {
            return None;
        }
        let written = |book: &Book, field: &EffectiveField<'_>| {
            let text = field.field.value_span.of(&book.file(field.item.file).text);
            text.split_whitespace().collect::<Vec<_>>().join(" ")
        };
        Some(FactChange {
            path: path.iter().cloned().chain([head.to_owned()]).collect(),
            change: match (old, new) {
                (None, _) => FactChangeKind::Added,
                (_, None) => FactChangeKind::Removed,
                _ => FactChangeKind::Changed,
            },
            old: old.map(|o| written(self.old.0, o)),
            new: new.map(|n| written(self.new.0, n)),
            within,
            key: Some(key),
            values: (old.map(|o| o.field.value.clone()), new.map(|n| n.field.value.clone())),
            places: (None, None),
        })
    }
}

/// The words of both, each once, in the order of the first.
fn union(first: Vec<String>, second: Vec<String>) -> Vec<String> {
    let mut all: Vec<String> = Vec::with_capacity(first.len());
    for word in first.into_iter().chain(second) {
        if !all.contains(&word) {
            all.push(word);
        }
    }
    all
}
