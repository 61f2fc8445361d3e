//! What the rules on lines share: the words around an error of the parser, the fact it is in, and an edit as a fix.

use super::context::FileContext;
use super::diagnostic::Draft;
use super::wording;
use crate::sheet::{Block, Field};
use crate::syntax::{Kind, SyntaxError};
use crate::text::{Edit, LineIndex, Span};
use crate::vocabulary::ValueType;

/// Lines that are longer are not repeated in a help.
const LONGEST_LINE: usize = 300;
/// Characters of the sheet that a message repeats at most.
const LONGEST_SHOWN: usize = 60;

/// One error of the parser with the file it is in.
#[derive(Clone, Copy)]
pub struct Slip<'a> {
    context: &'a FileContext<'a>,
    lines: &'a LineIndex,
    error: &'a SyntaxError,
}

impl<'a> Slip<'a> {
    pub fn new(context: &'a FileContext<'a>, lines: &'a LineIndex, error: &'a SyntaxError) -> Self {
        Self { context, lines, error }
    }

    pub fn context(&self) -> &'a FileContext<'a> {
        self.context
    }

    pub fn text(&self) -> &'a str {
        &self.context.source.text
    }

    pub fn span(&self) -> Span {
        self.error.span
    }

    /// What is at the error.
    pub fn found(&self) -> &'a str {
        self.error.span.of(self.text())
    }

    /// The same as a message repeats it.
    pub fn shown(&self) -> String {
        shown(self.found())
    }

    /// The edit that the parser proposes.
    pub fn edit(&self) -> Option<Edit> {
        self.error.replace.as_ref().map(|(span, text)| Edit::replace(*span, text.clone()))
    }

    pub fn draft(&self, message: impl Into<String>) -> Draft {
        self.context.draft(self.error.span, message)
    }

    /// The message with what to write instead: the line as the parser's edit leaves it, then `advice`. Without an edit
    /// `advice` is all there is to say.
    pub fn say(&self, message: impl Into<String>, advice: &str) -> Draft {
        match self.edit() {
            Some(edit) => self.say_with(message, advice, edit),
            None => self.draft(message).help(advice),
        }
    }

    /// The same with an edit that the rule knows.
    pub fn say_with(&self, message: impl Into<String>, advice: &str, edit: Edit) -> Draft {
        let help = match (self.reads(&edit), advice) {
            (Some(line), "") => format!("write `{line}`"),
            (Some(line), advice) => format!("write `{line}`; {advice}"),
            (None, advice) => advice.to_owned(),
        };
        self.offer(self.draft(message).help(help), edit)
    }

    /// Adds an edit as a fix, under a title that shows what it leaves.
    pub fn offer(&self, draft: Draft, edit: Edit) -> Draft {
        let title = match self.value_reads(&edit).or_else(|| self.reads(&edit)) {
            Some(reads) if reads.is_empty() => "Take it out".to_owned(),
            Some(reads) => format!("Write `{}`", shown(&reads)),
            None => "Put it on a line of its own".to_owned(),
        };
        draft.fix(title, edit)
    }

    /// The line as an edit leaves it, without its comment; `None` when that is more than one line, or a very long one.
    pub fn reads(&self, edit: &Edit) -> Option<String> {
        let line = self.line_of(edit.span)?;
        let code = Span::new(line.start, code_end(self.text(), line).max(edit.span.end));
        edited(self.text(), code, edit).map(|line| line.trim().to_owned())
    }

    /// The value of the fact as an edit within it leaves it.
    pub fn value_reads(&self, edit: &Edit) -> Option<String> {
        let value = self.fact()?.value_span;
        let within = value.start <= edit.span.start && edit.span.end <= value.end;
        within.then(|| edited(self.text(), value, edit)).flatten().filter(|reads| reads.len() <= LONGEST_LINE)
    }

    /// The lines that hold `span`, without their last line end.
    fn line_of(&self, span: Span) -> Option<Span> {
        let bytes = self.text().as_bytes();
        let (start, end) = (span.start as usize, span.end as usize);
        let first = start.saturating_sub(LONGEST_LINE);
        let before = bytes[first..start].iter().rposition(|byte| *byte == b'\n').map(|at| first + at + 1);
        let line_start = before.or((first == 0).then_some(0))?;
        let last = bytes.len().min(end + LONGEST_LINE);
        let behind = bytes[end..last].iter().position(|byte| *byte == b'\n').map(|at| end + at);
        let line_end = behind.or((last == bytes.len()).then_some(last))?;
        Some(Span::new(line_start as u32, line_end as u32))
    }

    /// The line of the error without blanks and comment.
    pub fn line(&self) -> &'a str {
        self.line_of(self.error.span)
            .map_or("", |line| Span::new(line.start, code_end(self.text(), line)).of(self.text()).trim())
    }

    /// Whether the error is in the comment of its line.
    pub fn is_in_comment(&self) -> bool {
        self.line_of(self.error.span).is_some_and(|line| code_end(self.text(), line) <= self.error.span.start)
    }

    /// The blanks at the start of the line of the error.
    pub fn indent(&self) -> &'a str {
        let line = self.line_of(self.error.span).map_or("", |line| line.of(self.text()));
        &line[..line.len() - line.trim_start_matches([' ', '\t']).len()]
    }

    /// From the first sign of the line to the end of the error.
    pub fn from_line_start(&self) -> Span {
        let start = self.line_of(self.error.span).map_or(self.error.span.start, |line| line.start);
        Span::new(start + self.indent().len() as u32, self.error.span.end)
    }

    /// What follows the error on its line, its comment left out.
    pub fn behind(&self) -> &'a str {
        let line = self.line_of(self.error.span);
        line.map_or("", |line| {
            Span::new(self.error.span.end, code_end(self.text(), line).max(self.error.span.end)).of(self.text())
        })
    }

    /// How many bytes of blanks come before the error.
    pub fn blanks_before(&self) -> u32 {
        let before = &self.text()[..self.error.span.start as usize];
        (before.len() - before.trim_end_matches([' ', '\t']).len()) as u32
    }

    /// The run of characters of one sort that the error starts in, with its place.
    pub fn run(&self, belongs: impl Fn(char) -> bool) -> (Span, &'a str) {
        let (before, behind) = self.text().split_at(self.error.span.start as usize);
        let start = before.trim_end_matches(&belongs).len();
        let end = self.text().len() - behind.trim_start_matches(&belongs).len();
        let span = Span::new(start as u32, end as u32);
        (span, span.of(self.text()))
    }

    /// What is at the error once an edit within it is done.
    pub fn found_with(&self, edit: &Edit) -> Option<String> {
        let within = self.error.span.start <= edit.span.start && edit.span.end <= self.error.span.end;
        within.then(|| edited(self.text(), self.error.span, edit)).flatten()
    }

    /// The kind that the line of the error begins with.
    pub fn kind_of_heading(&self) -> Option<Kind> {
        let words = |kind: &Kind| {
            let mut written = self.line().split([' ', '\t', '"']).filter(|word| !word.is_empty());
            kind.words().split(' ').all(|word| written.next() == Some(word))
        };
        Kind::ALL.into_iter().find(words)
    }

    /// Whether an item ends before the error, so that a `}` above may be one too many.
    pub fn closed_before(&self) -> bool {
        let items = &self.context.source.sheet.items;
        items.first().is_some_and(|item| item.span.end <= self.error.span.start)
    }

    /// Counted from one.
    pub fn line_number(&self, offset: u32) -> u32 {
        self.lines.line_of(offset) + 1
    }

    /// The innermost block around the error.
    pub fn block(&self) -> Option<&'a Block> {
        let at = self.error.span.start;
        let mut found = None;
        let mut blocks = &self.context.source.sheet.items;
        loop {
            let after = blocks.partition_point(|block| block.span.start <= at);
            let Some(block) = after.checked_sub(1).map(|index| &blocks[index]) else { return found };
            if at > block.span.end {
                return found;
            }
            found = Some(block);
            blocks = &block.blocks;
        }
    }

    /// The fact in whose value the error lies.
    pub fn fact(&self) -> Option<&'a Field> {
        let fields = &self.block()?.fields;
        let after = fields.partition_point(|field| field.head.start <= self.error.span.start);
        let field = &fields[after.checked_sub(1)?];
        let value = field.value_span;
        (value.start <= self.error.span.start && self.error.span.end <= value.end).then_some(field)
    }

    /// What the fact takes whose value holds the error: `` `mass` takes a mass with its unit ``.
    pub fn wanted(&self) -> Option<String> {
        let fact = self.fact()?;
        Some(format!("`{}` takes {}", shown(fact.head.of(self.text())), wording::expected_of(fact.key)))
    }

    /// What the fact takes, when that is nothing a number can be: a date, a place of the clock, a choice.
    pub fn takes_no_number(&self) -> Option<String> {
        let value = self.fact()?.key.value;
        matches!(value, ValueType::Date | ValueType::Clock | ValueType::Choice(_)).then(|| self.wanted()).flatten()
    }

    /// Whether the fact takes amounts alone.
    pub fn takes_amount(&self) -> bool {
        use ValueType as T;
        self.fact().is_some_and(|fact| {
            matches!(
                fact.key.value,
                T::Quantity(_)
                    | T::Range(_)
                    | T::QuantityOrRange(_)
                    | T::Ranges(_)
                    | T::Quantities(..)
                    | T::Number
                    | T::Count
                    | T::NumberRange
                    | T::Percentage
                    | T::PercentageOrAmount
            )
        })
    }

    /// Whether the fact takes a range.
    pub fn takes_range(&self) -> bool {
        use ValueType as T;
        self.fact().is_none_or(|fact| {
            matches!(fact.key.value, T::Range(_) | T::QuantityOrRange(_) | T::Ranges(_) | T::NumberRange | T::DialRange)
        })
    }

    /// The value that holds the error, as written.
    pub fn value(&self) -> Option<&'a str> {
        self.fact().map(|fact| fact.value_span.of(self.text()))
    }
}

/// `span` of `text` as an edit in it leaves it; `None` when line ends remain.
fn edited(text: &str, span: Span, edit: &Edit) -> Option<String> {
    let before = Span::new(span.start, edit.span.start).of(text);
    let behind = Span::new(edit.span.end, span.end).of(text);
    let edited = format!("{before}{}{behind}", edit.text);
    (!edited.contains('\n')).then_some(edited)
}

/// Where the code of a line ends and its comment begins.
fn code_end(text: &str, line: Span) -> u32 {
    let mut quoted = false;
    let comment = line.of(text).bytes().position(|byte| {
        quoted ^= byte == b'"';
        byte == b'#' && !quoted
    });
    comment.map_or(line.end, |at| line.start + at as u32)
}

/// A piece of the sheet for a message: its beginning when it is long, with nothing in it that cannot be seen.
pub fn shown(text: &str) -> String {
    let text = text.trim();
    let mut shown: String = text.chars().take(LONGEST_SHOWN).map(|c| if c.is_control() { ' ' } else { c }).collect();
    if shown.len() < text.len() {
        shown.push('…');
    }
    shown
}
