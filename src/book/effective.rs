//! An item as it holds: its own facts, and through `like` those it takes over.

use std::sync::Arc;

use super::files::{Book, ItemId};
use super::origin::{Missing, Origin, Path, Reason, Step};
use crate::sheet::{Block, Field, FieldValue, NameAt};
use crate::syntax::Kind;
use crate::text::Span;
use crate::vocabulary::{self, AnyFact, Choice, Fact, KeySpec, calibrate, setup};

/// A block with the facts that hold in it, wherever they are written.
#[derive(Clone, Debug)]
pub struct EffectiveBlock<'b> {
    pub kind: Kind,
    pub name: Option<&'b NameAt>,
    pub path: Path,
    /// The block as written in the item itself; `None` when all of it is taken over.
    pub own: Option<&'b Block>,
    /// The block that its heading is taken from, and the item that block is in.
    pub written: &'b Block,
    pub item: ItemId,
    pub fields: Vec<EffectiveField<'b>>,
    pub blocks: Vec<EffectiveBlock<'b>>,
}

#[derive(Clone, Copy, Debug)]
pub struct EffectiveField<'b> {
    pub field: &'b Field,
    /// The fact that it is: of its own block, or of the block that it is laid over from a proof.
    pub key: &'static KeySpec,
    /// The item it is written in.
    pub item: ItemId,
}

impl<'b> EffectiveField<'b> {
    pub fn new(field: &'b Field, item: ItemId) -> Self {
        Self { field, key: field.key, item }
    }
}

/// What `like` did not take over although the other setup has it, and why.
#[derive(Clone, PartialEq, Debug)]
pub struct Dropped {
    /// The facts and blocks that were dropped, as their lines begin.
    pub heads: Vec<String>,
    /// The facts that differ between the two setups.
    pub because: Vec<&'static str>,
    /// Where `like` stands.
    pub span: Span,
}

/// One step of `like`: the item that says it, the item it names, and where.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Link {
    pub from: ItemId,
    pub to: ItemId,
    pub span: Span,
}

/// The setups that one is like, nearest first, and how their row ends.
#[derive(Clone, PartialEq, Debug)]
pub struct Likes {
    pub links: Vec<Link>,
    pub end: LikesEnd,
}

#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum LikesEnd {
    /// At a setup that is like none.
    Whole,
    /// At a name that cannot be read, or that is not the name of just one setup.
    Lost,
    /// At a setup that is like one before it, this one.
    Circle(ItemId),
}

impl<'b> EffectiveBlock<'b> {
    /// A block with its own facts alone.
    fn own(block: &'b Block, item: ItemId, path: Path) -> Self {
        let mut blocks = Vec::with_capacity(block.blocks.len());
        for inner in &block.blocks {
            blocks.push(Self::own(inner, item, path.then(Step::of(inner))));
        }
        let fields = block.fields.iter().map(|field| EffectiveField::new(field, item)).collect();
        Self {
            kind: block.kind,
            name: block.name.as_ref(),
            path,
            own: Some(block),
            written: block,
            item,
            fields,
            blocks,
        }
    }

    pub fn field<T: ?Sized>(&self, fact: Fact<T>) -> Option<EffectiveField<'b>> {
        let key = fact.words();
        debug_assert!(vocabulary::block(self.kind).key(key).is_some(), "{} has no key {key}", self.kind);
        self.fields.iter().find(|field| field.key.name == key).copied()
    }

    /// Whether a fact says something that could be read: one that is left open does not.
    pub fn says<T: ?Sized>(&self, fact: Fact<T>) -> bool {
        self.field(fact).is_some_and(|field| !matches!(field.field.value, FieldValue::Unknown | FieldValue::Hole))
    }

    /// Whether a fact is there and says nothing.
    pub fn is_open<T: ?Sized>(&self, fact: Fact<T>) -> bool {
        self.field(fact).is_some() && !self.says(fact)
    }

    /// What a fact that is a choice says; `None` where it is left out or unreadable.
    pub fn choice<C: Choice>(&self, fact: Fact<C>) -> Option<C> {
        match &self.field(fact)?.field.value {
            FieldValue::Choice(words) => C::of(words),
            _ => None,
        }
    }

    /// The same of a fact that nothing may be assumed for: what is missing where it says nothing.
    pub fn stated_choice<C: Choice>(&self, fact: Fact<C>) -> Result<C, Arc<Missing>> {
        self.choice(fact).ok_or_else(|| {
            let field = self.field(fact);
            let reason = if field.is_some() { Reason::Unreadable } else { Reason::NotGiven };
            let place = field.map(|field| (field.item.file, field.field.value_span));
            let origin = Origin { item: self.item, path: self.path.clone(), name: fact.words().into(), place };
            Arc::new(Missing { origin, reason })
        })
    }

    pub fn name_text(&self) -> &'b str {
        self.name.map_or("", |name| &name.text)
    }

    pub fn inner(&self, kind: Kind) -> impl Iterator<Item = &EffectiveBlock<'b>> {
        self.blocks.iter().filter(move |block| block.kind == kind)
    }

    /// The facts of a key that carries a name in its head, or that are named alone, with that name.
    pub fn named<T: ?Sized>(
        &self,
        fact: Fact<T>,
    ) -> impl Iterator<Item = (&'b NameAt, EffectiveField<'b>)> + use<'_, 'b, T> {
        self.fields
            .iter()
            .filter(move |field| field.key.name == fact.words())
            .filter_map(|field| field.field.name.as_ref().map(|name| (name, *field)))
    }
}

