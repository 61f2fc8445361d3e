use crate::book::FileId;
use crate::check::{Draft, wording};
use crate::text::Span;

/// How a proof in two versions of a book is not what it was.
pub enum Rewriting {
    /// What it was made with, or when, is others, and most of what was read is the same: so many of its readings.
    MadeOtherwise { same: usize, readings: usize },
    /// What was read is others under one date.
    ReadOtherwise,
}

impl Rewriting {
    /// What is odd about it.
    fn beside(&self) -> String {
        match self {
            Self::MadeOtherwise { same, readings } if same == readings => "no reading in it differs".to_owned(),
            Self::MadeOtherwise { same, readings } => format!("{same} of its {readings} readings are the same"),
            Self::ReadOtherwise => "under the same date".to_owned(),
        }
    }

    /// The same in few words: "`date` has changed though no reading in it differs".
    pub fn note(&self, heads: &[String]) -> String {
        let have = if heads.len() == 1 { "has" } else { "have" };
        let though = if matches!(self, Self::MadeOtherwise { .. }) { "though " } else { "" };
        format!("{} {have} changed {though}{}", wording::and_list(&marked(heads)), self.beside())
    }
}

fn marked(heads: &[String]) -> Vec<String> {
    heads.iter().map(|head| format!("`{head}`")).collect()
}

/// Of a proof in two versions of a book: its name, how it is not what it was, and the lines of it that are others.
pub fn say(file: FileId, heading: Span, name: &str, how: &Rewriting, heads: &[String]) -> Draft {
    let (name, heads, beside) = (wording::quoted(name), marked(heads).join(", "), how.beside());
    let message = match how {
        Rewriting::MadeOtherwise { .. } => {
            format!("proof {name} says otherwise than before what it was made with ({heads}), and {beside}")
        }
        Rewriting::ReadOtherwise => format!("proof {name} says otherwise than before what was read ({heads}) {beside}"),
    };
    Draft::new(file, heading, message)
        .help("a proof is what was read one day: put it back as it was, and write a new one of what is read today")
}
