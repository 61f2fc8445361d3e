use crate::book::FileId;
use crate::check::{Draft, wording};
use crate::text::Span;

/// Of a proof in two versions of a book: its name, and the lines of it that are others.
pub fn say(file: FileId, heading: Span, name: &str, heads: &[String]) -> Draft {
    let heads: Vec<String> = heads.iter().map(|head| format!("`{head}`")).collect();
    let message = format!(
        "proof {} says otherwise than before what it was made with ({}), and no reading in it differs",
        wording::quoted(name),
        heads.join(", ")
    );
    Draft::new(file, heading, message)
        .help("a proof is what was read one day: put it back as it was, and write a new one of what is read today")
}