/// A block as its heading reads: `calibrate hub`.
pub fn heading(block: &Block) -> String {
    Step::of(block).to_string()
}

/// The item as it holds, with what `like` dropped on the way to it.
///
/// A setup is like another as that one holds: what the other itself dropped or left out does not come back further down
/// the chain. A circle is not followed.
pub fn effective<'b>(book: &'b Book, item: ItemId) -> (EffectiveBlock<'b>, Vec<Dropped>) {
    let own = |id: ItemId| EffectiveBlock::own(book.item(id), id, Path::item());
    let links = likes(book, item).links;
    let mut result = own(links.last().map_or(item, |link| link.to));
    let mut dropped: Vec<Dropped> = Vec::new();
    for link in links.iter().rev() {
        let parent = std::mem::replace(&mut result, own(link.from));
        // What did not come as far as the other setup is missing here too, and is said here too.
        dropped.iter_mut().for_each(|dropped| dropped.span = link.span);
        take_over(&mut result, parent, link.span, &left_out(book.item(link.from)), &mut dropped);
    }
    (result, dropped)
}

/// The setups that an item is like; no other kind has `like`.
pub fn likes(book: &Book, item: ItemId) -> Likes {
    let mut links: Vec<Link> = Vec::new();
    let mut from = item;
    let end = loop {
        let block = book.item(from);
        let like = (block.kind == Kind::Setup).then(|| block.field(setup::LIKE)).flatten();
        let Some(like) = like else { break LikesEnd::Whole };
        let FieldValue::Name(name) = &like.value else { break LikesEnd::Lost };
        let Ok(to) = book.find(Kind::Setup, &name.text) else { break LikesEnd::Lost };
        if to == item || links.iter().any(|link| link.to == to) {
            break LikesEnd::Circle(to);
        }
        links.push(Link { from, to, span: name.span });
        from = to;
    };
    Likes { links, end }
}

fn take_over<'b>(
    into: &mut EffectiveBlock<'b>,
    parent: EffectiveBlock<'b>,
    span: Span,
    left_out: &[&str],
    dropped: &mut Vec<Dropped>,
) {
    let keeps = |head: &str| !left_out.iter().any(|out| **out == *head);
    let because = differences(into, &parent, setup::VOIDING);
    let of_dials = dial_differences(into, &parent, &because);
    let (mut heads, mut dials) = (Vec::new(), Vec::new());
    let before: Vec<(&str, Option<&str>)> = groups_and_keys(into);
    for taken in parent.fields.into_iter().filter(is_taken_over) {
        let field = taken.field;
        let head = head_of(field);
        let stands = before.iter().any(|(key, group)| {
            (*key == field.key.name && !field.key.repeats && field.name.is_none())
                || (group.is_some() && *group == field.key.group)
        });
        if stands || has_of_name(into, field) || !keeps(&head) || field.key.is(setup::LIKE) {
            continue;
        }
        if field.key.found_with.iter().any(|fact| because.contains(&fact.words())) {
            heads.push(head);
            continue;
        }
        into.fields.push(taken);
    }
    for block in parent.blocks {
        let head = heading(block.written);
        let taken_over = taken_over(block.kind);
        if taken_over == TakenOver::Never || !keeps(&head) {
            continue;
        }
        let differs = |facts: &[AnyFact]| facts.iter().any(|fact| because.contains(&fact.words()));
        let is_lost = match taken_over {
            TakenOver::Dials => !of_dials.is_empty(),
            // What belongs to another rotor is no instruction for this one either.
            TakenOver::Calibration => differs(&[setup::ROTOR.any()]),
            TakenOver::OnMachine => differs(&[setup::MACHINE.any(), setup::ARBOR.any()]),
            TakenOver::Always | TakenOver::Never => false,
        };
        if is_lost {
            let lost = if because.is_empty() { &mut dials } else { &mut heads };
            lost.push(head);
            continue;
        }
        let mut block = block;
        if !of_dials.is_empty() && taken_over == TakenOver::Calibration {
            let lost = if because.is_empty() { &mut dials } else { &mut heads };
            let reading_holds = of_dials == [Kind::Calibrate.words()];
            lost.extend(
                without_findings(&mut block, reading_holds).into_iter().map(|fact| format!("{fact} in {head}")),
            );
        }
        let own = into.blocks.iter_mut().find(|own| own.kind == block.kind && own.name_text() == block.name_text());
        match own {
            Some(own) => fill(own, block),
            None => into.blocks.push(EffectiveBlock { own: None, ..block }),
        }
    }
    if !heads.is_empty() {
        dropped.push(Dropped { heads, because, span });
    }
    if !dials.is_empty() {
        dropped.push(Dropped { heads: dials, because: of_dials, span });
    }
}

