use crate::book::FileProblem;
use crate::check::{Draft, FileContext};

pub(super) fn say(context: &FileContext<'_>, problem: &FileProblem) -> Option<Draft> {
    match problem {
        FileProblem::NotUtf8 { byte, pieces, .. } => {
            let more = match pieces - 1 {
                0 => String::new(),
                more => format!(", and so are {more} further down"),
            };
            let message = format!("the byte {byte:02X} is not UTF-8{more}");
            Some(context.draft(problem.span(), message).help(meant(*byte)))
        }
        FileProblem::Utf16 => {
            let message = "the file is written in UTF-16, two bytes a character";
            Some(context.draft(problem.span(), message).help("save it as UTF-8"))
        }
        FileProblem::CannotRead(_) => None,
    }
}

/// The byte as older Western encodings read it, where they agree.
fn meant(byte: u8) -> String {
    match byte {
        0xa1..=0xff => format!("save the file as UTF-8; in Latin-1 this byte is `{}`", char::from(byte)),
        _ => "save the file as UTF-8".to_owned(),
    }
}
