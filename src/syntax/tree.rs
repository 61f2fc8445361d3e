//! The tree: every line of the file in order, the nesting of blocks over them, and one value a fact.
//!
//! Lossless: the lines' spans tile the text (line ends between them), so whatever is not understood is still there.
//! All spans are bytes of the whole file.

use crate::syntax::Kind;
use crate::text::Span;

/// One parsed file.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct Tree {
    pub lines: Vec<Line>,
    /// Blocks and lines at the top of the file, in order.
    pub top: Vec<Node>,
    pub errors: Vec<SyntaxError>,
}

/// A line, without its line end. `span` includes indentation; carriage returns at the end are not part of it.
#[derive(Clone, PartialEq, Debug)]
pub struct Line {
    pub span: Span,
    pub kind: LineKind,
    /// From `#` to the end of the line.
    pub comment: Option<Span>,
    /// How many blocks are open around the line; an opening line and the line that closes its block have the same.
    pub depth: u16,
}

/// What a line is. Lines inside a block of unknown kind are read as any other, but no [`Node`] leads to them.
#[derive(Clone, PartialEq, Debug)]
pub enum LineKind {
    Blank,
    Comment,
    Open(Open),
    /// `}`; the span of the brace.
    Close(Span),
    Fact(Fact),
    Pin(Pin),
    /// Words or strings without `:`, `=>` or `{`: somebody is still typing.
    Unfinished(Head),
    Junk,
    /// One line of a git conflict: a marker, or a line of the side that is skipped.
    Conflict,
}

/// `kind [name] {`. When the brace stands alone below its heading, kind and name lie on the line before; when it is
/// missing, as the lines further in below show, its span is empty.
#[derive(Clone, PartialEq, Debug)]
pub struct Open {
    pub kind: Kind,
    pub kind_span: Span,
    pub name: Option<Name>,
    pub brace: Span,
}

/// A name as written: a bare word (or the words of a listed choice such as `drive end`) or a quoted string.
#[derive(Clone, PartialEq, Debug)]
pub struct Name {
    /// With its quotes.
    pub span: Span,
    /// Without quotes, `""` read as one quote.
    pub text: Box<str>,
    pub quoted: bool,
}

/// What comes before `:` or `=>`.
///
/// `radius` is words alone; `"left strength"` a name alone; `reading left`, `channel left` are words
/// of which the last may turn out to be a name, or words followed by a name in quotes or of
/// digits, as in `add place 6`. Which, the schema decides.
#[derive(Clone, PartialEq, Debug)]
pub struct Head {
    pub span: Span,
    /// The bare words, from the first to the last; empty when the head is only a quoted name.
    pub words: Option<Span>,
    /// A quoted name, alone or after the words, or a name of one to three digits after them.
    pub name: Option<Name>,
}

#[derive(Clone, PartialEq, Debug)]
pub struct Fact {
    pub head: Head,
    pub colon: Span,
    pub value: Value,
}

#[derive(Clone, PartialEq, Debug)]
pub struct Pin {
    pub head: Head,
    pub arrow: Span,
    pub value: Value,
}

/// A block, or a line that means itself.
#[derive(Clone, PartialEq, Debug)]
pub enum Node {
    Block(Block),
    /// Index into [`Tree::lines`].
    Line(u32),
}

#[derive(Clone, PartialEq, Debug)]
pub struct Block {
    /// Index of the opening line, whose kind is [`LineKind::Open`].
    pub open: u32,
    pub children: Vec<Node>,
    /// Index of the closing line; `None` when the block was never closed, or closed by a `}` ending another line.
    pub close: Option<u32>,
    /// From the kind to the closing brace, or to the end of the last line that belongs to the block.
    pub span: Span,
}

/// A value with its place. `span` is trimmed; empty (at the end of the line's code) when nothing stands there.
#[derive(Clone, PartialEq, Debug)]
pub struct Value {
    pub span: Span,
    pub shape: Shape,
}

