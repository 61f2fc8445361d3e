//! What each piece of a sheet is, for colours.

use crate::book::SourceFile;
use crate::text::Span;

/// One piece of one line. Tokens follow one another and do not overlap.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Token {
    pub span: Span,
    pub kind: TokenKind,
    /// It is the name that an item or block begins with.
    pub describes: bool,
    /// It belongs to a pinned result.
    pub pinned: bool,
}

#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum TokenKind {
    /// `plane`, `made of`
    Kind,
    Key,
    /// A name, quoted or not.
    Name,
    Number,
    Unit,
    /// `±`, `@`, `to`, `*`, `=>` and the like.
    Operator,
    Choice,
    /// Text in quotes that names nothing.
    Text,
    Comment,
}

/// The tokens of a file, or of the lines that `range` touches.
pub fn tokens(source: &SourceFile, range: Option<Span>) -> Vec<Token> {
    let _ = (source, range);
    Vec::new()
}
