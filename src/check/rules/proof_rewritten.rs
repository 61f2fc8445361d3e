use crate::book::FileId;
use crate::check::{Draft, wording};
use crate::text::Span;

/// Of a proof in two versions of a book: its name, the lines of it that are others, and how many of its readings are the
/// same as in the other one.
pub fn say(file: FileId, heading: Span, name: &str, heads: &[String], (same, readings): (usize, usize)) -> Draft {
    let heads: Vec<String> = heads.iter().map(|head| format!("`{head}`")).collect();
    let message = format!(
        "proof {} says otherwise than before what it was made with ({}), and {}",
        wording::quoted(name),
        heads.join(", "),
        unchanged(same, readings)
    );
    Draft::new(file, heading, message)
        .help("a proof is what was read one day: put it back as it was, and write a new one of what is read today")
}

/// What is said of the readings of a proof that repeats another.
pub fn unchanged(same: usize, readings: usize) -> String {
    match same == readings {
        true => "no reading in it differs".to_owned(),
        false => format!("{same} of its {readings} readings are the same"),
    }
}