/// The shape of a value, read from its first character; what it means the key decides.
#[derive(Clone, PartialEq, Debug)]
pub enum Shape {
    /// Nothing after the colon.
    Nothing,
    /// `?`: known to be missing.
    Unknown,
    /// A quoted string.
    Quoted(Name),
    /// Bare text that starts with a letter and is none of the forms below: a choice, a one-word name, unquoted prose.
    Words,
    /// `G 6.3`, `G6.3`; `tight` when written without the space.
    Grade { number: Number, tight: bool },
    /// A number with an optional unit, arithmetic, and optional limits.
    Amount(Amount),
    /// `a to b`, `up to b`, `from a`.
    Range { from: Option<Expr>, to: Option<Expr> },
    /// `14.2 div @ 310 deg`, `2.1 mark on coarse @ 310 deg`, `2.1 mark on coarse`. An amount alone is [`Shape::Amount`].
    Reading(Box<Reading>),
    /// `10.1 kg at 30 mm`
    Weighing(Box<Weighing>),
    /// `8 from 0 deg`
    Places { count: Number, from: Box<Amount> },
    /// `4:30`, `6 o'clock`
    Clock { hour: u8, minute: u8 },
    /// `2026-11-12`; not yet judged as a day of the calendar.
    Date { year: i16, month: i8, day: i8 },
    /// Several values, separated by a comma and a space.
    List(Vec<Value>),
    /// Not readable; the error says why.
    Broken,
}

/// An amount on a scale, at an angle. In a box, as are other long forms, so that a line stays short.
#[derive(Clone, PartialEq, Debug)]
pub struct Reading {
    pub amount: Amount,
    pub scale: Option<Name>,
    pub angle: Option<Amount>,
}

/// A mass at a place.
#[derive(Clone, PartialEq, Debug)]
pub struct Weighing {
    pub amount: Amount,
    pub at: Amount,
}

/// An arithmetic expression with the limits that follow it.
#[derive(Clone, PartialEq, Debug)]
pub struct Amount {
    pub span: Span,
    pub expr: Expr,
    pub limits: Option<Box<Limits>>,
}

/// `± 0.01 g`, `± 0.5 %`, `± 0.01 g (k=2)`
#[derive(Clone, PartialEq, Debug)]
pub struct Limits {
    pub span: Span,
    pub number: Number,
    pub unit: Option<Span>,
    /// `(k=2)`: an expanded uncertainty from a certificate instead of limits.
    pub expanded: bool,
}

#[derive(Clone, PartialEq, Debug)]
pub enum Expr {
    Literal(Literal),
    Negative {
        span: Span,
        inner: Box<Expr>,
    },
    /// Parentheses; the span holds them.
    Group {
        span: Span,
        inner: Box<Expr>,
    },
    Binary {
        operator: Operator,
        operator_span: Span,
        left: Box<Expr>,
        right: Box<Expr>,
    },
}

impl Expr {
    /// From the first character of the expression to its last.
    pub fn span(&self) -> Span {
        match self {
            Expr::Literal(literal) => literal.span,
            Expr::Negative { span, .. } | Expr::Group { span, .. } => *span,
            Expr::Binary { left, right, .. } => left.span().to(right.span()),
        }
    }
}

/// A number with the unit that follows it; the unit's text is read by `units`.
#[derive(Clone, PartialEq, Debug)]
pub struct Literal {
    pub span: Span,
    pub number: Number,
    pub unit: Option<Span>,
}

/// A number as written.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Number {
    pub span: Span,
    pub value: f64,
    /// The power of ten of the last digit written: -2 for `0.30`, 0 for `640`, -4 for `1.2e-3`.
    pub last_digit: i16,
}

#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Operator {
    Add,
    Subtract,
    Multiply,
    Divide,
}

/// What the reader could not take, where, and the edit that mends it when there is an obvious one.
#[derive(Clone, PartialEq, Debug)]
pub struct SyntaxError {
    pub span: Span,
    pub kind: SyntaxErrorKind,
    /// What to write instead of `replace.0`.
    pub replace: Option<(Span, String)>,
}

