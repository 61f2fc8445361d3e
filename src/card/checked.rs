//! What a check has found in an item and in all it rests on: a card of a sheet with errors says so.

use rustc_hash::FxHashSet;

use super::words::Words;
use crate::book::{
    Book, Computed, EffectiveBlock, FileId, ItemId, JudgedBy, effective, likes, references, references_in_force,
};
use crate::check::{Diagnostic, Place, Severity};
use crate::sheet::{Block, Field, FieldValue, PinValue};
use crate::syntax::Kind;
use crate::text::Span;
use crate::vocabulary::{setup, tolerance};

/// How many errors are told; the rest is counted.
const TOLD: usize = 4;

/// An item and all that it names, and what those name.
pub fn rests_on(book: &Book, id: ItemId) -> Vec<ItemId> {
    let mut found = vec![id];
    let mut next = 0;
    while next < found.len() {
        for reference in references(book.item(found[next])) {
            if let Ok(named) = book.find(reference.kind, &reference.name.text)
                && !found.contains(&named)
            {
                found.push(named);
            }
        }
        next += 1;
    }
    found
}

/// How many values are `?` in what an item is worked out from.
pub fn open_values(book: &Book, id: ItemId) -> usize {
    Scope::of_item(book, id).open
}

/// What a card answers for: an item with all that it is worked out from; of a record that is bound to what it was run by,
/// itself and that alone, for what becomes of a sheet later changes nothing in it.
#[derive(Clone, Debug)]
pub struct Scope {
    pub items: Vec<ItemId>,
    /// The proof that a record is bound to.
    proof: Option<(FileId, Span)>,
    /// The parts of these items that do not count.
    beside: Vec<(FileId, Span)>,
    /// How many values are `?`.
    open: usize,
}

impl Scope {
    pub fn of(book: &Book, computed: &Computed<'_>, id: ItemId) -> Self {
        let bound_to = match computed {
            Computed::Record(record) => record.bound_to(),
            _ => None,
        };
        match bound_to {
            Some(JudgedBy::Proof(name)) => Self::of_items(book, (vec![id], Vec::new()), proof_of(book, id, name)),
            Some(_) => Self::of_items(book, (vec![id], Vec::new()), None),
            None => Self::of_item(book, id),
        }
    }

    /// Of an item that is bound to nothing.
    pub fn of_item(book: &Book, id: ItemId) -> Self {
        Self::of_items(book, worked_out_from(book, id), None)
    }

    fn of_items(
        book: &Book,
        (items, beside): (Vec<ItemId>, Vec<(FileId, Span)>),
        proof: Option<(FileId, &Block)>,
    ) -> Self {
        let mut scope = Self { items, proof: proof.map(|(file, block)| (file, block.span)), beside, open: 0 };
        let blocks = scope.items.iter().map(|item| (item.file, book.item(*item))).chain(proof);
        scope.open = blocks.map(|(file, block)| scope.open_in(file, block)).sum();
        scope
    }

    fn open_in(&self, file: FileId, block: &Block) -> usize {
        let counts = |span: Span| !self.is_beside(Place { file, span });
        let is_open = |field: &&Field| field.value == FieldValue::Unknown && counts(field.head);
        let facts = block.fields.iter().filter(is_open).count();
        let pins = block.pins.iter().filter(|pin| pin.value == PinValue::Unknown && counts(pin.head)).count();
        facts + pins + block.blocks.iter().map(|inner| self.open_in(file, inner)).sum::<usize>()
    }

    pub fn files(&self) -> impl Iterator<Item = FileId> {
        self.items.iter().map(|item| item.file).chain(self.proof.map(|(file, _)| file))
    }

    /// Whether a place lies in it; of the files of its items, also where no item is at all.
    pub fn holds(&self, book: &Book, place: Place) -> bool {
        let within = |item: &ItemId| item.file == place.file && meets(book.item(*item).span, place);
        let in_no_item = |item: &ItemId| {
            let items = &book.file(item.file).sheet.items;
            item.file == place.file && !items.iter().any(|block| meets(block.span, place))
        };
        let in_proof = self.proof.is_some_and(|(file, span)| file == place.file && meets(span, place));
        let in_items = || self.items.iter().any(|item| within(item) || in_no_item(item));
        in_proof || (in_items() && !self.is_beside(place))
    }

    fn is_beside(&self, place: Place) -> bool {
        self.beside.iter().any(|(file, span)| *file == place.file && meets(*span, place))
    }
}

fn meets(span: Span, place: Place) -> bool {
    span.start <= place.span.start && place.span.start <= span.end
}

