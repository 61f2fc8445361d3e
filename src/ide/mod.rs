//! What an editor shows and does, one file a feature: plain structs of offsets and strings.
//!
//! Every function takes the book or what is computed of it, a file, and where it matters an offset in bytes. Nothing
//! here knows a protocol or does I/O; the server turns offsets into positions, and Markdown into what its client reads.
//!
//! Features work on the tree of a file as well as on its facts, so that a line that is half typed or wrong costs
//! itself alone. A hole shows nothing rather than something wrong.

mod actions;
mod amounts;
mod asked;
mod begin;
mod completion;
mod consequences;
mod definition;
mod explain;
mod folding;
mod formatting;
mod grades;
mod headline;
mod hierarchy;
mod highlight;
mod hints;
mod hover;
mod inherit;
mod known;
mod lenses;
mod lines;
mod links;
mod markdown;
mod moved;
mod names;
mod nearest;
mod page;
mod place;
mod progress;
mod references;
mod rename;
mod results;
mod selection;
mod show;
mod signature;
mod symbols;
#[cfg(test)]
pub(crate) mod testing;
mod tokens;

pub use actions::{Action, ActionKind, actions, fix_all, pin_all};
pub use begin::{Beginning, all_beginnings, begin_named, beginnings, beginnings_here, like_proven, starts};
pub use completion::{Completion, CompletionKind, as_snippet, completions, sheet_with_stops, with_stops};
pub use consequences::{
    Consequences, Mended, STALE_PIN, Since, consequence_hints, consequences, consequences_here, revisions, since,
};
pub use definition::{Definition, Target, definition};
pub use folding::{Fold, FoldKind, folds};
pub use formatting::{format, format_on_type, format_range};
pub use headline::headline;
pub use hierarchy::{Related, item_meant, like_this, like_which, rests_on, worked_out_from};
pub use highlight::{Highlight, HighlightKind, highlights};
pub use hints::{Hint, HintKind, HintsShown, hints};
pub use hover::{Hover, hover};
pub use lenses::{Lens, lenses, progress};
pub use links::{DocumentLink, addresses, links};
pub use moved::moved;
pub use nearest::item_near;
pub use page::{page, said_at};
pub use progress::progress_of;
pub use references::references;
pub use rename::{Refused, Renameable, prepare_rename, rename};
pub use selection::selections;
pub use show::{show, show_item};
pub use signature::{Signature, Written, signature};
pub use symbols::{BookSymbol, Symbol, book_symbols, symbols};
pub use tokens::{Token, TokenKind, tokens};