/// Each has a diagnostic page of its own; the words for people are in `check`.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum SyntaxErrorKind {
    /// A line that is none of the known forms.
    JunkLine,
    /// Words without `:`, `=>` or `{`.
    UnfinishedLine,
    /// A fact or pin outside every block.
    FactOutsideBlock,
    /// Nothing after `:` or `=>`.
    MissingValue,
    /// Nothing, or something that is not a name, before `:` or `=>`.
    BadKey,
    /// Something else after `{` on an opening line.
    TextAfterBrace,
    /// More after the kind than one name.
    BadBlockName,
    /// `{` after words that are no kind.
    UnknownKind,
    /// An inner block where its kind may not stand.
    MisplacedBlock,
    /// `{` never closed.
    UnclosedBlock,
    /// `}` with nothing open.
    StrayClose,
    /// Something else on the line of a `}`.
    TextAroundClose,
    /// `"` not closed on its line.
    UnclosedQuote,
    /// Control or bidirectional mark in a string.
    HiddenCharacter,
    /// `：`, `８`: the wide letters of a Chinese or Japanese keyboard, in code.
    FullWidthCharacter,
    /// “ ” or ' ' instead of ".
    CurlyQuotes,
    /// More text after a value that was complete.
    TextAfterValue,
    DecimalComma,
    /// `12"` or `12'`
    InchMark,
    /// `5. mm`
    PointWithoutDigits,
    /// `.5 in`
    PointWithoutZero,
    /// `1 1/2 in`
    MixedFraction,
    /// `3 g mm`
    SpaceInUnit,
    /// `3 mm*2`, `268.4 mm/2`
    OperatorWithoutSpaces,
    /// An operator with nothing to work on.
    MissingOperand,
    UnclosedParenthesis,
    TooDeep,
    TooManyDigits,
    ExponentOutOfRange,
    /// `g 6.3`
    GradeSpelling,
    /// `±` that nothing or no number follows, or that is in the wrong place.
    BadLimits,
    /// `to` without a second end, `from` with an upper end before the lower, …
    BadRange,
    /// `25:70`, `0:99`
    BadClock,
    /// A value of no known form.
    BadValue,
    /// `<<<<<<<` … `>>>>>>>`
    ConflictMarkers,
    /// NUL or another control character outside strings, or a space that is not the plain one.
    ControlCharacter,
    /// `45°` written without the space that every unit has before it.
    UnitWithoutSpace,
    /// `plane hub: {`, or `{` alone on the line below its heading.
    HeadingShape,
    /// `left,right`
    CommaWithoutSpace,
    /// `\"` in a string, where a quote is written twice.
    EscapedQuote,
    /// `3 oz-in`, `1150 min-1`, `3 mm.`: a unit put together in a way that units are not.
    UnitSpelling,
    /// `×`, `÷`, `−` for `*`, `/`, `-`, or `·` between two numbers.
    OperatorSpelling,
    /// `1 150 rpm`, `1'150 rpm`
    DigitGrouping,
    /// `12O mm`
    LetterInNumber,
    /// `12.11.2026`, `2026-1-2`
    DateSpelling,
}

impl SyntaxErrorKind {
    /// Whether single letters are wrong, so that the words which they are part of cannot be judged.
    pub fn is_of_letters(self) -> bool {
        matches!(self, Self::ControlCharacter | Self::FullWidthCharacter)
    }

    /// Every kind, in the order above.
    #[cfg(test)]
    pub const ALL: [SyntaxErrorKind; 45] = {
        use SyntaxErrorKind::*;
        [
            JunkLine,
            UnfinishedLine,
            FactOutsideBlock,
            MissingValue,
            BadKey,
            TextAfterBrace,
            BadBlockName,
            UnknownKind,
            MisplacedBlock,
            UnclosedBlock,
            StrayClose,
            TextAroundClose,
            UnclosedQuote,
            HiddenCharacter,
            FullWidthCharacter,
            CurlyQuotes,
            TextAfterValue,
            DecimalComma,
            InchMark,
            PointWithoutDigits,
            PointWithoutZero,
            MixedFraction,
            SpaceInUnit,
            OperatorWithoutSpaces,
            MissingOperand,
            UnclosedParenthesis,
            TooDeep,
            TooManyDigits,
            ExponentOutOfRange,
            GradeSpelling,
            BadLimits,
            BadRange,
            BadClock,
            BadValue,
            ConflictMarkers,
            ControlCharacter,
            UnitWithoutSpace,
            HeadingShape,
            CommaWithoutSpace,
            EscapedQuote,
            UnitSpelling,
            OperatorSpelling,
            DigitGrouping,
            LetterInNumber,
            DateSpelling,
        ]
    };
}