/// The items that an item is worked out from, and the parts of them that do not count: of a setup that another is
/// like, what that one does not take over; of a rotor that a tolerance is scaled from, its planes and keyways; of both
/// their headings and pins.
fn worked_out_from(book: &Book, id: ItemId) -> (Vec<ItemId>, Vec<(FileId, Span)>) {
    let mut items = vec![id];
    let (mut liked, mut scaled, mut taken) = (Vec::new(), Vec::new(), FxHashSet::default());
    let mut next = 0;
    while let Some(item) = items.get(next).copied() {
        let block = effective(book, item).0;
        liked.extend(likes(book, item).links.iter().map(|link| link.to));
        heads(&block, &mut taken);
        for reference in references_in_force(&block).into_iter().filter(|one| !one.is_by(setup::LIKE)) {
            let Ok(named) = book.find(reference.kind, &reference.name.text) else { continue };
            if reference.is_by(tolerance::SCALED_FROM) {
                scaled.extend(rests_on(book, named));
            } else if !items.contains(&named) {
                items.push(named);
            }
        }
        next += 1;
    }
    let mut beside = Vec::new();
    // Where `like` leads nowhere, nothing is taken over of what it should lead to.
    let is_taken = |file: FileId, field: &Field| field.key.is(setup::LIKE) || taken.contains(&(file, field.head.start));
    let of_like = liked.into_iter().map(|item| (item, true));
    for (item, is_like) in of_like.chain(scaled.into_iter().map(|item| (item, false))) {
        if items.contains(&item) {
            continue;
        }
        let block = book.item(item);
        let alone: &[Kind] =
            if is_like { &[Kind::Proof, Kind::Trial, Kind::CheckMass] } else { &[Kind::Plane, Kind::Keyway] };
        let mut spans = vec![block.heading];
        not_used(block, alone, &|field| !is_like || is_taken(item.file, field), &mut spans);
        beside.extend(spans.into_iter().map(|span| (item.file, span)));
        items.push(item);
    }
    (items, beside)
}

/// Where the facts that hold in a block are written.
fn heads(block: &EffectiveBlock<'_>, found: &mut FxHashSet<(FileId, u32)>) {
    found.extend(block.fields.iter().map(|one| (one.item.file, one.field.head.start)));
    block.blocks.iter().for_each(|inner| heads(inner, found));
}

/// The pins of a block, the facts that are not used, and whole blocks of kinds that stand for that item alone.
fn not_used(block: &Block, alone: &[Kind], is_used: &dyn Fn(&Field) -> bool, found: &mut Vec<Span>) {
    found.extend(block.pins.iter().map(|pin| pin.head.to(pin.value_span)));
    found.extend(block.fields.iter().filter(|one| !is_used(one)).map(|one| one.head.to(one.value_span)));
    for inner in &block.blocks {
        match alone.contains(&inner.kind) {
            true => found.push(inner.span),
            false => not_used(inner, alone, is_used, found),
        }
    }
}

fn proof_of<'b>(book: &'b Book, record: ItemId, name: &str) -> Option<(FileId, &'b Block)> {
    let setups = rests_on(book, record).into_iter().filter(|item| book.item(*item).kind == Kind::Setup);
    let mut proofs = setups.flat_map(|item| book.item(item).inner(Kind::Proof).map(move |proof| (item.file, proof)));
    proofs.find(|(_, proof)| proof.name_text() == name)
}

/// What was found of what a card answers for.
pub(super) struct Checked<'d> {
    /// How many values in them are `?`.
    open: usize,
    errors: Vec<&'d Diagnostic>,
    warnings: usize,
}

impl<'d> Checked<'d> {
    pub fn of(book: &Book, scope: &Scope, found: &'d [Diagnostic]) -> Self {
        let concerning: Vec<&Diagnostic> = found.iter().filter(|found| scope.holds(book, found.place)).collect();
        let of = |severity: Severity| concerning.iter().filter(move |found| found.severity == severity);
        Self {
            open: scope.open,
            errors: of(Severity::Error).copied().collect(),
            warnings: of(Severity::Warning).count(),
        }
    }

    pub fn has_errors(&self) -> bool {
        !self.errors.is_empty()
    }

    pub fn alarms(&self, book: &Book) -> Vec<Words> {
        let open = match self.open {
            0 => None,
            1 => Some("1 VALUE IS STILL OPEN".to_owned()),
            open => Some(format!("{open} VALUES ARE STILL OPEN")),
        };
        let open = open.map(|open| Words::strong(format!("{open}.")).say(" The sheets have `?` there."));
        let count = self.errors.len();
        if count == 0 {
            return open.into_iter().collect();
        }
        let errors = if count == 1 { "1 error".to_owned() } else { format!("{count} errors") };
        let mut alarms = vec![
            Words::strong(format!("THIS SHEET HAS {}.", errors.to_uppercase()))
                .say(" Do not use it until this is corrected."),
        ];
        alarms.extend(self.errors.iter().take(TOLD).map(|error| {
            let file = book.file(error.place.file);
            let line = file.line_index().line_of(error.place.span.start) + 1;
            Words::stated(error.message.clone()).say(" (").state(format!("{}:{line}", file.path)).say(")")
        }));
        if count > TOLD {
            alarms.push(Words::said(format!("and {} more", count - TOLD)));
        }
        alarms.extend(open);
        alarms
    }

    /// `checked: no errors, 2 warnings`
    pub fn summary(&self) -> Words {
        let count = |n: usize, severity: Severity| match (n, severity.word()) {
            (0, what) => format!("no {what}s"),
            (1, what) => format!("1 {what}"),
            (n, what) => format!("{n} {what}s"),
        };
        let (errors, warnings) = (count(self.errors.len(), Severity::Error), count(self.warnings, Severity::Warning));
        match (self.errors.len(), self.warnings) {
            (0, 0) => "checked: no errors or warnings".into(),
            _ => Words::said(format!("checked: {errors}, {warnings}")),
        }
    }
}
