//! What a result lacks, as people read it.

use crate::book::files::Book;
use crate::book::origin::{Missing, Origin, Reason, Step};

/// What is missing: `mass of rotor "fan wheel 315" is missing`.
pub fn why(book: &Book, missing: &Missing) -> String {
    match &missing.reason {
        Reason::Impossible(why) | Reason::Ambiguous(why) => return why.to_string(),
        Reason::Domain(error) => return error.to_string(),
        _ => {}
    }
    let origin = &missing.origin;
    let item = book.item(origin.item);
    if missing.reason == Reason::NoSuchPlane {
        let block = origin.path.innermost().map(Step::to_string).unwrap_or_default();
        return format!("`{block}` in {} \"{}\" names no plane of the rotor", item.kind, item.name_text());
    }
    let mut whose = format!("`{}`", origin.name);
    if !origin.path.is_item() {
        whose.push_str(&format!(" of {}", origin.path.headings().collect::<Vec<_>>().join(", ")));
    }
    let whose = format!("{whose} in {} \"{}\"", item.kind, item.name_text());
    match missing.reason {
        Reason::NotGiven => format!("{whose} is missing"),
        Reason::Unreadable if is_left_open(book, origin) => format!("{whose} is not known yet"),
        Reason::Unreadable => format!("{whose} cannot be read"),
        Reason::NoSuchItem => format!("{whose} names nothing that the book holds"),
        Reason::NoSuchPlane | Reason::Impossible(_) | Reason::Ambiguous(_) | Reason::Domain(_) => whose,
    }
}

/// Whether a `?` stands where a fact is written.
fn is_left_open(book: &Book, origin: &Origin) -> bool {
    origin.place.is_some_and(|(file, span)| span.of(&book.file(file).text) == "?")
}