/// Whether `like` takes over a block of a setup.
#[derive(Clone, Copy, PartialEq, Eq)]
enum TakenOver {
    Always,
    /// As long as no fact differs that a dial was set with.
    Dials,
    /// Of the same rotor; without what was found, where a dial is set otherwise.
    Calibration,
    /// On the same machine and arbor.
    OnMachine,
    /// It belongs to one sheet alone, or is a block of no setup.
    Never,
}

fn taken_over(kind: Kind) -> TakenOver {
    match kind {
        Kind::ExtraMass => TakenOver::Always,
        Kind::Settings => TakenOver::Dials,
        Kind::Calibrate => TakenOver::Calibration,
        Kind::BalanceError => TakenOver::OnMachine,
        Kind::Trial | Kind::Proof | Kind::CheckMass => TakenOver::Never,
        Kind::Shop | Kind::Material | Kind::Masses | Kind::Machine | Kind::Arbor | Kind::Rotor | Kind::Setup => {
            TakenOver::Never
        }
        Kind::Record | Kind::Instrument | Kind::Severity | Kind::Readout | Kind::Scale | Kind::Control => {
            TakenOver::Never
        }
        Kind::Plane | Kind::Tolerance | Kind::SimilarPart | Kind::Keyway | Kind::MadeOf => TakenOver::Never,
        Kind::ProvenWith | Kind::Separation | Kind::Linearity | Kind::AsRun | Kind::Influence => TakenOver::Never,
        Kind::Run | Kind::Correction | Kind::Traverse => TakenOver::Never,
    }
}

/// What differs of the facts that a dial was set with: those that void a calibration, what the tolerance reads, and the
/// masses of the calibrations.
fn dial_differences(
    own: &EffectiveBlock<'_>,
    other: &EffectiveBlock<'_>,
    because: &[&'static str],
) -> Vec<&'static str> {
    let mut found = because.to_vec();
    found.extend(differences(own, other, &[setup::TOLERANCE_READS.any()]));
    let masses = |own: &EffectiveBlock<'_>| {
        let other = other.inner(Kind::Calibrate).find(|other| other.name_text() == own.name_text());
        other.is_some_and(|other| !differences(own, other, INSTRUCTIONS).is_empty())
    };
    if own.inner(Kind::Calibrate).any(masses) {
        found.push(Kind::Calibrate.words());
    }
    found
}

/// The facts of a calibration that say what to put on, and nothing of what was found.
const INSTRUCTIONS: &[AnyFact] =
    &[calibrate::MASS.any(), calibrate::RADIUS.any(), calibrate::DIAMETER.any(), calibrate::ANGLE.any()];

/// What else of a calibration is no finding.
const NO_FINDINGS: &[AnyFact] = &[calibrate::TAKEN_AS.any(), calibrate::INSTRUMENT.any(), calibrate::NOTE.any()];

