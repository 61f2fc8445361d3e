//! What the shares of a propagated uncertainty come from, by where their facts are written.

use crate::book::files::{Book, FileId};
use crate::sheet::{Block, FieldValue};
use crate::syntax::Kind;
use crate::units::{Contributions, Part, Place, Source};

/// What a share of an uncertainty belongs to.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(in crate::book::results) enum Class {
    /// Amounts that were read in the runs.
    Reading,
    Angle,
    /// What was found on the machine before: calibration masses, what they read.
    Calibration,
    Trials,
    /// Places along the rotor.
    Levers,
    /// Extra masses: what they are and where.
    ExtraMass,
    /// What machine, arbor or setup state as an error, which is a line of its own.
    StatedError,
}

/// The standard uncertainty that the shares of one class make, in base units.
pub(in crate::book::results) fn of_class(book: &Book, contributions: &Contributions, class: Class) -> f64 {
    let of_class = contributions.shares().filter(|(source, _)| class_of(book, source) == class);
    // What goes beyond the first order grows with the square of what it comes of.
    let grown = |(source, share): (&Source, f64)| match source {
        Source::Together(all) => share * times_alike(book, all),
        _ => share,
    };
    square_of(book, of_class.map(|(source, share)| (source, grown((source, share))))).sqrt()
}

/// The square of shares by root of squares, those of readings that are alike by their sum: what is rounded to the same mark is
/// wrong by the same, and no more such readings make it better known.
fn square_of<'s>(book: &Book, shares: impl Iterator<Item = (&'s Source, f64)>) -> f64 {
    let mut alike: Vec<(ReadAs<'_>, f64, f64)> = Vec::new();
    let mut squares = 0.0;
    for (source, share) in shares {
        let Some(read_as) = read_as(book, source) else {
            squares += share * share;
            continue;
        };
        match alike.iter_mut().find(|(other, ..)| *other == read_as) {
            Some((_, sum, square)) => (*sum, *square) = (*sum + share, *square + share * share),
            None => alike.push((read_as, share, share * share)),
        }
    }
    squares + alike.iter().map(|(_, sum, square)| square.max(sum * sum)).sum::<f64>()
}

/// How many times as large the square of these shares is where readings that are alike are wrong alike.
fn times_alike(book: &Book, all: &[(Source, u64)]) -> f64 {
    let shares = || all.iter().map(|(source, bits)| (source, f64::from_bits(*bits)));
    let apart: f64 = shares().map(|(_, share)| share * share).sum();
    if apart > 0.0 { square_of(book, shares()) / apart } else { 1.0 }
}

/// A reading by its channel, its scale and what was read.
#[derive(PartialEq)]
struct ReadAs<'b> {
    channel: &'b str,
    scale: Option<&'b str>,
    part: Part,
    amount: f64,
}

/// What was read of a channel in a run or a trial; `None` for any other fact.
fn read_as<'b>(book: &'b Book, source: &Source) -> Option<ReadAs<'b>> {
    let Source::Written { at, part, .. } = source else { return None };
    let blocks = book.file(FileId(at.file)).sheet.items.iter().flat_map(|item| &item.blocks);
    let block = blocks.filter(|block| matches!(block.kind, Kind::Run | Kind::Trial)).find(|block| holds(block, *at))?;
    let field = block.fields.iter().find(|field| field.value_span.start == at.start)?;
    let FieldValue::Reading(reading) = &field.value else { return None };
    let amount = match part {
        Part::Amount => reading.amount.base,
        Part::Angle => reading.angle.as_ref()?.base,
        Part::Start | Part::Residual => return None,
    };
    let scale = reading.scale.as_ref().map(|scale| &*scale.text);
    Some(ReadAs { channel: &field.name.as_ref()?.text, scale, part: *part, amount })
}

fn holds(block: &Block, at: Place) -> bool {
    block.span.start <= at.start && at.start < block.span.end
}

/// The same of facts alone, without what was found to go beyond the first order.
pub(in crate::book::results) fn of_facts(book: &Book, contributions: &Contributions, class: Class) -> f64 {
    let is_fact = |source: &Source| !matches!(source, Source::Together(_)) && class_of(book, source) == class;
    let own = contributions.shares().filter(|(source, _)| is_fact(source));
    own.map(|(_, share)| share * share).sum::<f64>().sqrt()
}

fn class_of(book: &Book, source: &Source) -> Class {
    match source {
        Source::Written { at, part, .. } => of_place(book, *at, *part),
        Source::Material(_) => Class::Calibration,
        // What goes beyond the first order comes of directions where an angle had a part in it.
        Source::Together(all) => {
            let classes: Vec<Class> = all.iter().map(|(source, _)| class_of(book, source)).collect();
            let alike = classes.first().filter(|first| classes.iter().all(|class| class == *first));
            let of_angles = if classes.contains(&Class::Angle) { Class::Angle } else { Class::Reading };
            alike.copied().unwrap_or(of_angles)
        }
    }
}

fn of_place(book: &Book, at: Place, part: Part) -> Class {
    let file = book.file(FileId(at.file));
    let Some(item) = file.sheet.items.iter().find(|item| holds(item, at)) else { return Class::Calibration };
    let inner = item.blocks.iter().find(|block| holds(block, at)).map(|block| block.kind);
    match (item.kind, inner) {
        (_, Some(Kind::BalanceError)) => Class::StatedError,
        (_, Some(Kind::ExtraMass)) => Class::ExtraMass,
        (Kind::Record, _) | (Kind::Machine, _) if part == Part::Angle => Class::Angle,
        (Kind::Record, _) => Class::Reading,
        (Kind::Setup, Some(Kind::Trial)) | (Kind::Masses, _) => Class::Trials,
        (Kind::Rotor, _) => Class::Levers,
        _ => Class::Calibration,
    }
}
