//! A change of one fact, tried in a copy of the book.

use std::sync::Arc;

use crate::book::{Book, Computing, EffectiveBlock, ItemId};
use crate::card;
use crate::check::line_at_end;
use crate::cli::Failure;
use crate::sheet::Block;
use crate::syntax::Kind;
use crate::text::{Edit, Span, apply};

/// What is to be different.
pub(super) enum Change {
    Mountings(usize),
    Fact(FactChange),
}

/// `machine / readout / smallest step = 0.1 div`
pub(super) struct FactChange {
    said: String,
    /// The item that the setup rests on, or the setup itself.
    kind: Kind,
    blocks: Vec<String>,
    head: String,
    value: String,
}

const KINDS: [Kind; 5] = [Kind::Setup, Kind::Rotor, Kind::Machine, Kind::Arbor, Kind::Masses];

impl Change {
    pub fn of(text: &str) -> Result<Self, Failure> {
        let shape = || {
            let help = "write it as `machine / readout / smallest step = 0.1 div`, or as `mountings = 3`";
            Failure::new(format!("`{text}` is not a change of a fact")).help(help)
        };
        let (path, value) = text.split_once('=').ok_or_else(shape)?;
        let steps: Vec<&str> = path.split('/').map(str::trim).collect();
        if steps == ["mountings"] {
            let mountings = value.trim().parse().ok().filter(|mountings| (1..=9).contains(mountings));
            return mountings.map(Change::Mountings).ok_or_else(shape);
        }
        let [kind, blocks @ .., head] = &steps[..] else { return Err(shape()) };
        let kind = KINDS.into_iter().find(|own| own.words() == *kind).ok_or_else(shape)?;
        Ok(Change::Fact(FactChange {
            said: text.to_owned(),
            kind,
            blocks: blocks.iter().map(|step| plain(step)).collect(),
            head: plain(head),
            value: value.trim().to_owned(),
        }))
    }
}

/// Without quotes, which a path on the command line seldom has.
fn plain(text: &str) -> String {
    text.replace('"', "").split_whitespace().collect::<Vec<_>>().join(" ")
}

fn heading(block: &Block) -> String {
    plain(&format!("{} {}", block.kind, block.name_text()))
}

impl FactChange {
    fn failure(&self, why: impl std::fmt::Display) -> Failure {
        Failure::new(format!("`{}` cannot be tried: {why}", self.said))
    }

    /// The book with the fact changed. What the proof was made with is left out: the setup is rehearsed as if it were proven so.
    pub fn made(&self, book: &Book, setup: ItemId) -> Result<Book, Failure> {
        let item = self.item(book, setup)?;
        let mut block = book.item(item);
        for step in &self.blocks {
            let inner = block.blocks.iter().find(|inner| heading(inner) == *step);
            block =
                inner.ok_or_else(|| self.failure(format!("{} has no block `{step}` of its own", heading(block))))?;
        }
        let head = |field: &crate::sheet::Field| {
            plain(&format!("{} {}", field.key.name, field.name.as_ref().map_or("", |name| &name.text)))
        };
        let text = &book.file(item.file).text;
        let edit = match block.fields.iter().find(|field| head(field) == self.head) {
            Some(field) if field.value_span.of(text).trim() == self.value => {
                return Err(self.failure("the sheet says so already"));
            }
            Some(field) => Edit::replace(field.value_span, self.value.clone()),
            None => line_at_end(text, block, &format!("{}: {}", self.head, self.value))
                .ok_or_else(|| self.failure("its block does not end on a line of its own"))?,
        };
        let problems = |book: &Book| {
            let file = book.file(item.file);
            file.errors.len() + file.sheet.problems.len()
        };
        let changed = with(book, item, &[edit]).ok_or_else(|| self.failure("two edits meet"))?;
        if problems(&changed) > problems(book) {
            return Err(self.failure(format!("`{}: {}` is not a fact of {}", self.head, self.value, heading(block))));
        }
        let changed = as_proven_so(&changed, book.item(setup).name_text()).unwrap_or(changed);
        match self.error(book, &changed, setup) {
            Some(error) => Err(self.failure(error)),
            None => Ok(changed),
        }
    }

    /// An error of the setup that it has only with the change: a sheet with it would never be worked by.
    fn error(&self, book: &Book, changed: &Book, setup: ItemId) -> Option<String> {
        let errors = |book: &Book| {
            let found = card::errors(&Computing::without_explanations(book), setup);
            found.into_iter().map(|error| error.message).collect::<Vec<String>>()
        };
        let before = errors(book);
        errors(changed).into_iter().find(|error| !before.contains(error))
    }

    fn item(&self, book: &Book, setup: ItemId) -> Result<ItemId, Failure> {
        if self.kind == Kind::Setup {
            return Ok(setup);
        }
        let computing = Computing::without_explanations(book);
        let results = computing.setup(setup).ok_or_else(|| self.failure("the setup cannot be read"))?;
        let item = match self.kind {
            Kind::Rotor => results.rotor.as_ref().map(|rotor| rotor.id),
            Kind::Machine => results.machine.as_ref().map(|machine| machine.id),
            Kind::Arbor => results.arbor.as_ref().map(|arbor| arbor.item),
            _ => results.masses,
        };
        item.ok_or_else(|| self.failure(format!("the setup names no {}", self.kind)))
    }
}

fn with(book: &Book, item: ItemId, edits: &[Edit]) -> Option<Book> {
    let source = book.shared_file(item.file);
    let new = apply(&source.text, edits).ok()?;
    Some(book.with_file(Arc::new(source.changed(new))))
}

/// Without what the latest proof says that it was made with: what has changed since voids nothing.
fn as_proven_so(book: &Book, setup: &str) -> Option<Book> {
    let id = book.find(Kind::Setup, setup).ok()?;
    let computing = Computing::without_explanations(book);
    let results = computing.setup(id)?;
    let with_block = results.block.latest_proof().and_then(EffectiveBlock::proven_with)?;
    let (item, span): (ItemId, Span) = (with_block.item, with_block.written.span);
    with(book, item, &[Edit::delete(span)])
}
