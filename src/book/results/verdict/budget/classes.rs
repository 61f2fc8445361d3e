//! What the shares of a propagated uncertainty come from, by where their facts are written.

use crate::book::files::{Book, FileId};
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
}

/// The standard uncertainty that the shares of one class make, in base units.
pub(in crate::book::results) fn of_class(book: &Book, contributions: &Contributions, class: Class) -> f64 {
    let own = contributions.shares().filter(|(source, _)| class_of(book, source) == class);
    own.map(|(_, share)| share * share).sum::<f64>().sqrt()
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
        // What goes beyond the first order comes of directions, unless no angle had a part in it.
        Source::Together(all) => {
            let mut classes = all.iter().map(|(source, _)| class_of(book, source));
            let first = classes.next().unwrap_or(Class::Angle);
            if classes.all(|class| class == first) { first } else { Class::Angle }
        }
    }
}

fn of_place(book: &Book, at: Place, part: Part) -> Class {
    let file = book.file(FileId(at.file));
    let holds = |span: crate::text::Span| span.start <= at.start && at.start < span.end;
    let Some(item) = file.sheet.items.iter().find(|item| holds(item.span)) else { return Class::Calibration };
    let inner = item.blocks.iter().find(|block| holds(block.span)).map(|block| block.kind);
    match (item.kind, inner) {
        (Kind::Record, _) | (Kind::Machine, _) if part == Part::Angle => Class::Angle,
        (Kind::Record, _) => Class::Reading,
        (Kind::Setup, Some(Kind::Trial)) | (Kind::Masses, _) => Class::Trials,
        (Kind::Rotor, _) => Class::Levers,
        _ => Class::Calibration,
    }
}
