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
    /// What machine, arbor or setup state as an error, which is a line of its own.
    StatedError,
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
    let holds = |span: crate::text::Span| span.start <= at.start && at.start < span.end;
    let Some(item) = file.sheet.items.iter().find(|item| holds(item.span)) else { return Class::Calibration };
    let inner = item.blocks.iter().find(|block| holds(block.span)).map(|block| block.kind);
    match (item.kind, inner) {
        (_, Some(Kind::BalanceError)) => Class::StatedError,
        (Kind::Record, _) | (Kind::Machine, _) if part == Part::Angle => Class::Angle,
        (Kind::Record, _) => Class::Reading,
        (Kind::Setup, Some(Kind::Trial)) | (Kind::Masses, _) => Class::Trials,
        (Kind::Rotor, _) => Class::Levers,
        _ => Class::Calibration,
    }
}