/// Takes what was found out of a calibration, and tells the facts. A reading that is demanded holds as long as only another
/// mass is put on.
fn without_findings(block: &mut EffectiveBlock<'_>, reading_holds: bool) -> Vec<&'static str> {
    let stays = |field: &EffectiveField<'_>| {
        let demanded = reading_holds && field.key.is(calibrate::READING);
        demanded || INSTRUCTIONS.iter().chain(NO_FINDINGS).any(|fact| field.key.is(*fact))
    };
    let lost = block.fields.iter().filter(|field| !stays(field)).map(|field| field.key.name).collect();
    block.fields.retain(stays);
    lost
}

/// Whether a block has a fact of this key for this name.
fn has_of_name(block: &EffectiveBlock<'_>, field: &Field) -> bool {
    let same = |own: &Field| own.key.name == field.key.name && own.name_text() == field.name_text();
    field.name.is_some() && block.fields.iter().any(|own| own.field.name.is_some() && same(own.field))
}

fn groups_and_keys<'b>(block: &EffectiveBlock<'b>) -> Vec<(&'b str, Option<&'b str>)> {
    block.fields.iter().map(|field| (field.field.key.name, field.field.key.group)).collect()
}

/// What is known to be missing there is nothing to take over.
fn is_taken_over(field: &EffectiveField<'_>) -> bool {
    field.field.key.inherited && field.field.value != FieldValue::Unknown
}

/// Takes over into a block that both setups have.
///
/// Where own and inherited facts together would give all of which one follows from the others, an inherited one yields:
/// of mass, radius and reading the reading first, then the mass, then the radius.
fn fill<'b>(own: &mut EffectiveBlock<'b>, parent: EffectiveBlock<'b>) {
    let before = groups_and_keys(own);
    let mut taken: Vec<EffectiveField<'b>> = parent
        .fields
        .into_iter()
        .filter(is_taken_over)
        .filter(|EffectiveField { field, .. }| {
            !before.iter().any(|(key, group)| {
                *key == field.key.name && field.name.is_none() && !field.key.repeats
                    || group.is_some() && *group == field.key.group
            })
        })
        .filter(|EffectiveField { field, .. }| !has_of_name(own, field))
        .collect();
    let members = || vocabulary::block(own.kind).keys.iter().filter_map(|key| key.yields);
    let is_given = |number: u8| own.fields.iter().chain(&taken).any(|given| given.field.key.yields == Some(number));
    if members().all(is_given)
        && let Some(yielding) = taken.iter().filter_map(|taken| taken.field.key.yields).min()
    {
        taken.retain(|taken| taken.field.key.yields != Some(yielding));
    }
    own.fields.extend(taken);
}

/// A fact's head as its line begins: `belt runs on`, `channel left`, `left strength`.
pub fn head_of(field: &Field) -> String {
    match (&field.name, field.key.head_name) {
        (Some(name), Some(_)) => format!("{} {}", field.key.name, name.text),
        (Some(name), None) => name.text.to_string(),
        (None, _) => field.key.name.to_owned(),
    }
}

fn left_out(block: &Block) -> Vec<&str> {
    match block.field(setup::LEAVE_OUT).map(|field| &field.value) {
        Some(FieldValue::Names(names)) => names.iter().map(|name| &*name.text).collect(),
        _ => Vec::new(),
    }
}

/// Which of these facts both have, and have differently.
fn differences(own: &EffectiveBlock<'_>, other: &EffectiveBlock<'_>, of: &[AnyFact]) -> Vec<&'static str> {
    let differs = |fact: &AnyFact| {
        own.fields.iter().map(|own| own.field).filter(|own| own.key.is(*fact)).any(|own| {
            let mut others = other.fields.iter().map(|other| other.field).filter(|other| other.key.is(*fact));
            let other = others.find(|other| other.name_text() == own.name_text());
            other.is_some_and(|other| !own.value.says_the_same(&other.value))
        })
    };
    of.iter().filter(|fact| differs(fact)).map(|fact| fact.words()).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A fact that is added has to be decided on: as a finding it is dropped where a dial is set otherwise.
    #[test]
    fn each_fact_of_a_calibration_is_an_instruction_or_a_finding() {
        let findings = [calibrate::READING.any(), calibrate::SHOWS.any(), calibrate::RESIDUAL_AT_CALIBRATION.any()];
        for key in vocabulary::block(Kind::Calibrate).keys {
            let lists = [INSTRUCTIONS, NO_FINDINGS, &findings];
            let listed = lists.iter().flat_map(|list| list.iter()).filter(|fact| key.is(**fact)).count();
            assert_eq!(listed, 1, "{}", key.name);
        }
    }
}
